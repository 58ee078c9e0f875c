"""Recipes that must stand as they are: canning, amounts made for an altitude, machines, and kitchens too low."""

from __future__ import annotations

from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding
from rewriter.model import Fact, Note, Query, Recipe

CANNING = (
    "This card puts food up in jars, so nothing on it was changed. Time and pressure must come from a tested table for "
    "your elevation: see the USDA Complete Guide to Home Canning, and ask your local extension service."
)
MACHINE = "A bread machine times its own rise: nothing was changed. Its booklet has a page for altitude."
OTHER_MACHINE = (
    "Made in the {machine}, and these rules are for an oven: nothing was changed. Go by the machine's own booklet."
)
LOW = "Below 3,000 ft bake it as written; if it rises high and falls, take a little of the leavener."
USDA = "USDA Complete Guide to Home Canning"


def standing(recipe: Recipe, here: Kitchen, told: bool = False) -> list[Finding] | None:
    """Why the whole recipe stays as it is, or None where it may be corrected.

    told: the person has said what elevation it was written for.
    """
    facts = {fact.kind: fact for fact in reversed(recipe.facts)}
    if "canning" in facts:
        return [_at(facts["canning"], "caution", CANNING, USDA)]
    if "altitude-version" in facts and not told and here.there.elevation_ft < here.guide.start_ft:
        return _adjusted(recipe, facts["altitude-version"])
    if "machine" in facts:
        machine = facts["machine"]
        words = MACHINE if machine.value == "bread machine" else OTHER_MACHINE.format(machine=machine.value)
        return [_at(machine, "kept", words)]
    return [Note("start", LOW)] if here.low else None


def _adjusted(recipe: Recipe, fact: Fact) -> list[Finding]:
    said = f" It seems to be for {fact.value}." if fact.value else ""
    text = f"These amounts were already made for an altitude, so nothing was changed.{said}"
    question = "For what elevation were these amounts written? Only the difference to your kitchen is corrected then."
    choices = tuple(dict.fromkeys(filter(None, (fact.value, "sea level"))))
    return [
        _at(fact, "kept", text),
        Query(f"written-for@{recipe.start}", fact.start, fact.end, fact.text, question, choices),
    ]


def _at(fact: Fact, kind: str, text: str, source: str = "") -> Note:
    return Note(kind, text, source, fact.start, fact.end)
