"""One row of the pantry: an ingredient, its role in a bake, what a cup of it weighs and what it is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import Any

_NO_SIZES: Mapping[str, float] = MappingProxyType({})
_TUPLES = ("names", "plurals", "cup_g_range")
_FRACTIONS = ("acid", "leaven")


@dataclass(frozen=True, slots=True)
class Entry:
    """An ingredient as the pantry knows it.

    key: its row; aisle: the table it stands in. names: singular forms, lower case, the first one the usual.
    plurals: plural forms that the rule of :mod:`rewriter.pantry.plural` does not give.
    role: its role in a batter or dough; role_outside: its role anywhere else (the same for nearly all).
    cup_g: grams in a US cup (236.588 mL), cup_g_range: the lowest and highest in honest use.
    tbsp_g, tsp_g: grams in a US spoon where that is known better than a cup.
    piece_g: grams of one piece; sizes: grams of one small, large, packet, can, stick, slice, square ...
    water, sugar, fat: shares of its weight, 0 to 1.
    acid: teaspoons of baking soda that one cup of it neutralises; acidic: whether it counts as acid at all.
    leaven: for a leavener, baking-powder equivalents of one teaspoon (soda 4, powder 1);
        for a self-rising flour or mix, teaspoons of baking powder inside one cup.
    leavener_with_soda: counts as a leavener only beside baking soda (cream of tartar).
    yeast_kind: fresh, active-dry, instant or starter; "" for what is not yeast.
    substitute: what it stands in for (egg, flour, sugar, butter, milk), "" for the thing itself.
    wheat: holds wheat gluten. salted: carries salt inside (American self-rising flour does, British does not).
    pour: for a liquid, what more of it would bring: plain (nothing), acid, alcohol, juice, cream, coffee, savoury;
        never: citrus juice, spirits and flavourings, which are never the main liquid.
    source: where the weights come from.
    """

    key: str
    names: tuple[str, ...]
    role: str
    aisle: str = ""
    plurals: tuple[str, ...] = ()
    countable: bool = False
    role_outside: str = ""
    cup_g: float | None = None
    cup_g_range: tuple[float, float] | None = None
    tbsp_g: float | None = None
    tsp_g: float | None = None
    piece_g: float | None = None
    sizes: Mapping[str, float] = field(default_factory=lambda: _NO_SIZES)
    water: float = 0.0
    sugar: float = 0.0
    fat: float = 0.0
    acid: Fraction = Fraction(0)
    acidic: bool = False
    leaven: Fraction = Fraction(0)
    leavener_with_soda: bool = False
    yeast_kind: str = ""
    substitute: str = ""
    wheat: bool = False
    salted: bool = False
    pour: str = ""
    source: str = ""

    @property
    def name(self) -> str:
        """The usual name, singular."""
        return self.names[0]

    def role_in(self, part: str) -> str:
        """The role this ingredient plays in a part of a recipe.

        >>> cheese = Entry("cream-cheese", ("cream cheese",), "fat", role_outside="other")
        >>> cheese.role_in("batter"), cheese.role_in("frosting")
        ('fat', 'other')
        """
        return self.role if part == "batter" or not self.role_outside else self.role_outside


def from_row(key: str, row: Mapping[str, Any]) -> Entry:
    """Make an entry from a row of plain values, as TOML or JSON gives them.

    A row with a field the pantry does not know raises TypeError: a misspelt field must not pass in silence.

    >>> from_row("water", {"names": ["water"], "role": "liquid", "water": 1}).name
    'water'
    """
    values: dict[str, Any] = dict(row)
    for name in _TUPLES:
        if name in values:
            values[name] = tuple(values[name])
    for name in _FRACTIONS:
        if name in values:
            values[name] = Fraction(values[name])
    if "sizes" in values:
        values["sizes"] = MappingProxyType(values["sizes"])
    return Entry(key=key, **values)
