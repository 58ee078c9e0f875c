"""From an amount to grams, with an honest range."""

from __future__ import annotations

from fractions import Fraction

from rewriter.pantry.entry import Entry
from rewriter.pantry.units import UnitError, dimension, factor

Grams = tuple[float, float, float]
_CUP = float(factor("cup"))
_TBSP = float(factor("tbsp"))
_TSP = float(factor("tsp"))
_SPOONS = frozenset(("tbsp", "tsp", "dessertspoon", "saltspoon", "pinch", "dash", "smidgen", "tad", "drop"))


def _densities(entry: Entry, unit: str) -> Grams | None:
    """Grams per mL: low, usual, high."""
    if entry.tsp_g is not None and (unit in _SPOONS or entry.cup_g is None):
        usual = entry.tsp_g / _TSP
    elif entry.tbsp_g is not None and (unit in _SPOONS or entry.cup_g is None):
        usual = entry.tbsp_g / _TBSP
    elif entry.cup_g is not None:
        usual = entry.cup_g / _CUP
    else:
        return None
    if entry.cup_g is None or entry.cup_g_range is None:
        return usual, usual, usual
    low, high = entry.cup_g_range
    return usual * low / entry.cup_g, usual, usual * high / entry.cup_g


def _piece(entry: Entry, unit: str, size: str) -> float | None:
    if size and size in entry.sizes:
        return entry.sizes[size]
    if unit in entry.sizes:
        return entry.sizes[unit]
    return entry.piece_g if unit in ("", "each", "piece") else None


def grams(
    entry: Entry, quantity: Fraction | float, unit: str, system: str = "us", size: str = ""
) -> tuple[float, float, float] | None:
    """Weight of an amount in grams: low, usual, high; None where the pantry does not know.

    unit is a canonical name ("" or "each" for pieces), system whose cup and spoon it is, size a word such as
    "large". A weight weighs itself; a volume goes by the entry's cup or spoon; a piece by its size.

    >>> from rewriter.pantry import entry
    >>> grams(entry("all-purpose-flour"), 2, "cup")
    (230.0, 250.0, 290.0)
    >>> grams(entry("egg"), 3, "each")
    (150.0, 150.0, 150.0)
    """
    amount = float(quantity)
    if (unit in ("", "each") or unit in entry.sizes) and (one := _piece(entry, unit, size)) is not None:
        return amount * one, amount * one, amount * one
    if not unit:
        return None
    try:
        kind = dimension(unit)
    except UnitError:
        return None
    if kind == "count":
        return None
    measured = amount * float(factor(unit, system))
    if kind == "mass":
        return measured, measured, measured
    densities = _densities(entry, unit)
    if densities is None:
        return None
    low, usual, high = densities
    return round(measured * low, 6), round(measured * usual, 6), round(measured * high, 6)
