"""Water of yeast doughs, by the weight of the flour: rich doughs want a little more, most lean ones nothing."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.adding import More, main_liquid, pour_more, water_in
from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent
from rewriter.correcting.chemistry import hydration as water_share
from rewriter.correcting.chemistry import is_starter
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.model import Note

ZERO = Fraction(0)
USUAL = Fraction(3, 5)  # liquid over flour in a rich dough (common practice, no source)
LOW, HIGH = Fraction(65, 100), Fraction(75, 100)
SLOWLY = "Flour is drier here, so if the dough is stiff, work in water a Tbsp at a time"


@for_batch("hydration")
def hydration(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Add a share of the flour's weight in liquid where the kind of dough asks for it."""
    share = kitchen.added("hydration")
    if batch.policy.liquid not in ("lean", "hydration") or not share:
        return
    if not batch.flour_g:
        yield from _by_liquid(batch, share, kitchen)
        return
    if "stiff-dough" in batch.facts:
        yield Note("watch", f"A stiff dough keeps its water. {SLOWLY}.")
        return
    if batch.policy.liquid == "lean":
        yield from _lean(batch, share, kitchen)
    else:
        yield from _add(batch, share, "an enriched dough", kitchen)


def _lean(batch: Batch, share: Fraction, kitchen: Kitchen) -> Iterator[Finding]:
    main = main_liquid(batch)
    if not batch.weighed or main is None:
        yield Note("watch", f"Lean doughs of ordinary softness need no more water. {SLOWLY}.")
        return
    wet = water_share(batch) or ZERO
    if wet < LOW:
        yield from _add(batch, share, f"a lean dough at {percent(wet)} hydration", kitchen)
    else:
        band = "65 to 75 %" if wet <= HIGH else "above 75 %"
        counted = ", starter counted" if any(is_starter(one) for one in batch.of("yeast")) else ""
        yield Note("kept", f"water stays: hydration is {round(wet * 100)} % ({band}{counted})")


def _by_liquid(batch: Batch, share: Fraction, kitchen: Kitchen) -> Iterator[Finding]:
    """A rich dough whose flour nobody measured: its liquid is about three fifths of the flour."""
    main = main_liquid(batch)
    if batch.policy.liquid != "hydration" or main is None or "stiff-dough" in batch.facts:
        return
    more = More(tbsp=share / USUAL * batch.liquid_cups * 16)
    by = f"{percent(abs(share))} of the weight of the flour, which nobody measured, so by the liquid"
    reason = f"flour is drier in thin air: {by}"
    yield from pour_more(batch, main, more, "hydration", reason, kitchen.source("hydration"))


def _add(batch: Batch, share: Fraction, what: str, kitchen: Kitchen) -> Iterator[Finding]:
    more = More(grams=share * batch.flour_g)
    less = "more" if share > 0 else "less"
    reason = f"flour is drier in thin air: {percent(abs(share))} of its weight {less} liquid in {what}"
    main = main_liquid(batch)
    if main is not None:
        yield from pour_more(batch, main, more, "hydration", reason, kitchen.source("hydration"))
    elif share > 0 and batch.policy.without == "insert":
        yield water_in(batch, more, "hydration", reason, kitchen.source("hydration"))
