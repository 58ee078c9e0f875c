"""Put today's figures into MODEL_CARD.md, and the shortest of them into README.md, between their markers.

python -m corpus.card
"""

from __future__ import annotations

import re
import sys

from corpus import readers, score
from corpus.compile import HERE
from corpus.standoff import load
from corpus.tally import Tally

CARD = HERE / "MODEL_CARD.md"
README = HERE.parent / "README.md"
SHORT = {  # rows of the card, and how README.md calls them
    "name": "ingredients found",
    "role": "with their role",
    "part": "with their part",
    "amount whole": "amounts, quantity and unit right",
    "heat degrees": "oven and other heats",
    "time minutes": "times",
    "kind": "kind of bake",
    "move": "changed the right way",
}
READERS = {
    "program": readers.project,
    "second reader": readers.second,
    "second reader without its tagger": readers.without_tagger,
}


def reading(results: dict[str, tuple[Tally, dict[str, float]]]) -> str:
    """The table of every row: precision, recall and F1 of each split."""
    splits = list(results)
    lines = ["| label |" + "".join(f" {split} P | R | F1 |" for split in splits), "|---" * (1 + 3 * len(splits)) + "|"]
    for label in results[splits[0]][0].rows:
        rows = [results[split][0].rows[label] for split in splits]
        lines.append(
            f"| {label} |" + "".join(f" {row.precision:.3f} | {row.recall:.3f} | {row.f1:.3f} |" for row in rows)
        )
    numbers = {
        name: [results[split][1][name] for split in splits] for name in ("wrong", "stray", "lossless", "crashes")
    }
    lines += [f"| {name} |" + "".join(f" | | {value:g} |" for value in values) for name, values in numbers.items()]
    return "\n".join(lines)


def side_by_side() -> str:
    """The table of the readers of ingredient lines, of each split."""
    cases = {split: readers.lines(load(split)) for split in ("train", "test")}
    lines = [
        "| reader |" + "".join(f" {split} ({len(found)} lines) |" for split, found in cases.items()) + " ms a line |"
    ]
    lines.append("|---" * (len(cases) + 2) + "|")
    for name, read in READERS.items():
        measured = [readers.measure(read, found) for found in cases.values()]
        spent = sum(one[1] for one in measured) / len(measured)
        lines.append(f"| {name} |" + "".join(f" {right:.4f} |" for right, _, _ in measured) + f" {spent:.2f} |")
    return "\n".join(lines)


def short(card: str) -> str:
    """The rows of a card's table that README.md shows, of the test split alone."""
    rows = {
        cells[0]: cells for cells in ([c.strip() for c in line.split("|")[1:-1]] for line in card.splitlines()) if cells
    }
    lines = ["| | precision | recall | F1 |", "|---|---|---|---|"]
    lines += [f"| {said} | " + " | ".join(rows[label][4:7]) + " |" for label, said in SHORT.items()]
    return "\n".join([*lines, f"| wrong | | | {rows['wrong'][6]} |"])


def renewed(card: str, name: str, table: str) -> str:
    r"""A card with the table between its markers of that name. Raises ValueError where it has none.

    >>> renewed("<!-- a -->\nold\n<!-- /a -->", "a", "new")
    '<!-- a -->\nnew\n<!-- /a -->'
    """
    found = re.subn(
        rf"(<!-- {name} -->\n).*?(\n<!-- /{name} -->)", lambda match: match[1] + table + match[2], card, flags=re.S
    )
    if not found[1]:
        raise ValueError(f"the card has no place for {name}")
    return found[0]


def main() -> int:
    """Measure and write. 0 where it went well."""
    card = renewed(CARD.read_text(encoding="utf-8"), "readers", side_by_side())
    results = {split: score.score(load(split)) for split in ("train", "test")}
    card = renewed(card, "figures", reading(results))
    CARD.write_text(card, encoding="utf-8")
    README.write_text(renewed(README.read_text(encoding="utf-8"), "readme", short(card)), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
