"""What the recipe box holds as plain values: cards, revisions, bakes, changes line by line, twins side by side."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rewriter.collection import Bake, Box, Card, Revision, lineage
from rewriter.collection.twins import Group

Told = dict[str, Any]
SAME = 0.97  # of the larger weight: as near as this is the same amount


def brief(one: Card) -> Told:
    """A card in short."""
    return {"number": one.number, "title": " ".join(one.title.split()), "kind": one.kind, "jars": one.jars}


def revision(one: Revision) -> Told:
    """A revision as plain values."""
    return {
        "number": one.number,
        "parent": one.parent,
        "why": one.why,
        "name": one.name,
        "elevation": "" if one.elevation_m is None else lineage.feet(one.elevation_m),
        "trial": one.trial,
        "note": one.note,
        "made": one.made,
        "called": lineage.called(one),
        "text": one.text,
    }


def bake(one: Bake) -> Told:
    """A bake as plain values; the photo itself is taken out by itself."""
    return {
        "revision": one.revision,
        "day": one.day,
        "elevation": lineage.feet(one.elevation_m),
        "changed": one.changed,
        "faults": list(one.faults),
        "rating": one.rating,
        "outcome": one.outcome,
        "note": one.note,
        "photo": one.photo is not None,
    }


def lines(diff: str) -> Iterator[dict[str, str]]:
    r"""A unified diff, line by line: what is gone, new, the same, and where lines between are left out.

    >>> [one["way"] for one in lines("--- a\n+++ b\n@@ -1 +1 @@\n-1 t salt\n+1 tsp salt\n Mix.")]
    ['gone', 'new', 'same']
    """
    ways = {"-": "gone", "+": "new", " ": "same"}
    for count, line in enumerate(diff.splitlines()[2:]):
        if not line.startswith("@@"):
            yield {"way": ways.get(line[:1], "same"), "text": line[1:]}
        elif count:
            yield {"way": "cut", "text": ""}


def group(box: Box, found: Group) -> Told:
    """A group side by side: a row an ingredient, a column a card, in the order of the cards."""
    columns = [_column(box, number) for number in found.cards]
    rows = []
    for key in dict.fromkeys(key for column in columns for key in column):
        cells = [column.get(key) for column in columns]
        called = next(cell["name"] for cell in cells if cell)
        amounts = [None if cell is None else cell["text"] for cell in cells]
        rows.append({"name": " ".join(called.split()), "amounts": amounts, "differs": _differs(cells)})
    return {
        "cards": [brief(box.card(number)) for number in found.cards],
        "likeness": found.likeness,
        "differences": [list(told) for told in found.differences],
        "rows": rows,
    }


def _column(box: Box, number: int) -> dict[tuple[str, int], Any]:
    """A card's lines by what they are, and which of that in order."""
    column: dict[tuple[str, int], Any] = {}
    for row in box.store.rows("SELECT key, name, text, grams FROM lines WHERE recipe = ? ORDER BY id", number):
        what = row["key"] or row["name"].lower()
        column[what, sum(1 for key in column if key[0] == what)] = row
    return column


def _differs(cells: list[Any]) -> bool:
    """Whether an amount is another on one of the cards: by weight where each has one, so that "c." is "cup"."""
    if None in cells:
        return True
    grams = [cell["grams"] for cell in cells]
    if all(grams):
        return bool(min(grams) / max(grams) < SAME)
    return len({"".join(cell["text"].lower().split()) for cell in cells}) > 1
