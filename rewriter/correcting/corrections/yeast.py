"""Yeast: a quarter less, because doughs rise faster in thin air. Starters and long cool rises are left alone."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent, scaled
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import grams, teaspoons
from rewriter.model import Ingredient, Note

ZERO, ONE, QUARTER_TSP = Fraction(0), Fraction(1), Fraction(1, 4)
SLOW_SHARE = Fraction(
    1, 100
)  # dry yeast over flour, up to which a rise takes over 8 hours (common practice, no source)
FRESH = 3  # fresh yeast weighs three times the dry yeast that does as much
RISE = "With the smaller yeast the printed rise is about right; with all of it, about one fifth shorter."


@for_batch("yeast")
def yeast(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Scale yeast of every kind but starters."""
    found = batch.of("yeast")
    if not batch.policy.yeast or not found:
        return
    factor = kitchen.factor("yeast", batch.kind)
    if factor == 1:
        return
    if any(stuff(i).yeast == "starter" for i in found):
        yield Note("watch", "A starter is not cut; the dough only rises sooner here.")
    living = [i for i in found if stuff(i).yeast != "starter"]
    if not living:
        return
    if little(living) or ("long-rise" in batch.facts and slow(batch, living)):
        yield Note("kept", "yeast stays: in a long slow rise doubled bulk tells, not the clock")
        return
    share, less = abs(ONE - factor), "less" if factor < 1 else "more"
    reason = f"dough rises faster in thin air: {percent(share)} {less} yeast"
    for ingredient in living:
        yield from scaled(batch, ingredient, factor, "yeast", reason, kitchen.source("yeast"))
    if factor < 1:
        yield Note("watch", RISE)


def slow(batch: Batch, found: list[Ingredient]) -> bool:
    """Whether the yeast is as little as a long rise in the warm wants: with more, the long rise is a cold one."""
    dry = sum(((grams(i) or ZERO) / (FRESH if stuff(i).yeast == "fresh" else 1) for i in found), ZERO)
    return not batch.flour_g or dry <= SLOW_SHARE * batch.flour_g


def little(found: list[Ingredient]) -> bool:
    """Whether there is so little yeast (1/4 tsp in all) that the dough must rise for many hours anyway."""
    spoons = [teaspoons(i) for i in found]
    return all(s is not None for s in spoons) and sum(s for s in spoons if s is not None) <= QUARTER_TSP
