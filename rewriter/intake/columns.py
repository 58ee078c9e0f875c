"""From words on a page to a text in reading order: columns, lines, blank lines, whatever way the card lies.

>>> left, right = Box("2 cups", 10, 10, 60, 22, 1), Box("flour", 64, 10.5, 90, 22.5, 1)
>>> text, pages = arranged([right, left], {1: Sheet(200, 100)})
>>> text, pages[0].words[1].start
('2 cups flour', 7)
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, radians, sin
from statistics import median

from rewriter.model import Page, Word

GUTTER = 1.1  # a gap between columns, in line heights
FEWEST = 3  # lines on each side that make columns
_LEADS = re.compile(r"[\d¼½¾⅐-⅞.,/⁄ –-]+$|[\d¼½¾⅐-⅞]")


@dataclass(frozen=True, slots=True)
class Box:
    """A word as found: its box in points from the top left of its page. glued: no space stands before it."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float
    page: int
    confidence: float = 1.0
    glued: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page before its words: width and height in points, and how far its lines are turned (degrees, clockwise)."""

    width: float
    height: float
    skew: float = 0.0


Pair = tuple[Box, Box]  # the box as found, and as it would stand on a straight page


def arranged(boxes: Sequence[Box], sheets: dict[int, Sheet]) -> tuple[str, tuple[Page, ...]]:
    """The text of some pages and their words, with offsets into that text."""
    pieces: list[str] = []
    at = 0
    pages = []
    for number, sheet in sorted(sheets.items()):
        words: list[Word] = []
        pairs = [(box, straight(box, sheet)) for box in boxes if box.page == number]
        for lead, (box, _) in _spaced(list(_blocks(pairs))):
            lead = lead if at else ""
            lead = "\n\n" if at and not words else lead
            pieces += [lead, box.text]
            at += len(lead) + len(box.text)
            words.append(Word(box.text, box.x0, box.y0, box.x1, box.y1, number, at - len(box.text), at, box.confidence))
        pages.append(Page(number, sheet.width, sheet.height, tuple(words), sheet.skew))
    return "".join(pieces), tuple(pages)


def straight(box: Box, sheet: Sheet) -> Box:
    """A box as it would stand if its page were turned straight about its middle.

    The box found is the hull of a turned word; the word's own width and height are worked back from it.
    """
    if not sheet.skew:
        return box
    turn = radians(sheet.skew)
    c, s = cos(turn), sin(turn)
    x, y = (box.x0 + box.x1) / 2 - sheet.width / 2, (box.y0 + box.y1) / 2 - sheet.height / 2
    x, y = x * c + y * s + sheet.width / 2, -x * s + y * c + sheet.height / 2
    hull_w, hull_h, s = box.x1 - box.x0, box.y1 - box.y0, abs(s)
    wide = max((hull_w * c - hull_h * s) / (c * c - s * s), hull_w / 4) / 2
    high = max((hull_h * c - hull_w * s) / (c * c - s * s), hull_h / 4) / 2
    return replace(box, x0=x - wide, x1=x + wide, y0=y - high, y1=y + high)


def _blocks(pairs: list[Pair]) -> Iterator[list[list[Pair]]]:
    """Blocks of lines in reading order: above the columns, each column, below them."""
    if not pairs:
        return
    found = _gutter(pairs)
    if found is None:
        yield _lines(pairs)
        return
    x, top, bottom = found
    above = [pair for pair in pairs if _middle(pair) <= top]
    below = [pair for pair in pairs if _middle(pair) >= bottom]
    inside = [pair for pair in pairs if top < _middle(pair) < bottom]
    yield from _blocks(above)
    yield from _blocks([pair for pair in inside if pair[1].x1 <= x])
    yield from _blocks([pair for pair in inside if pair[1].x1 > x])
    yield from _blocks(below)


def _middle(pair: Pair) -> float:
    return (pair[1].y0 + pair[1].y1) / 2


def _gutter(pairs: list[Pair]) -> tuple[float, float, float] | None:
    """The tallest empty stripe between two columns: where it stands, and from where to where it reaches."""
    height = median(pair[1].y1 - pair[1].y0 for pair in pairs)
    half = GUTTER * height / 2
    edges = sorted({round(pair[1].x1 + half + 0.1, 1) for pair in pairs})
    best: tuple[tuple[float, float], tuple[float, float, float]] | None = None
    for x in edges:
        over = sorted(_middle(pair) for pair in pairs if pair[1].x0 < x + half and pair[1].x1 > x - half)
        marks = [float("-inf"), *over, float("inf")]
        for high, low in pairwise(marks):
            if low - high < 1.8 * height or (best is not None and low - high < best[0][0] - 1):
                continue  # too short for the fewest lines, or for more than the best so far
            top, bottom = high + 0.4 * height, low - 0.4 * height
            inside = [pair for pair in pairs if top < _middle(pair) < bottom]
            worth = _worth(inside, x)
            if (best is None or worth > best[0]) and _two(inside, x):
                best = worth, (x, top, bottom)
    return best[1] if best else None


def _worth(pairs: list[Pair], x: float) -> tuple[float, float]:
    """How far down both sides reach together; then, how little stands on one side alone."""
    left = [_middle(pair) for pair in pairs if pair[1].x1 <= x]
    right = [_middle(pair) for pair in pairs if pair[1].x1 > x]
    if not left or not right:
        return 0.0, 0.0
    both = min(max(left), max(right)) - max(min(left), min(right))
    return round(both), min(left + right) - max(left + right)


def _two(pairs: list[Pair], x: float) -> bool:
    """Whether both sides of a stripe hold lines of their own, not the amounts and names of one list."""
    left = _lines([pair for pair in pairs if pair[1].x1 <= x])
    right = _lines([pair for pair in pairs if pair[1].x1 > x])
    if min(len(left), len(right)) < FEWEST:
        return False
    amounts = sum(len(line) <= 3 and bool(_LEADS.match(line[0][1].text)) for line in left)
    return amounts < 0.6 * len(left) and median(map(len, left)) >= 2 and median(map(len, right)) >= 2


def _lines(pairs: list[Pair]) -> list[list[Pair]]:
    """Words that stand beside each other, from the top down, each line from left to right."""
    lines: list[list[Pair]] = []
    for pair in sorted(pairs, key=_middle):
        middle, box = _middle(pair), pair[1]
        for line in lines[-3:]:
            tall = max(box.y1 - box.y0, median(one[1].y1 - one[1].y0 for one in line))
            if abs(middle - median(map(_middle, line))) < 0.45 * tall and not _over(box, line):
                line.append(pair)
                break
        else:
            lines.append([pair])
    return [sorted(line, key=lambda pair: pair[1].x0) for line in lines]


def _over(box: Box, line: list[Pair]) -> bool:
    """Whether a box stands over or under a word of the line more than beside it."""
    shared = [(min(box.x1, one.x1) - max(box.x0, one.x0), one.x1 - one.x0) for _, one in line]
    return any(both > 0.6 * min(box.x1 - box.x0, wide) for both, wide in shared)


def _spaced(blocks: list[list[list[Pair]]]) -> Iterator[tuple[str, Pair]]:
    """Each word with what stands before it: a space, a line end, or a blank line where the page leaves room."""
    for lines in blocks:
        tops = [median(map(_middle, line)) for line in lines]
        steps = [low - high for high, low in pairwise(tops)]
        usual = median(steps) if steps else 0.0
        usual = min([step for step in steps if step > 0.5 * usual], default=usual)
        for index, line in enumerate(lines):
            wide = not index or steps[index - 1] > 1.35 * usual
            for place, pair in enumerate(line):
                glued = "" if pair[0].glued else " "
                yield (glued if place else "\n\n" if wide else "\n"), pair
