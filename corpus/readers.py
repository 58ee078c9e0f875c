"""Amounts on ingredient lines alone, by the program and by its second reader, with its tagger and without.

    python -m corpus.readers [--split train|test|all]

Lines with one labelled ingredient, without their bullets and numbers; right is a first amount whose quantity (the lower
of a range) and unit are those labelled. Sums, containers and amounts without a figure are left out: the two readers
count them differently. The second reader was trained on lines of public collections, none of them ours.
"""

from __future__ import annotations

import argparse
import re
import sys
import time
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

import rewriter
from corpus import same
from corpus.standoff import Gold, Mark, figures, load
from rewriter.reading.second import second_reader
from rewriter.reading.units import canonical

Read = tuple[Fraction | None, str] | None
SIZE = re.compile(r"^(?:level|heap(?:ed|ing)|scant|rounded|generous|good|large|small|medium|big)\s+")
TENTHS = {"dl": ("ml", 100), "cl": ("ml", 10)}
BULLET = re.compile(r"[^\w¼-¾⅐-⅞(&]*(?:\d{1,2}\s?[.)]\s+(?=[\dl¼-¾⅐-⅞]))?")
SUM = re.compile(r"\bplus\b|\bless\b|\band\b|\+|\d\s*(?:lb|pounds?)\.?\s*\d", re.IGNORECASE)


def lines(pastes: Sequence[Gold]) -> list[tuple[str, Mark]]:
    """Every line that holds one ingredient and nothing of another, and its first amount."""
    found = []
    for paste in pastes:
        for match in re.finditer(r"[^\r\n]+", paste.text):
            here = [k for k, one in enumerate(paste.ingredients) if match.start() <= one.start < match.end()]
            amounts = paste.amounts[here[0]] if len(here) == 1 and match.end() - match.start() < 90 else ()
            if not amounts or amounts[0].end > match.end():
                continue
            first = amounts[0]
            if first.get("Count") or not figures(first.get("Quantity"))[0]:
                continue
            if not SUM.search(paste.text[first.start : first.end]):
                found.append((BULLET.sub("", match[0], count=1).rstrip(), first))
    return found


def project(line: str) -> Read:
    """The first amount the program reads."""
    amounts = rewriter.read_ingredient(line).amounts
    return (amounts[0].quantity, amounts[0].unit) if amounts else None


def second(line: str) -> Read:
    """The first amount the second reader reads."""
    for amount in second_reader()(line, string_units=True).amount:
        first: Any = getattr(amount, "amounts", [amount])[0]
        unit = canonical(SIZE.sub("", first.unit or ""))
        if not isinstance(first.quantity, Fraction):
            return None, unit
        base, tenths = TENTHS.get(unit, (unit, 1))  # the labels give dl and cl as ml
        return first.quantity * tenths, base
    return None


def measure(read: Callable[[str], Read], cases: Sequence[tuple[str, Mark]]) -> tuple[float, float, list[str]]:
    """Share of lines read right, milliseconds a line, and the lines read wrong."""
    read(cases[0][0])
    begin, answers = time.perf_counter(), [read(line) for line, _ in cases]
    spent = time.perf_counter() - begin
    wrong = [f"{line!r} as {said}" for (line, mark), said in zip(cases, answers, strict=True) if not _right(mark, said)]
    return 1 - len(wrong) / len(cases), 1000 * spent / len(cases), wrong


def _right(mark: Mark, said: Read) -> bool:
    if said is None:
        return False
    return said[0] == figures(mark.get("Quantity"))[0] and same.same_unit(mark.get("Unit"), said[1])


def without_tagger(line: str) -> Read:
    """The second reader as it reads where its tagger knows nothing but the parser's own word list."""
    from ingredient_parser.en import _loaders, _utils

    tagger = _utils._get_pos_tagger()
    kept, tagger.model.weights = tagger.model.weights, {}
    words, tagger.tagdict = tagger.tagdict, _loaders.load_ingredient_tagdict()
    try:
        return second(line)
    finally:
        tagger.model.weights, tagger.tagdict = kept, words


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--split", choices=["train", "test", "all"], default="all")
    parser.add_argument("--show", type=int, default=0, metavar="N", help="list N lines the program read wrong")
    options = parser.parse_args(arguments)
    cases = lines(load(options.split))
    for name, read in (("program", project), ("second reader", second), ("  without tagger", without_tagger)):
        right, spent, wrong = measure(read, cases)
        sys.stdout.write(f"{name:18} lines {len(cases)}  right {right:.4f}  ms/line {spent:.3f}\n")
        for line in wrong[: options.show]:
            sys.stdout.write(f"    {line}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
