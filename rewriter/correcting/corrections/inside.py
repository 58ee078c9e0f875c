"""Doneness inside a loaf or a cake: no hotter than water boils here, less 5 F. Safe minimum temperatures stand."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.changing import words
from rewriter.correcting.heating import ask, figures, kind_of, moved
from rewriter.correcting.policy import policy
from rewriter.correcting.registry import Case, Finding, for_recipe

BELOW_BOILING_F = Fraction(5)
SAFE_F = Fraction(165)  # USDA FSIS: the highest safe minimum (poultry, reheated food)
SOURCE = "boiling point by U.S. Standard Atmosphere 1976 and IAPWS-IF97; 5 F below it: common practice, no source"


@for_recipe("inside")
def inside(case: Case) -> Iterator[Finding]:
    """Lower a bread or cake target that cannot be reached where water boils cooler."""
    targets = [heat for heat in case.recipe.heats if heat.place == "food" and heat.purpose == "doneness"]
    if not targets:
        return
    boils = Fraction(round(case.kitchen.here.boiling_f * 10), 10)
    highest = max(boils - BELOW_BOILING_F, SAFE_F)
    for heat in targets:
        if heat.fahrenheit is None:
            continue
        if not policy(kind_of(case.recipe, heat)).inside:
            continue
        highest_asked = heat.maximum or heat.fahrenheit
        if highest_asked <= highest:
            continue
        if not heat.sure:
            yield ask(heat)
            continue
        why = f"water boils at {words(boils)} F here, so the crumb cannot get hotter: done at 5 F below that"
        top = None if heat.maximum is None else highest
        for target in figures(heat):
            yield moved(heat, target, min(heat.fahrenheit, highest), "doneness", why, SOURCE, top)
