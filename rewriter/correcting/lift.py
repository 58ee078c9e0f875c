"""What lifts a batter: its soda, its powder, and what is fixed inside a self-rising flour.

>>> is_soda(Ingredient(0, 4, "soda", "leavener", "batter", key="baking-soda"))
True
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from rewriter.model import Ingredient

SODA = frozenset(("baking-soda", "pearlash"))


@dataclass(frozen=True, slots=True)
class Lift:
    """The lift of a batter in baking-powder equivalents (tsp): soda, everything else that may change, all of it."""

    soda: Fraction
    powder: Fraction
    total: Fraction


def is_soda(ingredient: Ingredient) -> bool:
    """Whether it is baking soda, by its pantry row."""
    return ingredient.key in SODA
