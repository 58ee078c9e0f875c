"""The oven: hotter for cakes, quick breads and cookies, so that the crumb sets before it overexpands."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.changing import words
from rewriter.correcting.heating import ask, figures, kind_of, moved
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.policy import policy
from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Edit, Heat, Note, Recipe

LOWEST_F, HIGHEST_F = Fraction(300), Fraction(475)
DEEP_PAN_F = Fraction(15)
DEEP_PANS = {"loaf-pan": "a loaf pan", "tube-pan": "a tube pan"}


@for_recipe("oven")
def oven(case: Case) -> Iterator[Finding]:
    """Raise every baking and preheating figure of the kinds that want it, all twins of a setting together."""
    kitchen = case.kitchen
    rise = kitchen.added("oven")
    if rise == 0:
        return
    pan = next((DEEP_PANS[f.kind] for f in case.recipe.facts if f.kind in DEEP_PANS), "")
    guarded = max(min(rise, DEEP_PAN_F), -DEEP_PAN_F) if pan else rise
    raised = False
    for heat in case.recipe.heats:
        if not bakes(case.recipe, heat) or heat.fahrenheit is None or heat.fahrenheit < LOWEST_F:
            continue
        if not heat.sure:
            yield ask(heat)
            continue
        edits = list(_edits(heat, rise, guarded, pan, kitchen))
        raised = raised or bool(edits)
        yield from edits
    if raised and rise > 0:
        yield from early(case.recipe, kitchen)


def bakes(recipe: Recipe, heat: Heat) -> bool:
    """Whether this is the oven that bakes (or is heated for) a bake whose policy lets the oven rise."""
    return heat.place == "oven" and heat.purpose in ("bake", "preheat") and policy(kind_of(recipe, heat)).oven


def _edits(heat: Heat, rise: Fraction, guarded: Fraction, pan: str, kitchen: Kitchen) -> Iterator[Edit]:
    assert heat.fahrenheit is not None
    new, free = _capped(heat.fahrenheit, guarded), heat.fahrenheit + rise
    if new == heat.fahrenheit:
        return
    top = None if heat.maximum is None else max(new, _capped(heat.maximum, guarded))
    warmer = "hotter" if rise > 0 else "cooler"
    why = f"a hotter oven sets the crumb before it overexpands: {words(abs(new - heat.fahrenheit))} F {warmer}"
    if new != free:
        why += f" in {pan}" if pan and guarded != rise else ", and no higher than 475 F"
        why += f"; the guide alone would say {words(abs(rise))} F"
    for target in figures(heat):
        yield moved(heat, target, new, "oven", why, kitchen.source("oven"), top, None if new == free else free)


def _capped(fahrenheit: Fraction, rise: Fraction) -> Fraction:
    return max(fahrenheit, min(fahrenheit + rise, HIGHEST_F)) if rise > 0 else fahrenheit + rise


def early(recipe: Recipe, kitchen: Kitchen) -> Iterator[Note]:
    """When to look first: at four fifths of each baking time, but for the few minutes more some bakes are given.

    The summary over a list ("Bake: 12 min") says what the method says again.
    """
    baking = [time for time in recipe.times if time.of == "bake"]
    listed = min((one.start for one in recipe.ingredients if one.listed), default=0)
    baking = [time for time in baking if time.start > listed] or baking
    longest = max((time.minutes for time in baking), default=Fraction(0)) / 4
    for time in baking:
        if time.minutes > longest:
            first = 4 * time.minutes.numerator // (5 * time.minutes.denominator)
            yield Note(
                "early", f"{time.text}: look after {first} min (four fifths), the oven is hotter",
                kitchen.source("oven"), time.start, time.end,
            )  # fmt: skip
