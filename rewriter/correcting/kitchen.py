"""What one guide says in one kitchen: the difference between the air a recipe was written for and the air here.

>>> from rewriter import air
>>> here = kitchen("practice", "middle", air.of("6500 ft"), air.of("0 ft"))
>>> here.factor("leavener", "cookie"), here.added("liquid"), here.added("oven")
(Fraction(1, 2), Fraction(11, 2), Fraction(25, 1))
"""

from __future__ import annotations

import itertools
from fractions import Fraction
from functools import lru_cache

from rewriter import air as airs
from rewriter import atmosphere
from rewriter.correcting.guide import ONE, ZERO, Guide, Line, Row, check_strength, load
from rewriter.correcting.policy import policy
from rewriter.model import Air, Strength

GRID = 1_000_000  # figures taken from the pressure are exact to a millionth
SEA_LEVEL_HPA = 1013.25  # U.S. Standard Atmosphere 1976
NOTE_FT = Fraction(2500)
HOME_DRY_CUPS = Fraction(5, 2)


class Kitchen:
    """A guide, a strength and two airs: this kitchen's, and the one the recipe was written for."""

    __slots__ = (
        "_added", "_factors", "_others", "adjusted", "guide", "here", "low", "quiet", "strength", "there", "up",
    )  # fmt: skip

    def __init__(self, guide: Guide, strength: Strength, here: Air, there: Air) -> None:
        """Figures are kept once asked for.

        up: whether it is as high as the place the recipe was written for, or higher. adjusted: whether that place's
        air is one where this guide already changes something. quiet: whether nothing at all changes, not even by a
        note, both airs being below 2,500 ft. low: whether both lie below the first point of the guide.
        """
        self.guide, self.strength, self.here, self.there = guide, strength, here, there
        feet, written = here.elevation_ft, there.elevation_ft
        self.up = feet >= written
        self.adjusted = written >= guide.start_ft
        self.quiet = feet < NOTE_FT and written < NOTE_FT
        self.low = feet < guide.start_ft and written < guide.start_ft
        self._factors: dict[tuple[str, str], Fraction] = {}
        self._added: dict[str, Fraction] = {}
        self._others: dict[str, Kitchen] = {}

    def by(self, guide: str) -> Kitchen:
        """The same kitchen by another guide."""
        known = self._others.get(guide)
        if known is None:
            known = self._others[guide] = kitchen(guide, self.strength, self.here, self.there)
        return known

    def factor(self, what: str, kind: str) -> Fraction:
        """What an ingredient's own amount is multiplied by; 1 where the guide says nothing of it.

        >>> from rewriter import air
        >>> kitchen("formula", "middle", air.of("7500 ft"), air.of("5000 ft")).factor("sugar", "shortened-cake")
        Fraction(91, 94)
        """
        known = self._factors.get((what, kind))
        if known is None:
            known = self._factors[what, kind] = self._share(what, kind, self.here) / self._share(what, kind, self.there)
        return known

    def added(self, what: str) -> Fraction:
        """What is added to a home-size recipe, to the flour or to the oven: Tbsp, a share of the flour, degrees F."""
        known = self._added.get(what)
        if known is None:
            row = self.guide.row(what)
            here, there = (row.at(air.elevation_ft, self.strength) for air in (self.here, self.there))
            known = self._added[what] = row.sign * (here - there)
        return known

    def source(self, what: str) -> str:
        """The source of a row."""
        return self.guide.rows[what].source

    def per(self, what: str) -> str:
        """The unit of account of a row: ingredient, home, flour or degrees."""
        return self.guide.rows[what].per

    def _share(self, what: str, kind: str, air: Air) -> Fraction:
        if not self.guide.has(what, kind):
            return ONE
        row = self.guide.row(what)
        if row.computed == "gas-law":
            return ONE - gas_cut(air, policy(kind).set_c, row)
        if self.guide.by == "pressure" and row.per == "ingredient":
            return ONE + row.sign * by_pressure(row.lines[self.strength], air)
        return ONE + row.sign * row.at(air.elevation_ft, self.strength)


@lru_cache(maxsize=256)
def kitchen(guide: str, strength: Strength, here: Air, there: Air) -> Kitchen:
    """The kitchen for a guide by name; raises NoSuchGuide for an unknown guide or strength."""
    check_strength(strength)
    return Kitchen(load(guide), strength, here, there)


def gas_cut(air: Air, set_c: float, row: Row) -> Fraction:
    """The share of the leavener to leave out, so that the gas fills at ``set_c`` (C) what it fills at sea level.

    None below the row's first point; never more than ``row.most``; held above the row's last point.

    >>> cut = gas_cut(airs.of("5000 ft"), 85.0, load("gas-law").row("leavener"))
    >>> round(float(cut), 3)
    0.392
    """
    first, last = row.lines["middle"][0][0], row.lines["middle"][-1][0]
    if air.elevation_ft < first:
        return ZERO
    hpa = max(air.pressure_hpa, _hpa(last))
    steam = _steam(set_c)
    cut = Fraction(round((1 - (hpa - steam) / (SEA_LEVEL_HPA - steam)) * GRID), GRID)
    return max(ZERO, min(cut, row.most))


def by_pressure(line: Line, air: Air) -> Fraction:
    """A row's figure read on the pressure axis: its points stand at the pressures of their elevations.

    >>> line = ((Fraction(2500), Fraction(0)), (Fraction(5000), Fraction(1)))
    >>> by_pressure(line, airs.of("2500 ft")), by_pressure(line, airs.of("9000 ft"))
    (Fraction(0, 1), Fraction(1, 1))
    >>> by_pressure(line, airs.of("3750 ft")) > Fraction(1, 2)
    True
    """
    if air.elevation_ft < line[0][0]:
        return ZERO
    for (feet0, low), (feet1, high) in itertools.pairwise(line):
        if air.elevation_ft < feet1:
            p0, p1 = _hpa(feet0), _hpa(feet1)
            along = Fraction(round((p0 - air.pressure_hpa) / (p0 - p1) * GRID), GRID)
            return low + (high - low) * max(ZERO, min(along, ONE))
    return line[-1][1]


@lru_cache(maxsize=64)
def _hpa(feet: Fraction) -> float:
    return airs.of(float(feet * airs.FOOT_M)).pressure_hpa


@lru_cache(maxsize=16)
def _steam(set_c: float) -> float:
    return atmosphere.saturation_hpa(set_c)
