"""Kitchen units: exact factors, dimensions and conversion, from the unit definition file.

A unit is named as everywhere in the program: cup, tbsp, tsp, ml, l, g, kg, oz, lb, floz, pint, quart, gill, gal,
stick, pinch, dash, packet, can, clove, slice, each, and the household names (teacup, coffee cup, wineglass,
saltspoon, dessertspoon, tumbler, size of an egg, size of a walnut ...). A system is us, metric, imperial, aus or label.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from rewriter.pantry import shelf

SYSTEMS = ("us", "metric", "imperial", "aus", "label")


class UnitError(ValueError):
    """A unit the pantry does not know, or two that do not measure the same thing."""


@cache
def _units() -> dict[str, tuple[Fraction, str]]:
    return {name: (Fraction(size), dimension) for name, (size, dimension) in shelf.units().items()}


@cache
def _look_up(unit: str, system: str) -> tuple[Fraction, str]:
    known = _units()
    found = known.get(f"{system} {unit}") or known.get(unit)
    if found is None:
        raise UnitError(f"unknown unit: {unit!r}")
    return found


def known_units() -> frozenset[str]:
    """Every unit name, without the names that carry a system.

    >>> {"cup", "g", "saltspoon"} <= known_units()
    True
    """
    return frozenset(name for name in _units() if name.partition(" ")[0] not in SYSTEMS)


def factor(unit: str, system: str = "us") -> Fraction:
    """The exact size of one unit: mL for a volume, g for a mass, 1 for a count.

    Raises UnitError for a unit that is not in units.txt.

    >>> factor("cup"), float(factor("cup")), factor("tbsp", "aus")
    (Fraction(473176473, 2000000), 236.5882365, Fraction(20, 1))
    """
    return _look_up(unit, system)[0]


def dimension(unit: str) -> str:
    """What a unit measures: "volume", "mass" or "count".

    >>> dimension("gill"), dimension("lb"), dimension("clove")
    ('volume', 'mass', 'count')
    """
    return _look_up(unit, "us")[1]


@cache
def _ratio(unit: str, into: str, system: str) -> Fraction:
    (size, kind), (other_size, other_kind) = _look_up(unit, system), _look_up(into, system)
    if kind != other_kind or (kind == "count" and unit != into):
        raise UnitError(f"{unit} does not convert to {into} without knowing the ingredient")
    return size / other_size


def convert(quantity: Fraction, unit: str, into: str, system: str = "us") -> Fraction:
    """The same amount in another unit of the same dimension, exactly.

    Raises UnitError where a unit is unknown or the two measure different things (a cup is no weight).

    >>> convert(Fraction(1, 4), "cup", "tbsp")
    Fraction(4, 1)
    """
    return quantity * _ratio(unit, into, system)
