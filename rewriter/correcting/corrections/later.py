"""Held back as 'next, if it falls': a little more flour, and in a cake one egg more, both to the batch's size."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import changed, doubt, measured, words
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import grams, unit_size
from rewriter.model import Amount, Edit, Ingredient, Note

ZERO = Fraction(0)
EGG_G = Fraction(50)  # a large egg without its shell (USDA FoodData Central, from memory)

PARTED = "if it falls again, one egg more, white and yolk, in place of 3 Tbsp of the extra liquid"


@for_batch("later")
def later(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Flour and egg of the practice guide, as steps to take after a bake that fell."""
    if not kitchen.up or kitchen.low or batch.flour_unknown or not batch.dry_cups:
        return
    if not batch.lifted and batch.kind != "foam-cake" and not batch.of("egg"):
        return  # what nothing lifts does not fall
    flour = main_flour(batch)
    if batch.policy.flour_next and flour is not None and not kitchen.guide.has("flour", batch.kind):
        yield from more_flour(flour, kitchen.added("flour-next") * batch.homes, kitchen)
    if batch.policy.egg_next and parted(batch):
        yield Note("next", PARTED, kitchen.source("egg-next"))
        return
    eggs = max(batch.of("egg"), key=lambda i: grams(i) or ZERO, default=None) if batch.policy.egg_next else None
    if eggs is not None and not kitchen.guide.has("egg", batch.kind):
        yield from more_egg(eggs, kitchen.added("egg-next") * batch.homes, kitchen)


def main_flour(batch: Batch) -> Ingredient | None:
    """The largest of its flours; wheat holds a crumb up, oats, corn and nuts beside it do not."""
    flours = batch.of("flour")
    if len(flours) > 1:
        return max(flours, key=lambda i: (stuff(i).wheat, grams(i) or ZERO))
    return flours[0] if flours else None


def parted(batch: Batch) -> bool:
    """Whether yolks are told apart from whites, so that one egg more is not one yolk more."""
    return any(one.key == "egg-yolk" for one in batch.of("egg"))


def more_flour(flour: Ingredient, tbsp: Fraction, kitchen: Kitchen) -> Iterator[Edit]:
    """``tbsp`` more of the batter's main flour."""
    reason = f"if it still falls, next time {words(tbsp)} Tbsp more flour, as the only change"
    if tbsp <= 0 or doubt(flour) is not None:
        return
    for amount in measured(flour):
        step = in_unit(tbsp, amount, flour)
        if step is not None:
            yield _next(flour, amount, step, "flour", reason, kitchen.source("flour-next"))


def more_egg(eggs: Ingredient, count: Fraction, kitchen: Kitchen) -> Iterator[Edit]:
    """``count`` more eggs (a part of one is beaten and measured); it takes the place of 3 Tbsp of the extra liquid."""
    reason = f"if it falls again, next time {words(count)} egg more, in place of 3 Tbsp of the extra liquid for each"
    if count <= 0 or doubt(eggs) is not None:
        return
    for amount in measured(eggs):
        measures, size = unit_size(amount.unit, amount.system)
        each = stuff(eggs).pieces.get("each", EGG_G) / size if measures == "mass" else Fraction(1)
        if measures == "mass" or amount.unit in ("each", ""):
            yield _next(eggs, amount, count * each, "egg", reason, kitchen.source("egg-next"))


def in_unit(tbsp: Fraction, amount: Amount, what: Ingredient) -> Fraction | None:
    """Tbsp of an ingredient in the unit of one of its measures; None where that is a count."""
    measures, size = unit_size(amount.unit, amount.system)
    if measures == "volume":
        return tbsp / 16 / size
    return tbsp / 16 * stuff(what).cup_g / size if measures == "mass" else None


def _next(ingredient: Ingredient, amount: Amount, step: Fraction, rule: str, why: str, source: str) -> Edit:
    return changed(ingredient, amount, "up", lambda q: q + step, rule, why, source, step="next")
