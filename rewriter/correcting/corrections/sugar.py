"""Sugar: a little less, because water leaves faster, syrup thickens and the crumb sets late."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent, scaled
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import total
from rewriter.model import Note

ONE = Fraction(1)


@for_batch("sugar")
def sugar(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Scale every sugar of the batter, unless there is little of it."""
    if batch.policy.sugar == "never":
        return
    factor = kitchen.factor("sugar", batch.kind)
    found = [i for i in batch.of("sugar") if stuff(i).substitute != "sugar"]
    if factor == 1 or not found:
        return
    if batch.policy.sugar == "over" and little(batch):
        yield Note("kept", f"sugar stays: {batch.policy.sugar_tbsp} Tbsp a cup of flour or less is little")
        return
    share = abs(ONE - factor)
    less = "less" if factor < 1 else "more"
    reason = f"water leaves faster and sugar is left stronger: {percent(share)} {less} by {kitchen.guide.title}"
    for ingredient in found:
        yield from scaled(batch, ingredient, factor, "sugar", reason, kitchen.source("sugar"))


def little(batch: Batch) -> bool:
    """Whether the batter has at most the policy's Tbsp of sugar a cup of flour."""
    spoons = total(map(batch.cups, batch.of("sugar"))) * 16
    return bool(batch.flour_cups) and spoons <= batch.policy.sugar_tbsp * batch.flour_cups
