"""The promises of the correcting room over every recipe of the project's own corpus."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

import rewriter
from rewriter.correcting import GUIDES
from rewriter.model import Plan, Recipe
from tests.correcting.bakes import corrected
from tests.correcting.test_properties import moves

HERE = Path(__file__).parents[2] / "corpus" / "recipes"
CARDS = sorted(HERE.glob("*/*.txt"))
FEET = (0, 2500, 3500, 6500, 9000)


@cache
def recipes(card: Path) -> tuple[Recipe, ...]:
    return tuple(rewriter.read(card.read_bytes().decode("utf-8")))


def test_there_is_a_corpus() -> None:
    assert len(CARDS) >= 80


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.stem)
def test_promises_hold(card: Path) -> None:
    for recipe in recipes(card):
        outside = [(i.start, i.end) for i in recipe.ingredients if i.part != "batter"]
        canned = any(fact.kind == "canning" for fact in recipe.facts)
        for guide in GUIDES:
            made = [corrected(recipe, feet, guide) for feet in FEET]
            assert made[0] == Plan(guide=guide)
            steps = [moves(plan) for plan in made]
            for lower, higher in pairwise(steps):
                assert lower.keys() <= higher.keys()
                assert all(higher[place] >= move for place, move in lower.items())
            for edit in (edit for plan in made for edit in (*plan.edits, *plan.later)):
                assert edit.why
                assert edit.source
                assert not canned
                if edit.ingredient is not None:
                    assert not any(s <= edit.start and edit.end <= e for s, e in outside)
