"""The answer to a paste: one card a recipe, each with its changes, its notes, its questions and how it was read.

Offsets count characters (code points) of ``source``. Nothing in it is markup: the page sets every word as text.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from rewriter.api import Result
from rewriter.model import Amount, Change, Heat, Ingredient, Part, Plan, Query, Recipe
from rewriter.writing.notes import Section, boiling, notes, place
from rewriter.writing.registry import Job
from rewriter.writing.rows import few, label

LISTS = ("opening", "early", "watch", "kept", "later", "cautions")


def answer(result: Result) -> dict[str, Any]:
    """Everything the page shows of a rewrite, as plain values."""
    cards = []
    asked = {query.id: query for query in result.review}
    for recipe, plan in zip(result.recipes, result.plans, strict=True):
        mine = [query for query in result.review if query.end and recipe.start <= query.start <= recipe.end]
        for query in mine:
            asked.pop(query.id, None)
        changes = [change for change in result.changes if recipe.start <= change.start <= recipe.end]
        cards.append(card(result, recipe, plan, changes, mine))
    return {
        "source": result.source,
        "text": result.text,
        "air": {
            "elevation_ft": float(result.air.elevation_ft),
            "elevation_m": result.air.elevation_m,
            "pressure_hpa": result.air.pressure_hpa,
            "boiling_f": result.air.boiling_f,
            "boiling_c": result.air.boiling_c,
            "place": place(result.air),
            "boiling": boiling(result.air),
            "origin": result.air.origin,
        },
        "cards": cards,
        "questions": [question(query) for query in asked.values()],
        "notes": list(result.notes),
    }


def card(
    result: Result, recipe: Recipe, plan: Plan, changes: Sequence[Change], asked: Sequence[Query]
) -> dict[str, Any]:
    """One recipe of a result: its changes by a plan, the notes, the questions and how it was read."""
    job = Job(result.source, [recipe], [plan], changes, asked, result.air, result.explain)
    told = next(iter(notes(job).sections), Section("", 0))
    return {
        "title": " ".join(recipe.title.split()),
        "kind": recipe.kind,
        "start": recipe.start,
        "end": recipe.end or len(result.source),
        "guide": plan.guide,
        "strength": plan.strength,
        "changes": [_change(one, recipe.heats) for one in changes if one.step != "next"],
        "notes": {name: list(getattr(told, name)) for name in LISTS},
        "questions": [question(query) for query in asked],
        "parts": [_part(part) for part in recipe.parts],
        "ingredients": [_ingredient(one) for one in recipe.ingredients],
        "heats": [_heat(heat) for heat in recipe.heats],
    }


def _change(one: Change, heats: Sequence[Heat]) -> dict[str, Any]:
    return {
        "start": one.start,
        "end": one.end,
        "old": one.old,
        "new": one.new,
        "direction": one.direction,
        "step": one.step,
        "addition": one.addition,
        "about": label(one, heats),
        "few": few(one),
        "why": one.why,
        "source": one.source,
        "rule": one.rule,
        "exact": figure(one.exact, one.unit),
        "exact_max": figure(one.exact_max, one.unit),
        "unguarded": figure(one.unguarded, one.unit),
        "sure": one.sure,
    }


def figure(exact: Any, unit: str) -> dict[str, str] | None:
    """An exact figure: the fraction, and in words as a person reads it.

    >>> from fractions import Fraction
    >>> figure(Fraction(9, 8), "tsp")
    {'exact': '9/8', 'unit': 'tsp', 'words': '1.125 tsp'}
    """
    if exact is None:
        return None
    shown = f"{float(exact):.5g}"
    named = "" if unit in ("", "each") else (f" °{unit}" if unit in ("F", "C") else f" {unit}")
    return {"exact": str(exact), "unit": unit, "words": shown + named}


def question(query: Query) -> dict[str, Any]:
    """A question as the page puts it."""
    return {
        "id": query.id,
        "start": query.start,
        "end": query.end,
        "text": query.text,
        "question": " ".join(query.question.split()),
        "choices": list(query.choices),
    }


def _part(part: Part) -> dict[str, Any]:
    return {"name": part.name, "kind": part.kind, "start": part.start, "why": part.why, "sure": part.sure}


def _ingredient(one: Ingredient) -> dict[str, Any]:
    return {
        "start": one.start,
        "end": one.end,
        "name": flat(one.name),
        "role": one.role,
        "part": one.part,
        "sure": one.sure,
        "amounts": [{"start": a.start, "end": a.end, "text": a.text, "read": read_as(a)} for a in one.amounts],
    }


def flat(name: str) -> str:
    r"""A name on one line, without what stood around it.

    >>> flat(") unsalted\n butter,")
    'unsalted butter'
    """
    return " ".join(name.split()).strip(" ()[],;:*-")


def read_as(amount: Amount) -> str:
    """How an amount was read, in words that can be given back as an answer; "" where it gives no figure.

    >>> from fractions import Fraction
    >>> read_as(Amount(0, 9, "2 1/4 cups", Fraction(9, 4), unit="cup"))
    '2 1/4 cup'
    """
    if amount.quantity is None:
        return ""
    whole, rest = divmod(amount.quantity, 1)
    shown = " ".join(str(part) for part in (whole, rest) if part) or "0"
    return f"{shown} {amount.unit if amount.unit != 'each' else ''}".strip()


def _heat(heat: Heat) -> dict[str, Any]:
    return {
        "start": heat.start,
        "end": heat.end,
        "text": heat.text,
        "fahrenheit": None if heat.fahrenheit is None else float(heat.fahrenheit),
        "place": heat.place,
        "purpose": heat.purpose,
    }
