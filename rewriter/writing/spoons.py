"""Cups and spoons: the simplest measure within a bound of an exact amount.

Everything is counted in sixteenths of a teaspoon (a pinch), so that cups, Tbsp and tsp are whole numbers. The
cheapest of all ways to fill an amount with at most two measures is worked out once for each system of cups.

>>> [str(term.count) + " " + term.unit for term in nearest(Fraction(45), Fraction(3, 4), "cup").terms]
['1 cup', '-1 tbsp']
>>> [str(term.count) + " " + term.unit for term in nearest(Fraction(7, 16), Fraction(1, 16), "tsp").terms]
['1/2 tsp']
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor

PINCH, TSP, TBSP, CUP = 1, 16, 48, 768
THIRDS = {Fraction(1, 2): 0.0, Fraction(1, 4): 0.5, Fraction(1, 3): 0.5, Fraction(3, 4): 0.75, Fraction(2, 3): 0.75}
WINDOW = TBSP
_TERM_TSP = {"cup": Fraction(48), "tbsp": Fraction(3), "tsp": Fraction(1), "pinch": Fraction(1, 16)}
KEPT = 1.0  # what it is worth that the old measure stays and something is added to it
ACCURACY = 2.5  # what an error as large as the bound costs, against 3 for a second measure


@dataclass(frozen=True, slots=True)
class Term:
    """So many of a unit; a negative count is taken away.

    shade: "scant" or "rounded", by a sixteenth of a teaspoon, or by a sixteenth of so many tablespoons.
    """

    count: Fraction
    unit: str
    shade: str = ""


Way = tuple[float, tuple[Term, ...]]


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured: its terms, the largest first, and their sum in teaspoons."""

    terms: tuple[Term, ...]
    tsp: Fraction


def _teaspoons(size: int, alone: bool) -> tuple[float, Term] | None:
    """A count of teaspoons and what it costs to measure; None where spoons cannot."""
    count = Fraction(size, TSP)
    if size % 2 == 0:
        cost = (
            {0: 0.0, 8: 0.5, 4: 1.25, 12: 1.25}.get(size % 16, 3.0)
            + (0.5 if size > 32 else 0.0)
            + (1.0 if size > TBSP else 0.0)
        )
        return cost, Term(count, "tsp")
    if not alone:
        return None
    if size == 1:
        return 2.0, Term(Fraction(1), "pinch")
    shade, even = ("scant", size + 1) if (size + 1) % 4 == 0 else ("rounded", size - 1)
    return 3.0, Term(Fraction(even, TSP), "tsp", shade)


@lru_cache(maxsize=4096)
def _small(size: int, most: int) -> tuple[Way, ...]:
    """Ways to measure up to ``most`` tablespoons by tablespoons and teaspoons."""
    if size > (most + 1) * TBSP:
        return ()
    ways: list[Way] = []
    if size <= 4 * TSP:
        alone = _teaspoons(size, True)
        if alone:
            cost, term = alone
            ways.append((cost + (0.5 if size == TBSP else 0.0), (term,)))
    for half in range(2, 2 * most + 1):
        rest = size - half * TBSP // 2
        count = Fraction(half, 2)
        cost = (
            (1.0 if half % 2 else 0.0)
            + max(0.0, 0.5 * (half / 2 - 2))
            + (max(0.0, 0.75 * (half / 2 - 4)) if most < 8 else 0.0)
        )
        if rest == 0:
            ways.append((cost, (Term(count, "tbsp"),)))
        elif abs(rest) * 16 == size - rest and half in (2, 4):
            ways.append((cost + 2.5, (Term(count, "tbsp", "scant" if rest < 0 else "rounded"),)))
        elif 0 < rest < TBSP and half % 2 == 0:
            more = _teaspoons(rest, False)
            if more:
                ways.append((cost + more[0] + 3.0, (Term(count, "tbsp"), more[1])))
    return tuple(ways)


def _minus(terms: tuple[Term, ...]) -> tuple[Term, ...]:
    return tuple(Term(-term.count, term.unit, term.shade) for term in terms)


@lru_cache(maxsize=16)
def _parts(cup: int, beyond: bool) -> tuple[tuple[Fraction, float, int], ...]:
    """The marks of a cup with their costs and sizes; beyond: those after a whole cup, where its rim is one."""
    marks = {**({Fraction(0): 0.0} if beyond else {}), **THIRDS, Fraction(1): 0.0}
    return tuple((part, cost, round(part * cup)) for part, cost in marks.items())


def _ways(size: int, cup: int, cups: int) -> list[Way]:
    """All ways to fill ``size`` beyond ``cups`` whole cups, each with its cost."""
    ways: list[Way] = [] if cups else [*_small(size, 7)]
    if cups and size == 0:
        ways.append((0.0, (Term(Fraction(cups), "cup"),)))
    for part, cost, base in _parts(cup, bool(cups)):
        total = Term(cups + part, "cup")
        if base == size and part:
            ways.append((cost, (total,)))
        elif base < size and part < 1:
            more = _small(size - base, 3)
            ways += [(cost + 3.0 + c, (total, *t)) for c, t in more if len(t) == 1 and not t[0].shade]
            ways += [(cost + 12.0 + c, (total, *t)) for c, t in more if len(t) == 2]
        elif base > size:
            ways += [
                (cost + 3.25 + c, (total, *_minus(t)))
                for c, t in _small(base - size, 2)
                if len(t) == 1 and not t[0].shade
            ]
    return ways


@lru_cache(maxsize=8192)
def _best(size: int, cup: int, cups: int, more: bool) -> Way | None:
    dear = 1.0 if more else 0.0  # what grows is not told by what is taken away
    ways = [(c + dear * any(term.count < 0 for term in t), t) for c, t in _ways(size, cup, cups) if t]
    return min(ways, key=lambda way: (way[0], len(way[1]))) if ways else None


@lru_cache(maxsize=4096)
def _best_small(size: int, unit: str) -> Way | None:
    """As _best, for an amount written in spoons: it stays in spoons up to half a cup."""
    ways = [way for way in _small(size, 8) if way[1]]
    if unit == "tsp":
        ways = [(c + (0.0 if t[0].unit != "tbsp" or size > 2 * TBSP else 0.75), t) for c, t in ways]
    return min(ways, key=lambda way: (way[0], len(way[1]))) if ways else None


def _way(size: int, unit: str, cup: int, more: bool = False) -> Way | None:
    if unit != "cup" and size <= 8 * TBSP:
        return _best_small(size, unit)
    cups, rest = divmod(size, cup)
    way = _best(rest, cup, min(cups, 1), more)
    if way is None or cups < 2:
        return way
    cost, (first, *others) = way
    return cost, (Term(first.count + cups - 1, "cup"), *others)


def _whole(tsp: Fraction | None) -> int | None:
    """A size in whole sixteenths of a teaspoon, None where it is between two."""
    size = None if tsp is None else tsp * TSP
    return size.numerator if size is not None and size.denominator == 1 else None


@lru_cache(maxsize=4096)
def nearest(tsp: Fraction, bound: Fraction, unit: str, avoid: Fraction | None = None, cup: int = CUP) -> Measure:
    """The simplest measure within ``bound`` teaspoons of ``tsp`` teaspoons.

    unit: the unit the amount was written in (cup, tbsp, tsp). avoid: a figure not to land on where another will do
    (the old amount). cup: sixteenths of a teaspoon in a cup of this system. With nothing inside the bound, the
    nearest sixteenth of a teaspoon.
    """
    exact = tsp * TSP
    reach = min(bound * TSP, Fraction(WINDOW))
    old = _whole(avoid)
    step = 4 if reach >= TSP else 1
    low, high = max(1, ceil((exact - reach) / step) * step), floor(exact + reach)
    more = avoid is not None and avoid < tsp
    kept = {name: Term(avoid / tsps, name) for name, tsps in _TERM_TSP.items()} if avoid is not None and more else {}
    middle, slope = float(exact), ACCURACY / float(reach) if reach else 0.0
    found: tuple[float, int, tuple[Term, ...]] | None = None
    for size in range(low, high + 1, step):
        way = _way(size, unit, cup, more)
        if way is None:
            continue
        cost = way[0] + abs(size - middle) * slope + (100.0 if size == old else 0.0)
        if more and len(way[1]) > 1 and way[1][0] == kept[way[1][0].unit]:
            cost -= KEPT
        if found is None or cost < found[0]:
            found = cost, size, way[1]
    if found is None:
        size = max(1, round(exact))
        way = _way(size, unit, cup)
        found = 0.0, size, way[1] if way else (Term(Fraction(size, TSP), "tsp"),)
    return Measure(found[2], Fraction(found[1], TSP))
