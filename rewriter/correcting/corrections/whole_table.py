"""Flour, eggs and fat: changed at once only by the guides whose table says so, and only in the cakes it is made for."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent, scaled
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch

ONE = Fraction(1)
# The rows, the roles they move, and what the change does.
ROWS = {
    "flour": (("flour", "self-rising"), "more flour holds a weak crumb up"),
    "egg": (("egg",), "more egg sets the crumb and brings water"),
    "fat": (("fat",), "less fat leaves the crumb stronger"),
}


@for_batch("whole-table")
def whole_table(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Scale flour, eggs and fat by the guide's own rows."""
    for what, (roles, does) in ROWS.items():
        if not kitchen.guide.has(what, batch.kind):
            continue
        factor = kitchen.factor(what, batch.kind)
        more = "more" if factor > 1 else "less"
        reason = f"{does}: {percent(abs(factor - ONE))} {more} by {kitchen.guide.title}"
        for ingredient in batch.of(*roles):
            yield from scaled(batch, ingredient, factor, what, reason, kitchen.source(what))
