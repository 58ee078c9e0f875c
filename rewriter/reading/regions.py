r"""Runs of lines that are ingredient lists, and the groups inside them.

>>> from rewriter.reading.headings import mark
>>> from rewriter.reading.measures import find_amounts
>>> from rewriter.reading.rows import lines_of
>>> lines = lines_of(text := "Scones\n2 cups flour\n1 cup milk\nMethod\nMix. Bake.")
>>> find_amounts(text, lines, named=lambda line: True)
>>> mark(lines)
>>> [(region.first, region.last, region.closed) for region in find_regions(lines)]
[(1, 2, True)]
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from rewriter.reading.headings import YIELD, instruction, instruction_with_amount, short, unmeasured
from rewriter.reading.rows import SENTENCE, Line, Named, opens_with_verb

_DISHES = re.compile(
    r"(?:about\s+|makes\s+)?\S{1,4}\s+(?:[a-z]+\s+){0,2}?(?:muffins?|rolls|buns|cookies|pieces|loaves|loaf|cakes|bars|squares|pancakes|waffles|biscuits|scones|slices|servings|portions|shells|bagels|doughnuts|donuts|bowls|jars|pints|trays?|tins?|pans?)\b(?!\s+of\s+[a-z]{3,}\s+[a-z])",
    re.IGNORECASE,
)


@dataclass(slots=True)
class Region:
    """A list: lines[first..last]. headed: a heading says so above it; closed: the method's heading follows at once.

    tail: the line before which the list must end; amounts: how many ingredients it measures.
    """

    first: int
    last: int
    headed: bool
    closed: bool = False
    tail: int = 0
    amounts: int = 0

    @property
    def top(self) -> int:
        """Its first line, the heading above it counted."""
        return self.first - self.headed


def find_regions(lines: list[Line]) -> list[Region]:
    """Every run of lines that measures ingredients, in order."""
    regions: list[Region] = []
    kinds = [line.kind if line.role != "skip" else "" for line in lines]
    i = 0
    while i < len(lines):
        headed = kinds[i] == "ingredients" and not (lines[i].amount and len(lines[i].cells) > 1)
        if not headed and not (lines[i].amount and kinds[i] != "method"):
            i += 1
            continue
        region, stop = _run(lines, kinds, i + headed, headed)
        enough = region.amounts >= (1 if headed else 2) or (region.amounts == 1 and region.closed)
        if enough:
            regions.append(region)
            i = max(stop, i + 1)
        else:
            i = region.first + 1 if region.amounts == 0 else max(region.last + 1, i + 1)
    return regions


def _run(lines: list[Line], kinds: list[str], start: int, headed: bool) -> tuple[Region, int]:
    """The run that opens at a line, and the line that stopped it."""
    region = Region(start, start - 1, headed)
    misses, j = 0, start
    while j < len(lines):
        line = lines[j]
        if kinds[j] == "method":
            region.closed = True
            break
        if _stops(line, kinds[j], region) or _new_card(lines, j, region):
            break
        if line.amount and not instruction_with_amount(line.text):
            region.last, misses = j, 0
            region.amounts += max(1, len(line.cells))
        elif line.role != "skip":
            if instruction(line.text):
                break
            misses += 1
            if misses > (5 if region.amounts else 8):
                break
        j += 1
    followed = j < len(lines) and region.amounts > 0 and kinds[j] == "" and instruction(lines[j].text)
    region.tail = j if region.closed or followed or j == len(lines) else region.last + 1
    return region, j


def _stops(line: Line, kind: str, region: Region) -> bool:
    """Whether a line ends the run above it: a heading of something else, or a rule."""
    if line.amount:
        return False
    return kind in ("end", "ingredients", "notes") or (line.rule and region.amounts > 1)


def _new_card(lines: list[Line], j: int, region: Region) -> bool:
    """Whether a title with its yield stands here: what was measured above it is another list."""
    below = lines[j + 1] if j + 1 < len(lines) else None
    if below is None or below.amount or lines[j].amount or not lines[j].gap or below.gap or not region.amounts:
        return False
    return bool(YIELD.match(below.text))


_LABELLED = re.compile(r"[A-Za-z ]{2,24}:\s")


def drop_head(lines: list[Line], region: Region, named: Named) -> None:
    """Let a list begin below the yield, batch or subject with a figure above it ("12 rolls in a 9x13 pan")."""
    first, last = region.first, region.last
    if not any(line.amount and named(line) for line in lines[first : last + 1]):
        return
    while first < last:
        line, below = lines[first], lines[first + 1]
        apart = below.gap or not below.amount or _LABELLED.match(line.text)
        if line.amount and ((named(line) and not _counts_dish(line)) or not apart):
            break
        if not line.amount and (named(line) or below.amount or first == region.first):
            break
        line.amount = False
        first += 1
    if first > region.first:
        region.first = next((k for k in range(first, last + 1) if lines[k].amount), first)


def _counts_dish(line: Line) -> bool:
    """Whether a line counts what is made ("12 muffins", "about 80 cookies, 6 cm")."""
    return bool(_DISHES.match(line.text))


_PAGE = 90


def take_tail(lines: list[Line], region: Region, named: Named) -> None:
    """Let a list take in the last lines without amounts ("salt and pepper") that stand before the method."""
    last, k = region.last, region.last + 1
    while k < region.tail and k - region.last < 12:
        line = lines[k]
        if line.role != "skip" and (opens_with_verb(line.text) or SENTENCE.search(line.text[:-1])):
            break
        if line.role != "skip" and short(line):
            near = not line.gap and k == last + 1 and len(lines) <= _PAGE
            if named(line) or unmeasured(line.text) or near:
                last = k
        k += 1
    region.last = max(region.last, last)
