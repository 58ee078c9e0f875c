"""Counting what is found, what is said and what is right, label by label.

>>> tally = Tally()
>>> tally.found("name", 4, 5, 3)
>>> tally.rows["name"].precision, tally.rows["name"].recall
(0.6, 0.75)
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol


class Placed(Protocol):
    """Anything with a place in the text."""

    @property
    def start(self) -> int:
        """Its first character."""
        ...

    @property
    def end(self) -> int:
        """One past its last character."""
        ...


@dataclass(slots=True)
class Row:
    """One label: how many there are, how many the program said, how many of these are right."""

    gold: int = 0
    said: int = 0
    right: int = 0

    @property
    def precision(self) -> float:
        """Right among the said; 1 where nothing is said."""
        return self.right / self.said if self.said else 1.0

    @property
    def recall(self) -> float:
        """Right among those there are; 1 where there are none."""
        return self.right / self.gold if self.gold else 1.0

    @property
    def f1(self) -> float:
        """Harmonic mean of precision and recall."""
        return 2 * self.right / (self.gold + self.said) if self.gold + self.said else 1.0


@dataclass(slots=True)
class Tally:
    """All rows, and what went wrong: label, recipe and words."""

    rows: defaultdict[str, Row] = field(default_factory=lambda: defaultdict(Row))
    mistakes: list[tuple[str, str, str]] = field(default_factory=list)

    def found(self, label: str, gold: int, said: int, right: int) -> None:
        """Add counts of a label."""
        row = self.rows[label]
        row.gold, row.said, row.right = row.gold + gold, row.said + said, row.right + right

    def same(self, label: str, ok: bool, where: str, detail: str) -> None:
        """Count one thing that is there and was said, right or wrong."""
        self.found(label, 1, 1, int(ok))
        if not ok:
            self.mistakes.append((label, where, detail))

    def wrong(self, label: str, where: str, detail: str) -> None:
        """Note a mistake."""
        self.mistakes.append((label, where, detail))


def pair(gold: Sequence[Placed], said: Sequence[Placed]) -> dict[int, int]:
    """Which of the said goes with which of the gold: one to one, the largest overlap first.

    >>> from corpus.standoff import Mark
    >>> pair([Mark("", 0, 5), Mark("", 6, 9)], [Mark("", 4, 9), Mark("", 0, 4)])
    {0: 1, 1: 0}
    """
    overlaps = sorted(
        (max(one.start, other.start) - min(one.end, other.end), g, s)
        for g, one in enumerate(gold)
        for s, other in enumerate(said)
        if one.start < other.end and other.start < one.end
    )
    pairs: dict[int, int] = {}
    taken: set[int] = set()
    for _, g, s in overlaps:
        if g not in pairs and s not in taken:
            pairs[g] = s
            taken.add(s)
    return dict(sorted(pairs.items()))
