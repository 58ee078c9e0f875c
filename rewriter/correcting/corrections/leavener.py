"""Chemical leaveners: less, because gas swells more in thin air.

Two guards stand beside the guide. A batter keeps a least lift for each cup of flour (policies.toml), though one
eighth is always taken. Soda that neutralises an acid keeps half of what the acid takes; the rest of the cut then
comes from the baking powder.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent, scaled
from rewriter.correcting.chemistry import soda_taken
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.lift import is_soda
from rewriter.correcting.registry import Finding, for_batch

ZERO, ONE = Fraction(0), Fraction(1)
LEAST, MOST = Fraction(1, 8), Fraction(3, 4)
SODA_LIFT = 4  # 1/4 tsp of soda lifts like 1 tsp of powder
HELD = Fraction(SODA_LIFT, 2)
WITH_SODA = frozenset(("cream-of-tartar",))


@for_batch("leavener")
def leavener(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Scale soda, powder and the cream of tartar that goes with soda."""
    if not batch.policy.leavener:
        return
    factor = kitchen.factor("leavener", batch.kind)
    found = batch.of("leavener")
    if factor == 1 or not found:
        return
    cut = ONE - factor
    overall = floored(batch, cut, kitchen.adjusted)
    soda_cut, powder_cut = shared(batch, overall, kitchen.adjusted)
    for ingredient in found:
        own = soda_cut if is_soda(ingredient) or ingredient.key in WITH_SODA else powder_cut
        yield from scaled(
            batch, ingredient, ONE - own, "leavener", why(cut, overall, own, kitchen), kitchen.source("leavener"),
            ONE if own == cut else factor,
        )  # fmt: skip


def floored(batch: Batch, cut: Fraction, adjusted: bool) -> Fraction:
    """The share to take overall, so that a least lift stays for each cup of flour.

    adjusted: the recipe was written for an elevation where leavener was taken already; then nothing must be.
    """
    if cut <= 0 or batch.most_cut is None:
        return cut
    return max(_least(cut, adjusted), min(cut, batch.most_cut))


def shared(batch: Batch, overall: Fraction, adjusted: bool) -> tuple[Fraction, Fraction]:
    """The shares to take from the soda and from the powder: soda keeps half of what the acid takes."""
    lift = batch.lift
    if overall <= 0 or not lift.soda:
        return overall, overall
    held = soda_taken(batch) * HELD
    if lift.soda * (ONE - overall) >= held:
        return overall, overall
    soda_cut = max(min(overall, _least(overall, adjusted)), min(overall, ONE - held / lift.soda))
    if not lift.powder:
        return soda_cut, overall
    rest = (overall * (lift.soda + lift.powder) - soda_cut * lift.soda) / lift.powder
    return soda_cut, max(overall, min(rest, MOST))


def _least(cut: Fraction, adjusted: bool) -> Fraction:
    return ZERO if adjusted else min(cut, LEAST)


def why(cut: Fraction, overall: Fraction, own: Fraction, kitchen: Kitchen) -> str:
    """The reason for one leavener, with the guide's own figure where a guard changed it."""
    if cut < 0:
        return f"less elevation than the recipe was written for: {percent(-cut)} more leavener ({kitchen.guide.title})"
    if own == cut:
        return f"gas swells more in thin air: {percent(cut)} less leavener by {kitchen.guide.title}"
    if own < overall:
        reason = "soda that the acid needs stays"
    elif own > max(cut, overall):
        reason = "the powder gives what the soda, needed by the acid, cannot"
    else:
        reason = "the batter keeps its least lift for its flour"
    return f"{reason}: {percent(own)} less here; the guide alone would take {percent(cut)}"
