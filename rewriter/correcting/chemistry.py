"""The chemistry of a batter: what its acid takes of the soda, and the water and flour in what it is made of.

Acid figures stand in the pantry's rows: about 1/2 tsp of soda to a cup of buttermilk ('2 cups soured milk to 1 tsp
soda', old cookbooks); from memory 1/2 to 1 tsp to a cup of molasses, 1/4 tsp to a Tbsp of vinegar or lemon juice;
natural cocoa is acid, Dutch-process is not.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from rewriter.correcting.batch import FLOUR, Batch
from rewriter.correcting.lift import is_soda
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import grams, teaspoons, total
from rewriter.model import Ingredient

ZERO, HALF = Fraction(0), Fraction(1, 2)
SOUR_TSP = SOAPY_TSP = Fraction(1, 8)  # a cup of flour hides less than this a cup (common practice, no source)


@dataclass(frozen=True, slots=True)
class Soda:
    """Soda against acid, in tsp of soda. left: soda beyond what the acid takes; short: acid beyond what soda takes."""

    soda: Fraction
    taken: Fraction
    cups: Fraction

    @property
    def left(self) -> Fraction:
        """Tsp of soda left over, which tastes of soap."""
        return max(ZERO, self.soda - self.taken)

    @property
    def short(self) -> Fraction:
        """Tsp of soda that the acid left over would take: it tastes sour and sets sooner."""
        return max(ZERO, self.taken - self.soda)

    @property
    def says(self) -> str:
        """soapy, sour, or balanced where what is left over is hidden by the flour.

        >>> Soda(Fraction(1), Fraction(1, 2), Fraction(2)).says, Soda(Fraction(0), Fraction(0), Fraction(2)).says
        ('soapy', 'balanced')
        """
        size = self.cups or Fraction(1)
        if self.left > SOAPY_TSP * size:
            return "soapy"
        return "sour" if self.soda and self.short > SOUR_TSP * size else "balanced"


def soda_taken(batch: Batch) -> Fraction:
    """Teaspoons of baking soda that the acid in a batter neutralises."""
    acids = [(one, acid) for one in batch.members if one.key and (acid := stuff(one).acid)]
    return total(batch.cups(one) * acid for one, acid in acids)


def soda_side(batch: Batch) -> Soda:
    """Soda against acid in a batter."""
    soda = sum((teaspoons(one) or ZERO for one in batch.of("leavener") if is_soda(one)), ZERO)
    return Soda(soda, soda_taken(batch), batch.flour_cups)


def is_starter(ingredient: Ingredient) -> bool:
    """Whether it is a flour-and-water starter, counted as half of each (100 % hydration, common practice)."""
    return ingredient.role == "yeast" and stuff(ingredient).yeast == "starter"


def flour_g(ingredient: Ingredient) -> Fraction:
    """Grams of flour in an ingredient, the flour of a starter included."""
    if ingredient.role in FLOUR:
        return grams(ingredient) or ZERO
    return (grams(ingredient) or ZERO) * HALF if is_starter(ingredient) else ZERO


def water_g(ingredient: Ingredient) -> Fraction:
    """Grams of water an ingredient brings: that of milk, eggs, butter, honey and starters, not that in the flour."""
    if is_starter(ingredient):
        return (grams(ingredient) or ZERO) * HALF
    if ingredient.role in (*FLOUR, "other", "salt", "leavener", "cocoa"):
        return ZERO
    return (grams(ingredient) or ZERO) * stuff(ingredient).water


def sugar_g(ingredient: Ingredient) -> Fraction:
    """Grams of sugar that an ingredient is there for: sugars, honey, syrups and condensed milk."""
    if ingredient.role not in ("sugar", "syrup"):
        return ZERO
    return (grams(ingredient) or ZERO) * stuff(ingredient).sugar


def hydration(batch: Batch) -> Fraction | None:
    """Water over flour by weight; None without flour of known weight."""
    flour = sum((flour_g(one) for one in batch.members), ZERO)
    return sum((water_g(one) for one in batch.members), ZERO) / flour if flour else None
