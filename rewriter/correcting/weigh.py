"""Weights and measures of ingredients as exact fractions, from the pantry's units and rows.

Volumes are in US cups, weights in grams. A range counts with its middle.

>>> from fractions import Fraction
>>> from rewriter.model import Amount, Ingredient
>>> flour = Ingredient(0, 12, "flour", "flour", "batter", (Amount(0, 6, "2 cups", Fraction(2), unit="cup"),))
>>> cups(flour), grams(flour)
(Fraction(2, 1), Fraction(250, 1))
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

from rewriter import pantry
from rewriter.correcting.stuff import Stuff, stuff
from rewriter.model import Amount, Ingredient

ZERO = Fraction(0)
SPOONS = frozenset(("tbsp", "tsp", "dessertspoon", "saltspoon", "pinch", "dash"))


@lru_cache(maxsize=256)
def unit_size(unit: str, system: str = "us") -> tuple[str, Fraction]:
    """What a unit measures and its size: ("volume", US cups), ("mass", grams), else ("count", 1).

    >>> unit_size("tbsp"), unit_size("kg"), unit_size("each")
    (('volume', Fraction(1, 16)), ('mass', Fraction(1000, 1)), ('count', Fraction(1, 1)))
    """
    try:
        measures, size = pantry.dimension(unit), pantry.factor(unit, system)
    except pantry.UnitError:
        return "count", Fraction(1)
    return (measures, size / pantry.factor("cup")) if measures == "volume" else (measures, size)


def figure(amount: Amount) -> Fraction | None:
    """The amount's figure in its unit, all containers together and a range by its middle; None where there is none."""
    if amount.quantity is None:
        return None
    middle = amount.quantity if amount.quantity_max is None else (amount.quantity + amount.quantity_max) / 2
    return middle * amount.count if amount.count is not None else middle


def amount_cups(amount: Amount, what: Stuff) -> Fraction | None:
    """US cups of an amount, by its unit or by the weight of a cup of it; None where neither tells."""
    measures, unit = unit_size(amount.unit, amount.system)
    size = figure(amount)
    if size is not None and measures == "volume":
        return size * unit
    weight = amount_grams(amount, what)
    return weight / what.cup_g if weight is not None and what.cup_g else None


def amount_grams(amount: Amount, what: Stuff) -> Fraction | None:
    """Grams of an amount, by weight, volume or piece; None where its unit and the pantry do not tell."""
    found = figure(amount)
    if found is None:
        return None
    measures, size = _sized(amount.unit, amount.system, *found.as_integer_ratio())
    if measures == "mass":
        return size
    if measures == "count":
        each = what.pieces.get(amount.unit)
        return None if each is None else size * each
    density = what.spoon_g if amount.unit in SPOONS else what.cup_g
    return size * density if density else None


@lru_cache(maxsize=4096)
def _sized(unit: str, system: str, top: int, bottom: int) -> tuple[str, Fraction]:
    """What so many of a unit measure, and their size: US cups, grams, or their count."""
    measures, size = unit_size(unit, system)
    return measures, size * Fraction(top, bottom)


def by_weight(amount: Amount) -> bool:
    """Whether the amount is written in a unit of weight.

    >>> by_weight(Amount(0, 5, "300 g", Fraction(300), unit="g"))
    True
    """
    return unit_size(amount.unit, amount.system)[0] == "mass"


def cups(ingredient: Ingredient) -> Fraction | None:
    """US cups of an ingredient, by the first of its amounts that tells; None where none does."""
    volume = None
    for amount in ingredient.amounts:
        volume = _volume(amount)
        if volume is not None:
            break
    if volume is not None and not _weighed_first(ingredient):
        return volume
    weight, cup_g = grams(ingredient), stuff(ingredient).cup_g
    return weight / cup_g if weight is not None and cup_g else volume


def grams(ingredient: Ingredient) -> Fraction | None:
    """Grams of an ingredient, by the first of its amounts that tells.

    Pieces weigh what the reading room says, which knows their size, else what the pantry says.
    """
    what = stuff(ingredient)
    for amount in ingredient.amounts:
        if ingredient.grams is not None and unit_size(amount.unit, amount.system)[0] == "count":
            return Fraction(ingredient.grams)
        weight = amount_grams(amount, what)
        if weight is not None:
            return weight
    return Fraction(ingredient.grams) if ingredient.grams is not None else None


def _volume(amount: Amount) -> Fraction | None:
    found = figure(amount)
    if found is None:
        return None
    measures, size = _sized(amount.unit, amount.system, *found.as_integer_ratio())
    return size if measures == "volume" else None


def _weighed_first(ingredient: Ingredient) -> bool:
    first = measured_first(ingredient)
    return first is not None and by_weight(first)


def measured_first(ingredient: Ingredient) -> Amount | None:
    """The first of its amounts that has a figure."""
    for amount in ingredient.amounts:
        if amount.quantity is not None:
            return amount
    return None


def total(sizes: Iterable[Fraction | None]) -> Fraction:
    """The exact sum; what is unknown counts for nothing.

    >>> total([Fraction(1, 2), None, Fraction(1, 4)])
    Fraction(3, 4)
    """
    found = ZERO
    for size in sizes:
        if size:
            found = found + size if found else size
    return found


def teaspoons(ingredient: Ingredient) -> Fraction | None:
    """Teaspoons of an ingredient; None where its amounts do not tell."""
    size = cups(ingredient)
    return None if size is None else size * 48


def spread(ingredient: Ingredient) -> tuple[Fraction, Fraction] | None:
    """The lowest and highest grams of an ingredient, where it is measured in cups; else its weight twice."""
    what, weight = stuff(ingredient), grams(ingredient)
    if weight is None:
        return None
    first = next((a for a in ingredient.amounts if amount_grams(a, what) is not None), None)
    if first is None or by_weight(first) or first.unit in SPOONS or not what.cup_g:
        return weight, weight
    return weight * what.cup_low / what.cup_g, weight * what.cup_high / what.cup_g
