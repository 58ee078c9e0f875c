"""Deep fat: 2 F cooler for each 1,000 ft, so that the outside does not brown before the inside is done."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.changing import words
from rewriter.correcting.heating import ask, figures, moved
from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Note

PER_FOOT, LOWEST_F = Fraction(2, 1000), Fraction(340)
SOURCE = "Public Service Company of Colorado bulletin, about 1965, as reprinted: 2 to 3 F per 1,000 ft"
CAUTION = "Hot fat: never leave it, keep water away from it and a lid at hand, and go by the thermometer."


@for_recipe("deep-fat")
def deep_fat(case: Case) -> Iterator[Finding]:
    """Lower the heat of frying fat, never below 340 F."""
    kitchen = case.kitchen
    hot = [h for h in case.recipe.heats if h.place == "oil"]
    if hot or any(fact.kind == "deep-fat" for fact in case.recipe.facts):
        yield Note("caution", CAUTION)
    if not hot:
        return
    drop = PER_FOOT * (kitchen.here.elevation_ft - kitchen.there.elevation_ft)
    for heat in hot:
        if heat.fahrenheit is None or heat.fahrenheit <= LOWEST_F:
            continue
        if not heat.sure:
            yield ask(heat)
            continue
        free = heat.fahrenheit - drop
        new = max(LOWEST_F, free)
        held = "" if new == free else f", held at 340 F (the rule alone would say {words(free)} F)"
        why = (
            f"fat {words(abs(drop))} F {'cooler' if drop > 0 else 'hotter'}: the inside takes longer in thin air{held}"
        )
        top = None if heat.maximum is None else max(LOWEST_F, heat.maximum - drop)
        for target in figures(heat):
            yield moved(heat, target, new, "frying", why, SOURCE, top, None if new == free else free)
