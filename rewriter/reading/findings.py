"""Names and amounts of one text, found once and sliced by place."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from rewriter.model import Amount
from rewriter.reading import prose
from rewriter.reading.names import Name


class Findings:
    """Names and amounts of a text, sliced by place."""

    def __init__(self, text: str, names: Sequence[Name], amounts: Sequence[Amount]) -> None:
        self.text, self.names, self.amounts = text, names, amounts
        self._name_starts = [name.start for name in names]
        self._amount_starts = [amount.start for amount in amounts]
        self.reader = prose.Reader(text, names)

    def names_in(self, start: int, end: int) -> Sequence[Name]:
        """The names that start in text[start:end]."""
        return self.names[bisect_left(self._name_starts, start) : bisect_left(self._name_starts, end)]

    def amounts_in(self, start: int, end: int) -> Sequence[Amount]:
        """The amounts that start in text[start:end]."""
        return self.amounts[bisect_left(self._amount_starts, start) : bisect_left(self._amount_starts, end)]

    def amount_before(self, at: int, floor: int) -> Amount | None:
        """The amount that measures the name at ``at``: it ends right before it, at or after ``floor``; else None."""
        k = bisect_left(self._amount_starts, at) - 1
        if k < 0 or self.amounts[k].start < floor:
            return None
        amount = self.amounts[k]
        gap = self.text[amount.end : at]
        return amount if len(gap) < 30 and not any(mark in gap for mark in ".,;:()\n") else None
