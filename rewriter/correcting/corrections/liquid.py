"""Liquid of a batter: more, because water boils away sooner in thin air.

The household figure is for a home-size recipe and goes with the batch; flour written in weights goes by its percent.
Guards: at most one third of the pourable liquid, and in stiff doughs and purée batters at most 1 Tbsp a cup of flour.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from rewriter.correcting.adding import WATER_CUP_G, More, main_liquid, pour_more, pourable, water_in
from rewriter.correcting.batch import Batch, is_mix
from rewriter.correcting.changing import words
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.correcting.weigh import total
from rewriter.model import Note

ONE, TBSP_OF_THIRD, TBSP_OF_GRAM = Fraction(1), Fraction(16, 3), 16 / WATER_CUP_G
TWOFOLD = 2


@for_batch("liquid")
def liquid(batch: Batch, kitchen: Kitchen) -> Iterator[Finding]:
    """Add to the main liquid, or insert water where nothing pours."""
    policy = batch.policy
    if policy.liquid not in ("batter", "dough") or boxed(batch):
        return
    main = main_liquid(batch)
    if policy.liquid == "dough" and batch.liquid_cups * 16 < batch.flour_cups:
        if kitchen.factor("sugar", batch.kind) != 1:
            yield Note("kept", "no liquid is added: as written it has less than 1 Tbsp a cup of flour")
        return
    free = asked_for(batch, kitchen)
    if not free.in_tbsp():
        return
    if main is None and policy.without != "insert":
        return
    more, guard = guarded(batch, free, main is None)
    reason = why(more, free, guard, kitchen)
    if main is not None:
        yield from pour_more(batch, main, more, "liquid", reason, kitchen.source(row(batch, kitchen)))
    elif more.in_tbsp() > 0:
        yield water_in(batch, more, "liquid", reason, kitchen.source(row(batch, kitchen)))
    yield from both_figures(batch, kitchen, bool(guard))


def boxed(batch: Batch) -> bool:
    """Whether a boxed mix makes the batter, so that the box has its own directions."""
    return not batch.of("flour") and any(map(is_mix, batch.of("self-rising")))


def row(batch: Batch, kitchen: Kitchen) -> str:
    """The guide's row that decides: by weight where the flour is weighed and the guide tells them apart."""
    return "liquid-by-weight" if kitchen.per("liquid") == "home" and batch.weighed else "liquid"


def asked_for(batch: Batch, kitchen: Kitchen) -> More:
    """What the guide alone would add."""
    if kitchen.per("liquid") == "ingredient":
        share = kitchen.factor("liquid", batch.kind) - ONE
        return More(tbsp=share * total(map(batch.cups, pourable(batch))) * 16)
    if batch.weighed:
        return More(grams=by_flour(batch, kitchen))
    return More(tbsp=by_home_size(batch, kitchen))


def by_home_size(batch: Batch, kitchen: Kitchen) -> Fraction:
    """Tbsp by the household figure; a batch whose flour is unknown is measured by its liquid, 1 cup a recipe."""
    return kitchen.added("liquid") * (batch.liquid_cups if batch.flour_unknown else batch.homes)


def by_flour(batch: Batch, kitchen: Kitchen) -> Fraction:
    """Grams by the percent of the flour."""
    return kitchen.added("liquid-by-weight") * batch.flour_g


def guarded(batch: Batch, free: More, dry: bool) -> tuple[More, str]:
    """The addition after the guards, and the guard that changed it ("" for none)."""
    caps = [(batch.flour_cups, "1 Tbsp a cup of flour in this batter")] if batch.stiff or dry else []
    if not dry:
        caps.append((batch.liquid_cups * TBSP_OF_THIRD, "one third of what pours"))
    caps = [cap for cap in caps if cap[0] or not batch.flour_unknown]
    wanted = free.in_tbsp()
    cap, guard = min(caps, default=(abs(wanted), ""))
    if abs(wanted) <= cap:
        return free, ""
    return More(tbsp=cap if wanted > 0 else -cap, free_tbsp=wanted), guard


def why(more: More, free: More, guard: str, kitchen: Kitchen) -> str:
    """The reason for the addition."""
    if free.in_tbsp() < 0:
        return f"less elevation than the recipe was written for: {words(-more.in_tbsp())} Tbsp less liquid"
    figure = f"{words(free.grams)} g" if free.grams is not None else f"{words(free.in_tbsp())} Tbsp"
    reason = f"water leaves sooner in thin air: {figure} more by {kitchen.guide.title}"
    return f"{reason}, held to {words(more.in_tbsp())} Tbsp ({guard})" if guard else reason


def both_figures(batch: Batch, kitchen: Kitchen, held: bool) -> Iterator[Note]:
    """Where household and percent figures differ more than twofold, all three figures and how to use them.

    held: whether a guard held the marked addition back.
    """
    if kitchen.per("liquid") != "home" or not batch.flour_g or not kitchen.up:
        return
    home = by_home_size(batch, kitchen)
    flour = by_flour(batch, kitchen) * TBSP_OF_GRAM
    if not flour or (home <= TWOFOLD * flour and flour <= TWOFOLD * home):
        return
    table = kitchen.by("formula")
    middle = (table.factor("liquid", batch.kind) - ONE) * batch.liquid_cups * 16
    rules = {"percent of the flour": flour, "professional cake table": middle, "home-size rule": home}
    marked = "percent of the flour" if batch.weighed else "home-size rule"
    told = sorted((tbsp, name) for name, tbsp in rules.items() if tbsp > 0)
    says = ", ".join(f"{name} {about(tbsp, batch.weighed)}" for tbsp, name in told)
    text = (
        f"The rules of liquid differ: {says}. Marked by the {marked}{', held back' if held else ''}; "
        "to be careful start with the smallest, and go to the middle one if it is dry."
    )
    yield Note("guide", text, table.source("liquid"))


def about(tbsp: Fraction, weighed: bool) -> str:
    """Roughly how much liquid, as it is measured in this recipe: Tbsp in halves (quarters below 2), or grams.

    >>> about(Fraction(342, 100), False), about(Fraction(89, 100), False), about(Fraction(20), True)
    ('3 1/2 Tbsp', '1 Tbsp', '295 g')
    """
    return _about(*tbsp.as_integer_ratio(), weighed)


@lru_cache(maxsize=2048)
def _about(top: int, bottom: int, weighed: bool) -> str:
    tbsp = Fraction(top, bottom)
    if weighed:
        grams = tbsp * WATER_CUP_G / 16
        step = 5 if grams >= 50 else 1
        return f"{round(grams / step) * step} g"
    parts = 4 if tbsp < 2 else 2
    whole, part = divmod(round(tbsp * parts) or 1, parts)
    return " ".join(str(one) for one in (whole, part and Fraction(part, parts)) if one) + " Tbsp"
