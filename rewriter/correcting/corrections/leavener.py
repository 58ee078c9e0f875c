"""Chemical leaveners: less, because gas swells more in thin air.

Two guards stand beside the guide. A batter keeps a least lift for each cup of flour (policies.toml), though one
eighth is always taken. Soda that neutralises an acid keeps half of what the acid takes; the rest of the cut then
comes from the baking powder.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from rewriter.correcting.acid import soda_taken
from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent, scaled
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import cups, teaspoons
from rewriter.model import Ingredient

ZERO, ONE = Fraction(0), Fraction(1)
LEAST, MOST = Fraction(1, 8), Fraction(3, 4)
SODA = frozenset(("baking-soda", "pearlash"))
WITH_SODA = frozenset(("cream-of-tartar",))


@dataclass(frozen=True, slots=True)
class Lift:
    """The lift of a batter in baking-powder equivalents (tsp): soda, everything else that may change, what is fixed."""

    soda: Fraction
    powder: Fraction
    fixed: Fraction

    @property
    def total(self) -> Fraction:
        """All of it."""
        return self.soda + self.powder + self.fixed


@for_batch("leavener")
def leavener(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Scale soda, powder and the cream of tartar that goes with soda."""
    if not batch.policy.leavener:
        return
    factor = kitchen.factor("leavener", batch.kind)
    found = list(batch.of("leavener"))
    if factor == 1 or not found:
        return
    cut = ONE - factor
    soda_cut, powder_cut = guarded(batch, lift_of(batch), cut, kitchen.adjusted) if cut > 0 else (cut, cut)
    for ingredient in found:
        own = soda_cut if is_soda(ingredient) or _goes_with_soda(ingredient) else powder_cut
        yield from scaled(
            batch, ingredient, ONE - own, "leavener", why(cut, own, kitchen), kitchen.source("leavener"),
            ONE if own == cut else factor,
        )  # fmt: skip


def is_soda(ingredient: Ingredient) -> bool:
    """Whether it is baking soda, by its pantry row."""
    return ingredient.key in SODA


def _goes_with_soda(ingredient: Ingredient) -> bool:
    return ingredient.key in WITH_SODA


def lift_of(batch: Batch) -> Lift:
    """The lift of a batter, tsp of baking-powder equivalents."""
    soda = powder = ZERO
    for ingredient in batch.of("leavener"):
        spoons = (teaspoons(ingredient) or ZERO) * stuff(ingredient).lift
        if is_soda(ingredient):
            soda += spoons
        else:
            powder += spoons
    fixed = sum(((cups(i) or ZERO) * stuff(i).lift for i in batch.of("self-rising")), ZERO)
    return Lift(soda, powder, fixed)


def floor_tsp(batch: Batch) -> Fraction:
    """The least lift a cup of flour keeps, in baking-powder equivalents (tsp): more in biscuits and scones."""
    policy = batch.policy
    dough = policy.floor_dough_tsp and {"rolled-dough", "dropped-dough"} & batch.facts
    return policy.floor_dough_tsp if dough else policy.floor_tsp


def guarded(batch: Batch, lift: Lift, cut: Fraction, adjusted: bool) -> tuple[Fraction, Fraction]:
    """The shares to take from the soda and from the powder, after both guards.

    adjusted: the recipe was written for an elevation where leavener was taken already; then nothing must be.
    """
    least = ZERO if adjusted else min(cut, LEAST)
    overall = cut
    if lift.total and batch.flour_cups:
        overall = max(least, min(cut, ONE - floor_tsp(batch) * batch.flour_cups / lift.total))
    held = soda_taken(batch) / 2 * 4
    if not lift.soda or lift.soda * (ONE - overall) >= held:
        return overall, overall
    soda_cut = max(least, min(overall, ONE - held / lift.soda))
    if not lift.powder:
        return soda_cut, overall
    rest = (overall * (lift.soda + lift.powder) - soda_cut * lift.soda) / lift.powder
    return soda_cut, max(overall, min(rest, MOST))


def why(cut: Fraction, own: Fraction, kitchen: Kitchen) -> str:
    """The reason for one leavener."""
    if cut < 0:
        return f"less elevation than the recipe was written for: {percent(-cut)} more leavener ({kitchen.guide.title})"
    by_guide = f"{percent(cut)} less leavener by {kitchen.guide.title}"
    if own == cut:
        return f"gas swells more in thin air: {by_guide}"
    if own < cut:
        keep = f"the batter keeps its least lift (or the soda its acid): {percent(own)} less here"
        return f"{keep}; the guide alone would take {percent(cut)}"
    gives = f"the powder gives what the soda, needed by the acid, cannot: {percent(own)} less here"
    return f"{gives}; the guide alone would take {percent(cut)}"
