"""What to change after a bake that went wrong. Sizes and order: common practice, no source."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from rewriter.correcting import next_steps
from rewriter.correcting.faults import NoSuchFault, fault, faults
from rewriter.model import Edit, Fact, Plan, Recipe
from tests.correcting.bakes import LAYER_CAKE, SEA, bake, corrected, heat, line, up

CAKE = bake("shortened-cake", *LAYER_CAKE, heats=[heat(350)])
NAMES = ("sank", "dry", "coarse", "gummy", "overflowed", "pale", "dark", "stuck", "spread", "tough", "sour", "soapy",
         "dense", "cracked", "hard")  # fmt: skip


def plans(recipe: Recipe, feet: int, said: str) -> list[Plan]:
    return [step.plan for step in next_steps(recipe, up(feet), SEA, said)[1]]


def figures(made: Plan) -> dict[str, Fraction | None]:
    return {e.ingredient.key or "" if e.ingredient else e.rule: e.exact for e in made.edits}


def test_every_fault_of_the_table() -> None:
    assert tuple(one.name for one in faults()) == NAMES
    for one in faults():
        assert fault(one.name) is one
        assert one.cause
        assert one.remedies
        assert all(remedy.text and remedy.source for remedy in one.remedies)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("It sank in the middle!", "sank"),
        ("the cake fell", "sank"),
        ("too dry and dark", "dry"),
        ("Cookies spread flat", "spread"),
        ("it did not rise", "dense"),
        ("burnt on top", "dark"),
        ("stuck to the pan", "stuck"),
        ("ran over the pan", "overflowed"),
    ],
)
def test_faults_in_a_persons_words(said: str, name: str) -> None:
    assert fault(said).name == name


def test_unknown_faults_say_which_there_are() -> None:
    with pytest.raises(NoSuchFault, match="sank"):
        fault("delicious")


def test_a_sunken_cake_one_change_at_a_time() -> None:
    base = figures(corrected(CAKE, 6000))
    flour, egg, leavener, oven, habit = (figures(made) for made in plans(CAKE, 6000, "sank"))
    assert flour == {**base, "all-purpose-flour": Fraction(5, 2) + Fraction(3, 16)}
    assert egg == {**flour, "egg": 5, "milk": 1 + Fraction(5 - 3, 16)}
    assert leavener == {**egg, "baking-powder": Fraction(3, 2) * Fraction(7, 8)}
    assert oven == {**leavener, "oven": 385}
    assert habit == oven


def test_a_second_tablespoon_of_sugar_from_7000_ft() -> None:
    low, high = (plans(CAKE, feet, "sank") for feet in (6999, 7000))
    assert all(figures(made)["granulated-sugar"] == Fraction(15, 8) for made in low)
    assert figures(high[-1])["granulated-sugar"] == 2 * Fraction(14, 16)


def test_steps_go_with_the_batch() -> None:
    half = bake(
        "shortened-cake",
        line("all-purpose-flour", "5/4 cup"),
        line("egg", "2 each"),
        line("milk", "1/2 cup"),
        line("baking-powder", "3/2 tsp"),
    )
    _, second = plans(half, 6000, "sank")[:2]
    assert figures(second)["egg"] == Fraction(5, 2)
    assert figures(second)["milk"] == Fraction(1, 2) + Fraction(5, 32) - Fraction(3, 32)


@pytest.mark.parametrize("said", ["pale", "hard"])
def test_half_of_the_soda_goes_back_in_pale_or_hard_cookies(said: str) -> None:
    cookies = bake("cookie", line("all-purpose-flour", "2 cup"), line("baking-soda", "1 tsp"), heats=[heat(350)])
    assert figures(corrected(cookies, 6500))["baking-soda"] == Fraction(1, 2)
    assert figures(plans(cookies, 6500, said)[0])["baking-soda"] == Fraction(3, 4)


def test_extra_liquid_goes_back_and_what_was_written_stays() -> None:
    gummy = plans(CAKE, 6000, "gummy")
    assert figures(gummy[1])["milk"] == 1 + Fraction(5, 32)


def test_half_of_the_ovens_rise_goes_back() -> None:
    assert figures(plans(CAKE, 6000, "dark")[0])["oven"] == Fraction(350) + Fraction(25, 2)


def test_the_oven_is_never_written_above_475() -> None:
    hot = bake("quick-bread", *LAYER_CAKE, heats=[heat(445)])
    assert max(figures(made)["oven"] or 0 for made in plans(hot, 6000, "pale")) == 475


def test_water_beside_buttermilk_grows() -> None:
    cake = bake("shortened-cake", line("all-purpose-flour", "5/2 cup"), line("buttermilk", "2 cup"))
    (first, *_) = plans(cake, 6000, "dry")
    assert [(e.exact, e.addition) for e in first.edits if e.rule == "liquid"] == [(6, "water")]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("kind", ["shortened-cake", "cookie", "quick-bread", "rich-yeast", "griddle"])
def test_each_step_changes_one_thing_and_names_the_next(name: str, kind: str) -> None:
    recipe = bake(kind, *LAYER_CAKE, line("baking-soda", "1 tsp"), line("instant-yeast", "2 tsp"), heats=[heat(350)])
    _, steps = next_steps(recipe, up(8200), SEA, name)
    made = [corrected(recipe, 8200), *(step.plan for step in steps)]
    for before, after in pairwise(made):
        rules = {e.rule for e in set(before.edits) ^ set(after.edits)}
        assert len(rules) <= 1 or rules == {"egg", "liquid"} or rules == {"egg", "hydration"}
    for number, step in enumerate(steps, start=1):
        assert f"Step {number} of {len(steps)}" in step.plan.notes[0].text
        assert step.plan.later == ()
        assert all(isinstance(e, Edit) and e.exact is not None and e.exact >= 0 for e in step.plan.edits)


def test_a_canning_card_has_no_next_step() -> None:
    card = bake("shortened-cake", *LAYER_CAKE, facts=[Fact("canning", 900, 905, "jars")])
    assert next_steps(card, up(8200), SEA, "dry")[1] == []
