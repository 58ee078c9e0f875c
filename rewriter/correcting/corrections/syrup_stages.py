"""Syrup and candy stages: lower by the drop in the boiling point of water."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.changing import words
from rewriter.correcting.heating import ask, figures, moved
from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Heat, Note

LOWEST_F, CARAMEL_F = Fraction(215), Fraction(320)
JELLY_F = Fraction(220)  # 8 F above the boiling point at sea level, extension practice
SOURCE = "Colorado State University Extension: lower the stage by the drop in the boiling point, about 2 F per 1,000 ft"
CAUTION = "Hot syrup clings and burns: keep children away from it and have cold water at hand."
SOURCE_BOIL = "U.S. Standard Atmosphere 1976 and IAPWS-IF97"
# Syrup heats that are no stage of concentration and never move.
NEVER = frozenset(("caramel", "cool", "hold", "keep-warm", "melt", "meringue", "proof", "scald", "temper", "yogurt"))


@for_recipe("syrup-stages")
def syrup_stages(case: Case) -> Iterator[Finding]:
    """Lower every stage between 215 and 320 F; caramel colour above that never moves."""
    hot = [h for h in case.recipe.heats if h.place == "syrup"]
    if hot or any(fact.kind == "hot-syrup" for fact in case.recipe.facts):
        yield Note("caution", CAUTION)
    if not hot:
        return
    drop = boiling_drop(case)
    if drop and any(moves(heat) for heat in hot):
        boils = f"{case.kitchen.here.boiling_f:.0f} F ({case.kitchen.here.boiling_c:.0f} C)"
        yield Note("start", f"Test the thermometer in boiling water first: here it should read {boils}.", SOURCE_BOIL)
    for heat in hot:
        if heat.fahrenheit is None or not moves(heat) or not drop:
            continue
        if not heat.sure:
            yield ask(heat)
            continue
        why = reason(heat.fahrenheit, drop)
        top = None if heat.maximum is None else heat.maximum - drop
        for target in figures(heat):
            yield moved(heat, target, heat.fahrenheit - drop, "syrup", why, f"{SOURCE}; {SOURCE_BOIL}", top)


def moves(heat: Heat) -> bool:
    """Whether a heat of syrup is a stage of concentration, which moves with the boiling point."""
    return heat.fahrenheit is not None and LOWEST_F <= heat.fahrenheit <= CARAMEL_F and heat.purpose not in NEVER


def reason(fahrenheit: Fraction, drop: Fraction) -> str:
    """Why a stage moves.

    >>> reason(Fraction(220), Fraction(12))[:60]
    'water boils 12 F lower here, and the syrup is as thick at th'
    """
    lower, less = ("lower", "less") if drop > 0 else ("higher", "more")
    why = f"water boils {words(abs(drop))} F {lower} here, and the syrup is as thick at that much {less}"
    return f"{why}; jelly sheets 8 F above the boiling point" if abs(fahrenheit - JELLY_F) <= 1 else why


def boiling_drop(case: Case) -> Fraction:
    """Degrees F by which water boils lower here than where the recipe was written, to a tenth."""
    return Fraction(round((case.kitchen.there.boiling_f - case.kitchen.here.boiling_f) * 10), 10)
