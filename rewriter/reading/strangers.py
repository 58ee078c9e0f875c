r"""What the method measures for a finish of its own, beside what the list measures for the batter.

>>> from rewriter.reading.pipeline import read
>>> cake = "Torte\n\n200 g sugar\n200 g flour\n4 eggs\n\nBake at 350 F. Ganache: heat 150 ml cream with 20 g sugar."
>>> [(one.name, one.part) for one in read(cake)[0].ingredients if one.role == "sugar"]
[('sugar', 'batter'), ('sugar', 'frosting')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import Enum

from rewriter.model import Ingredient
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.parts import FINISHING
from rewriter.reading.portions import comparable, holds
from rewriter.reading.prose import Measured

_PARTED = re.compile(r"[,;.]\s|\bthe\b", re.IGNORECASE)


def of_finishes(
    text: str, told: Sequence[tuple[Clause, list[Measured]]], listed: Sequence[Ingredient]
) -> frozenset[int]:
    """Where the names stand that a finish measures for itself, though the list has something of that name.

    So it is where a clause measures what the list has not, or has less of: then what it measures beside is its own
    too, but for whole listed amounts. "1 cup of the sugar" is always the list's.
    """
    found: set[int] = set()
    for clause, measured in told if listed else ():
        if clause.part == "batter" and not clause.touches:
            continue
        fresh = [(one, _fit(one, listed)) for one in measured if _finishes(clause, one) and _own(text, one)]
        if fresh and any(fit is Fit.NEW for _, fit in fresh):
            found.update(one.name_start for one, fit in fresh if fit is not Fit.WHOLE)
    return frozenset(found)


def _own(text: str, one: Measured) -> bool:
    """Whether amount and name stand together: neither "of the sugar" nor "in a 6-quart pot, melt the butter"."""
    if one.name is None or one.the:
        return False
    gap = text[one.amount.end : one.name.start] or text[one.name.end : one.amount.start]
    return len(gap) < 30 and not _PARTED.search(gap)


def _finishes(clause: Clause, one: Measured) -> bool:
    return clause.part_at(one.name_start) in FINISHING


class Fit(Enum):
    """How what a finish measures stands to the list."""

    NEW = "no list has it, or less of it"
    PART = "it may be a part of what is listed"
    WHOLE = "it is all that is listed"


def _fit(one: Measured, listed: Sequence[Ingredient]) -> Fit:
    name = one.name
    same = [other for other in listed if name is not None and (other.key == name.key or fits(name.text, other.name))]
    fit = max((holds(other, one.amount) for other in same), default=0)
    if fit:
        return Fit.WHOLE if fit == 2 else Fit.PART
    if not same:
        return Fit.NEW if one.name is not None and one.amount.unit else Fit.PART
    return Fit.NEW if all(_reckoned(other, one) for other in same) else Fit.PART


def _reckoned(other: Ingredient, one: Measured) -> bool:
    """Whether a listed amount can be set against the measured one."""
    return any(own.quantity is not None and comparable(one.amount.unit, own.unit) is not None for own in other.amounts)
