"""What the corrections need to know of an ingredient, as exact fractions, from its row in the pantry.

>>> from fractions import Fraction
>>> from rewriter.model import Ingredient
>>> stuff(Ingredient(0, 5, "honey", "syrup", "batter", key="honey")).cup_g
Fraction(339, 1)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from rewriter import pantry
from rewriter.model import Ingredient

ZERO = Fraction(0)
# Grams of a US cup where the name is unknown and only the role is told: the usual row of that role in the pantry.
USUAL = {
    "flour": "all-purpose-flour",
    "starch": "cornstarch",
    "sugar": "granulated-sugar",
    "syrup": "honey",
    "liquid": "milk",
    "egg": "egg",
    "fat": "butter",
    "cocoa": "cocoa",
    "salt": "salt",
}


@dataclass(frozen=True, slots=True)
class Stuff:
    """Facts of one ingredient.

    cup_g, spoon_g: grams of a US cup of it, by the cup and by the spoon (0: unknown); cup_low, cup_high: the lightest
    and heaviest cup in honest use. water, sugar, fat: shares of its weight. acid: tsp of baking soda that the acid in
    a cup of it takes. lift: baking-powder equivalents of a tsp of a leavener; tsp of baking powder in a cup of
    self-rising flour. pour: plain, acid, alcohol, juice, cream, coffee, savoury or never, for a liquid. yeast: fresh,
    active-dry, instant or starter. pieces: grams of one piece, by its unit. wheat: holds wheat gluten.
    """

    key: str = ""
    cup_g: Fraction = ZERO
    spoon_g: Fraction = ZERO
    water: Fraction = ZERO
    sugar: Fraction = ZERO
    fat: Fraction = ZERO
    acid: Fraction = ZERO
    lift: Fraction = ZERO
    pour: str = "plain"
    yeast: str = ""
    substitute: str = ""
    salted: bool = False
    pieces: Mapping[str, Fraction] = field(default_factory=dict)
    wheat: bool = False
    cup_low: Fraction = ZERO
    cup_high: Fraction = ZERO


@lru_cache(maxsize=4096)
def _stuff(key: str | None, role: str) -> Stuff:
    row = _entry(key) or _entry(USUAL.get(role))
    if row is None:
        return Stuff()
    cup, spoon = _cup_g(row), _spoon_g(row)
    return Stuff(
        key=key or "",
        cup_g=cup or spoon,
        spoon_g=spoon or cup,
        water=_exact(row.water),
        sugar=_exact(row.sugar),
        fat=_exact(row.fat),
        acid=row.acid,
        lift=row.leaven,
        pour=row.pour or "plain",
        yeast=row.yeast_kind,
        substitute=row.substitute,
        salted=row.salted,
        pieces=_pieces(row),
        wheat=row.wheat,
        cup_low=_exact(row.cup_g_range[0]) if row.cup_g_range else cup or spoon,
        cup_high=_exact(row.cup_g_range[1]) if row.cup_g_range else cup or spoon,
    )


def stuff(ingredient: Ingredient) -> Stuff:
    """The facts of an ingredient; the usual ones of its role where the pantry does not know it."""
    return _stuff(ingredient.key, ingredient.role)


def _entry(key: str | None) -> pantry.Entry | None:
    if key is None:
        return None
    try:
        return pantry.entry(key)
    except KeyError:
        return None


def _exact(value: float) -> Fraction:
    return Fraction(str(value))


def _pieces(row: pantry.Entry) -> dict[str, Fraction]:
    """Grams of one piece by its unit: each, packet, can, cake ..."""
    found = {unit: _exact(size) for unit, size in row.sizes.items()}
    if row.piece_g is not None:
        found.setdefault("each", _exact(row.piece_g))
        found.setdefault("", found["each"])
    return found


def _cup_g(row: pantry.Entry) -> Fraction:
    return _exact(row.cup_g) if row.cup_g is not None else ZERO


def _spoon_g(row: pantry.Entry) -> Fraction:
    if row.tsp_g is not None:
        return _exact(row.tsp_g) * 48
    return _exact(row.tbsp_g) * 16 if row.tbsp_g is not None else ZERO
