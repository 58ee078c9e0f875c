"""The acid side of a batter: how much soda its acid takes. Sources: reference values of the pantry's rows."""

from __future__ import annotations

from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import cups

ZERO = Fraction(0)


def soda_taken(batch: Batch) -> Fraction:
    """Teaspoons of baking soda that the acid in a batter neutralises."""
    total = ZERO
    for ingredient in batch.members:
        acid = stuff(ingredient).acid
        if acid and ingredient.key:
            total += (cups(ingredient) or ZERO) * acid
    return total
