"""Self-rising flour and boxed mixes cannot give up leavener alone: a worked substitution is offered beside them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch, is_mix
from rewriter.correcting.changing import measured, words
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import amount_cups
from rewriter.model import Amount, Edit, Ingredient, Note

ONE = Fraction(1)
SALT_TSP = Fraction(3, 8)  # the middle of 1/4 to 1/2 tsp a cup, common kitchen equivalent
SOURCE = "1 cup of self-rising flour carries about 1 1/2 tsp baking powder (common kitchen equivalent)"
MIX = "A boxed mix carries its own leavener: follow the high-altitude directions on the box; the mix was not changed."


@for_batch("self-rising")
def self_rising(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Offer plain flour, less baking powder, and salt where the original carries it."""
    found = batch.of("self-rising")
    if not found or not batch.policy.leavener:
        return
    factor = kitchen.factor("leavener", batch.kind)
    if factor >= 1:
        return
    for ingredient in found:
        if is_mix(ingredient):
            yield Note("kept", MIX, "", ingredient.start, ingredient.end)
            continue
        amount = next(iter(measured(ingredient)), None)
        size = amount_cups(amount, stuff(ingredient)) if amount else None
        if amount is not None and size is not None and ingredient.sure:
            yield from offer(ingredient, amount, size, factor, kitchen)


def offer(ingredient: Ingredient, amount: Amount, size: Fraction, factor: Fraction, kitchen: Kitchen) -> Iterator[Edit]:
    """Plain flour, the smaller powder and the salt in place of ``size`` cups of self-rising flour."""
    powder = size * stuff(ingredient).lift * factor
    why = f"its powder cannot be cut alone: plain flour with {words(powder)} tsp baking powder does what it would here"
    parts = [("plain flour", amount.quantity, amount.unit), ("baking powder", powder, "tsp")]
    if stuff(ingredient).salted:
        parts.append(("salt", size * SALT_TSP, "tsp"))
    for name, exact, unit in parts:
        yield Edit(
            "self-rising", amount.start, amount.end, "note", exact, why, f"{kitchen.source('leavener')}; {SOURCE}",
            exact_max=amount.quantity_max if name == "plain flour" else None, unit=unit, addition=name, target=amount,
            ingredient=ingredient, step="offer", group=ingredient.group,
        )  # fmt: skip
