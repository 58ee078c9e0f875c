"""The formula before and after, by role, in baker's percent: what the bars of the page show."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rewriter.api import Result
from rewriter.correcting.formula import Formula, formulas
from rewriter.model import Plan, Recipe
from rewriter.web.cards import flat

ROLES = ("liquid", "thick-liquid", "sugar", "syrup", "fat", "egg", "cocoa", "yeast", "leavener", "salt")
MEANING = "Percent of the weight of all flour and starch in the batter or dough."


def formula(result: Result) -> dict[str, Any]:
    """For each batter or dough: every role's share of the flour's weight, before and after."""
    pairs = zip(result.recipes, result.plans, strict=True)
    return {"meaning": MEANING, "cards": [_card(recipe, plan) for recipe, plan in pairs]}


def _card(recipe: Recipe, plan: Plan) -> dict[str, Any]:
    now = {made.group: made for made in formulas(recipe, plan)}
    batters = [_batter(made, now.get(made.group, made)) for made in formulas(recipe) if made.flour]
    return {"start": recipe.start, "batters": batters}


def _batter(before: Formula, after: Formula) -> dict[str, Any]:
    shares = _shares(before), _shares(after)
    return {
        "kind": before.kind,
        "flour_g": [_round(before.flour), _round(after.flour)],
        "hydration": [_round(before.hydration), _round(after.hydration)],
        "rows": [
            {
                "role": role,
                "names": list(dict.fromkeys(flat(row.name) for row in after.rows if row.role == role)),
                "percent": [_round(share.get(role, Fraction(0))) for share in shares],
            }
            for role in ROLES
            if any(share.get(role) for share in shares)
        ],
        "unweighed": list(before.unweighed),
    }


def _shares(made: Formula) -> dict[str, Fraction]:
    """Percent of the flour by role; what has no weight is left out."""
    out: dict[str, Fraction] = {}
    for row in made.rows:
        if row.percent is not None:
            out[row.role] = out.get(row.role, Fraction(0)) + row.percent
    return out


def _round(value: Fraction | None) -> float | None:
    return None if value is None else round(float(value), 2)
