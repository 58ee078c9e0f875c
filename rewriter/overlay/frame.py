"""A page set straight: where its words and lines would stand if it had not been laid or photographed askew.

>>> frame = Frame(200.0, 100.0, 90.0)
>>> x, y = frame.turned(100.0, 0.0)
>>> round(x), round(y)
(150, 50)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from rewriter.intake.columns import Box, Sheet, straight
from rewriter.model import Page, Word


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle in points from the top left."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def middle(self) -> float:
        """Half-way down it."""
        return (self.y0 + self.y1) / 2

    def holds(self, other: Rect) -> bool:
        """Whether another lies within this one."""
        return self.x0 <= other.x0 and other.x1 <= self.x1 and self.y0 <= other.y0 and other.y1 <= self.y1

    def meets(self, other: Rect, gap: float = 0.0) -> bool:
        """Whether two rectangles come nearer than ``gap``."""
        across = self.x0 < other.x1 + gap and other.x0 < self.x1 + gap
        return across and self.y0 < other.y1 + gap and other.y0 < self.y1 + gap


@dataclass(frozen=True, slots=True)
class Frame:
    """A page's size in points and how far its lines are turned, in degrees clockwise."""

    width: float
    height: float
    skew: float

    def turned(self, x: float, y: float) -> tuple[float, float]:
        """A point of the straight page, where it lies on the page as it is."""
        turn = radians(self.skew)
        x, y = x - self.width / 2, y - self.height / 2
        return (
            x * cos(turn) - y * sin(turn) + self.width / 2,
            x * sin(turn) + y * cos(turn) + self.height / 2,
        )

    def straight(self, word: Word) -> Rect:
        """A word's own box on the straight page."""
        box = straight(
            Box(word.text, word.x0, word.y0, word.x1, word.y1, word.page), Sheet(self.width, self.height, self.skew)
        )
        return Rect(box.x0, box.y0, box.x1, box.y1)


@dataclass(frozen=True, slots=True)
class Row:
    """A line of print on the straight page: its words, and the rectangle that holds them."""

    words: tuple[tuple[Word, Rect], ...]
    rect: Rect

    def part(self, start: int, end: int) -> Rect | None:
        """Where the characters from ``start`` to ``end`` stand; None where none of them is in this line."""
        found = [_share(word, rect, start, end) for word, rect in self.words if word.start < end and word.end > start]
        return hull(found) if found else None


def _share(word: Word, rect: Rect, start: int, end: int) -> Rect:
    """The part of a word's box that belongs to some of its characters, as if all were equally wide."""
    each = (rect.x1 - rect.x0) / max(word.end - word.start, 1)
    x0 = rect.x0 + each * max(start - word.start, 0)
    x1 = rect.x1 - each * max(word.end - end, 0)
    return Rect(x0, rect.y0, x1, rect.y1)


def hull(rects: Sequence[Rect]) -> Rect:
    """The smallest rectangle round some others."""
    return Rect(
        min(rect.x0 for rect in rects),
        min(rect.y0 for rect in rects),
        max(rect.x1 for rect in rects),
        max(rect.y1 for rect in rects),
    )


def rows(page: Page, text: str) -> list[Row]:
    """The lines of a page, as the text breaks them."""
    frame = Frame(page.width, page.height, page.skew)
    lines: list[list[tuple[Word, Rect]]] = []
    for word in page.words:
        if not lines or "\n" in text[lines[-1][-1][0].end : word.start]:
            lines.append([])
        lines[-1].append((word, frame.straight(word)))
    return [Row(tuple(line), hull([rect for _, rect in line])) for line in lines]
