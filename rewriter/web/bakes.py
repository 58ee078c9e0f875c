"""After the bake: the faults there are, and what to change next, one change at a time."""

from __future__ import annotations

from typing import Any

from rewriter.api import Result
from rewriter.correcting.faults import fault
from rewriter.correcting.faults import faults as known
from rewriter.correcting.nextstep import Step, next_steps
from rewriter.model import Recipe
from rewriter.web.ask import Ask
from rewriter.web.cards import card
from rewriter.web.guides import told_base
from rewriter.writing import measure


def faults() -> list[dict[str, str]]:
    """Every fault with its cause at altitude."""
    return [{"name": one.name, "text": one.cause} for one in known()]


def following(asked: Ask) -> dict[str, Any]:
    """The fault that the words name, and for each recipe the steps against it, each as a card of its own.

    Raises Unusable where the words name no fault.
    """
    wrong = fault(asked.fault)
    result = asked.rewrite()
    return {
        "fault": wrong.name,
        "cause": wrong.cause,
        "cards": [_steps(result, recipe, asked, mine.strength) for recipe, mine in _pairs(result)],
    }


def _pairs(result: Result) -> Any:
    return zip(result.recipes, result.plans, strict=True)


def _steps(result: Result, recipe: Recipe, asked: Ask, strength: Any) -> dict[str, Any]:
    base = told_base(recipe, asked.written_for, asked.answers)
    _, steps = next_steps(recipe, result.air, base, asked.fault, asked.guide, strength, asked.answers)
    return {"start": recipe.start, "steps": [_step(result, recipe, step) for step in steps]}


def _step(result: Result, recipe: Recipe, step: Step) -> dict[str, Any]:
    changes = measure(result.source, recipe, step.plan)
    return {
        "text": step.text,
        "source": step.source,
        "card": card(result, recipe, step.plan, changes, ()),
    }
