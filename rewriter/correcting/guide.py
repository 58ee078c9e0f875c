"""Guides: the tables that say how much altitude changes, read once from ``guides/*.toml``.

A guide has one row for each thing it changes; a row has points by elevation, straight lines between them, nothing
below the first and the last figure held above the last. All figures are exact.

>>> from fractions import Fraction
>>> load("practice").row("leavener").at(Fraction(6000), "middle")
Fraction(1, 2)
>>> load("extension").row("sugar").at(Fraction(7000), "gentle")
Fraction(1, 16)
"""

from __future__ import annotations

import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from rewriter.errors import Unusable

HERE = Path(__file__).parent / "guides"
NAMES = ("practice", "extension", "formula", "gas-law")
STRENGTHS = ("gentle", "middle", "full")
ZERO, ONE, HALF = Fraction(0), Fraction(1), Fraction(1, 2)

Line = tuple[tuple[Fraction, Fraction], ...]


class NoSuchGuide(Unusable):
    """A guide or a strength that does not exist."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a guide.

    what: leavener, sugar, liquid, oven ... per: "ingredient" (a share of its own amount), "home" (for a home-size
    recipe), "flour" (a share of the flour's weight) or "degrees" (F). sign: +1 more, -1 less. kinds: the kinds of
    bake it speaks for, empty for all. lines: (elevation ft, figure) pairs for each strength.
    """

    what: str
    per: str
    sign: int
    account: str
    source: str
    kinds: frozenset[str]
    computed: str
    most: Fraction
    lines: Mapping[str, Line]

    def at(self, feet: Fraction, strength: str) -> Fraction:
        """The figure at an elevation in feet: a share of the ingredient or of the flour, Tbsp, eggs or degrees F."""
        return interpolate(self.lines[strength], feet)

    def speaks_for(self, kind: str) -> bool:
        """Whether the row is made for this kind of bake."""
        return not self.kinds or kind in self.kinds

    @property
    def last_ft(self) -> Fraction:
        """Elevation of the last point."""
        return self.lines["middle"][-1][0]


@dataclass(frozen=True, slots=True)
class Guide:
    """A guide by name: its rows, its source, where it starts and where its figures are held (feet)."""

    name: str
    title: str
    source: str
    start_ft: Fraction
    hold_ft: Fraction
    by: str
    rows: Mapping[str, Row]
    own: frozenset[str]

    def row(self, what: str) -> Row:
        """The row for ``what``; where the guide is silent, that of the guide it falls back on."""
        return self.rows[what]

    def has(self, what: str, kind: str) -> bool:
        """Whether this guide says anything of ``what`` in this kind of bake."""
        return what in self.rows and self.rows[what].speaks_for(kind)


def interpolate(line: Line, x: Fraction) -> Fraction:
    """The figure at ``x`` on straight lines between points; 0 before the first, the last one held.

    >>> interpolate(((Fraction(0), Fraction(1)), (Fraction(10), Fraction(2))), Fraction(5))
    Fraction(3, 2)
    """
    if x < line[0][0]:
        return ZERO
    if x >= line[-1][0]:
        return line[-1][1]
    at = bisect_right(line, x, key=_first)
    (x0, y0), (x1, y1) = line[at - 1], line[at]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def check_strength(strength: str) -> None:
    """Raise NoSuchGuide where the strength is none of gentle, middle and full."""
    if strength not in STRENGTHS:
        raise NoSuchGuide(f'there is no strength "{strength}"', "choose gentle, middle or full")


@cache
def load(name: str) -> Guide:
    """The guide of that name. Raises NoSuchGuide, which names those there are."""
    if name not in NAMES:
        raise NoSuchGuide(f'there is no guide "{name}"', f"choose one of {', '.join(NAMES)}")
    table = tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))
    own = {what: _row(what, row, table["source"]) for what, row in table.items() if isinstance(row, dict)}
    rows = {**(load(table["like"]).rows if "like" in table else {}), **own}
    return Guide(
        name=table["name"],
        title=table["title"],
        source=table["source"],
        start_ft=Fraction(table["start_ft"]),
        hold_ft=Fraction(table["hold_ft"]),
        by=table.get("by", "elevation"),
        rows=rows,
        own=frozenset(own),
    )


def _row(what: str, table: dict[str, Any], source: str) -> Row:
    share = Fraction(table.get("share", 1))
    points = [(Fraction(feet), _figures(figures)) for feet, *figures in table["points"]]
    return Row(
        what=what,
        per=table.get("per", "ingredient"),
        sign=table["sign"],
        account=table["account"],
        source=table.get("source", source),
        kinds=frozenset(table.get("kinds", ())),
        computed=table.get("computed", ""),
        most=Fraction(table.get("most", 1)),
        lines={name: tuple((feet, three[at] * share) for feet, three in points) for at, name in enumerate(STRENGTHS)},
    )


def _figures(figures: list[str]) -> tuple[Fraction, Fraction, Fraction]:
    """Gentle, middle and full from one figure, from low and high, or from three."""
    exact = [Fraction(figure) for figure in figures]
    if len(exact) == 1:
        return exact[0], exact[0], exact[0]
    if len(exact) == 2:
        return exact[0], (exact[0] + exact[1]) / 2, exact[1]
    return exact[0], exact[1], exact[2]


def _first(point: tuple[Fraction, Fraction]) -> Fraction:
    return point[0]
