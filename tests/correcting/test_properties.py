"""Promises of the correcting room, on generated recipes and kitchens."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rewriter.correcting import GUIDES
from rewriter.correcting.batch import batches
from rewriter.model import Amount, Fact, Heat, Plan, Recipe, Twin
from tests.correcting.bakes import Line, bake, corrected, heat, line

KINDS = ("shortened-cake", "foam-cake", "quick-bread", "cookie", "griddle", "fried-dough", "lean-yeast", "rich-yeast")
STILL = ("pastry", "steam-raised", "custard", "confection", "savoury", "uncooked")
PARTS = ("frosting", "topping", "filling", "dusting", "bloom", "serving", "dish")
FACTS = (
    "loaf-pan",
    "tube-pan",
    "rolled-dough",
    "dropped-dough",
    "puree-batter",
    "pound-cake",
    "stiff-dough",
    "long-rise",
)
STUFF = {
    "all-purpose-flour": "cup", "cornstarch": "tbsp", "cocoa": "cup", "baking-powder": "tsp", "baking-soda": "tsp",
    "granulated-sugar": "cup", "honey": "cup", "butter": "cup", "egg": "each", "milk": "cup", "buttermilk": "cup",
    "sour-cream": "cup", "lemon-juice": "tbsp", "instant-yeast": "tsp", "salt": "tsp", "water": "cup",
}  # fmt: skip

feet = st.integers(0, 16_000)
sizes = st.fractions(Fraction(1, 8), Fraction(6), max_denominator=8)


@st.composite
def recipes(draw: st.DrawFn, parts: bool = True) -> Recipe:
    """A recipe of any kind with flour, some other ingredients in any part, and an oven."""
    kind = draw(st.sampled_from(KINDS))
    keys = draw(st.lists(st.sampled_from(sorted(STUFF)), min_size=1, max_size=8, unique=True))
    by_weight = draw(st.booleans())
    lines: list[Line] = []
    for key in ["all-purpose-flour", *(k for k in keys if k != "all-purpose-flour")]:
        size = draw(sizes)
        measure = f"{size * 100} g" if by_weight and STUFF[key] == "cup" else f"{size} {STUFF[key]}"
        part = draw(st.sampled_from(("batter", "batter", "batter", *PARTS))) if parts else "batter"
        lines.append(line(key, measure, part=part, role="" if part == "batter" else "sugar"))
    degrees = draw(st.integers(200, 500))
    return bake(kind, *lines, heats=[heat(degrees)], facts=draw(st.sets(st.sampled_from(FACTS), max_size=2)))


guides = st.sampled_from(GUIDES)
strengths = st.sampled_from(("gentle", "middle", "full"))


def moves(made: Plan) -> dict[tuple[int, str, str], Fraction]:
    """How far each edit moves its figure, downward counted positive where it goes down."""
    found = {}
    for edit in made.edits:
        if edit.step != "now" or edit.direction == "note" or edit.exact is None or isinstance(edit.target, Twin):
            continue
        before = edit.target.quantity if isinstance(edit.target, Amount) and not edit.addition else Fraction(0)
        if isinstance(edit.target, Heat):
            before = edit.target.fahrenheit
        found[edit.start, edit.rule, edit.direction] = abs(edit.exact - (before or 0))
    return found


@given(recipes(), guides, strengths)
def test_sea_level_is_the_identity(recipe: Recipe, guide: str, strength: str) -> None:
    assert corrected(recipe, 0, guide, strength) == Plan(guide=guide, strength=strength)  # type: ignore[arg-type]


@given(recipes(), guides, strengths, feet, feet)
@settings(max_examples=150)
def test_more_elevation_never_corrects_less(recipe: Recipe, guide: str, strength: str, one: int, other: int) -> None:
    lower, higher = (moves(corrected(recipe, at, guide, strength)) for at in sorted((one, other)))
    assert lower.keys() <= higher.keys()
    assert all(higher[place] >= move for place, move in lower.items())


@given(recipes(), guides, strengths, feet)
@settings(max_examples=100)
def test_nothing_outside_a_batter_changes(recipe: Recipe, guide: str, strength: str, at: int) -> None:
    made = corrected(recipe, at, guide, strength)
    spans = [(i.start, i.end) for i in recipe.ingredients if i.part != "batter"]
    for edit in (*made.edits, *made.later):
        if edit.start != edit.end:
            assert not any(start <= edit.start and edit.end <= end for start, end in spans)


@given(recipes(), st.sampled_from(STILL), guides, feet)
def test_kinds_that_stay_keep_every_amount(recipe: Recipe, kind: str, guide: str, at: int) -> None:
    still = replace(recipe, kind=kind, parts=(replace(recipe.parts[0], kind=kind),))
    assert corrected(still, at, guide).edits == ()


def doubled(recipe: Recipe) -> Recipe:
    """Twice of everything but the heat."""
    ingredients = tuple(
        replace(i, amounts=tuple(replace(a, quantity=a.quantity * 2) for a in i.amounts if a.quantity is not None))
        for i in recipe.ingredients
    )
    return replace(recipe, ingredients=ingredients)


def is_long(recipe: Recipe) -> bool:
    """Whether so little yeast lifts it that twice of it crosses the line of a long slow rise."""
    return any(i.key == "instant-yeast" for i in recipe.ingredients)


@given(recipes(parts=False).filter(lambda r: not is_long(r)), guides, strengths, feet)
@settings(max_examples=100)
def test_doubling_a_recipe_doubles_its_corrections(recipe: Recipe, guide: str, strength: str, at: int) -> None:
    assume(batches(recipe))  # less than 1/4 cup of flour is no batter, twice of it may be one
    once, twice = corrected(recipe, at, guide, strength), corrected(doubled(recipe), at, guide, strength)
    assert [e.rule for e in once.edits] == [e.rule for e in twice.edits]
    for one, two in zip(once.edits, twice.edits, strict=True):
        assert one.exact is not None
        assert two.exact == (one.exact if one.unit == "F" else 2 * one.exact)


LIFT = ("baking-powder", "1 cup")


@given(guides.filter(lambda g: g != "practice"), strengths, st.integers(5000, 7500), st.integers(3000, 5000))
def test_written_for_goes_in_steps_where_the_guide_multiplies(guide: str, strength: str, high: int, low: int) -> None:
    recipe = bake(
        "shortened-cake",
        line("all-purpose-flour", "2 cup"),
        line(*LIFT),
        line("granulated-sugar", "2 cup"),
        line("milk", "2 cup"),
        line("egg", "4 each"),
        line("butter", "1 cup"),
    )
    first = corrected(recipe, low, guide, strength)
    by_start = {e.start: e.exact for e in first.edits}
    between = replace(
        recipe,
        ingredients=tuple(
            replace(i, amounts=tuple(replace(a, quantity=by_start.get(a.start, a.quantity)) for a in i.amounts))
            for i in recipe.ingredients
        ),
    )
    second = {e.start: e.exact for e in corrected(between, high, guide, strength, written_for=low).edits}
    direct = {e.start: e.exact for e in corrected(recipe, high, guide, strength).edits}
    assert {**by_start, **second} == {**by_start, **direct}


@given(strengths, st.integers(5000, 10_000), st.integers(3000, 5000))
def test_practice_subtracts_liquid_and_divides_the_rest(strength: str, high: int, low: int) -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "5/2 cup"), line(*LIFT), line("milk", "4 cup"))
    here = {e.rule: e.exact for e in corrected(recipe, high, "practice", strength).edits}
    there = {e.rule: e.exact for e in corrected(recipe, low, "practice", strength).edits}
    between = {e.rule: e.exact for e in corrected(recipe, high, "practice", strength, written_for=low).edits}
    if high == low:
        assert between == {}
        return
    assert between["liquid"] == 4 + here["liquid"] - there["liquid"]  # type: ignore[operator]
    assert between.get("leavener", Fraction(1)) == here["leavener"] / there.get("leavener", Fraction(1))  # type: ignore[operator]


@given(guides.filter(lambda g: g != "practice"), strengths, feet)
def test_grams_and_cups_get_the_same_correction_where_the_guide_is_proportional(
    guide: str, strength: str, at: int
) -> None:
    by_cup = bake(
        "shortened-cake", line("all-purpose-flour", "2 cup"), line("granulated-sugar", "2 cup"), line("milk", "2 cup")
    )
    by_gram = bake(
        "shortened-cake", line("all-purpose-flour", "250 g"), line("granulated-sugar", "400 g"), line("milk", "488 g")
    )

    def shares(recipe: Recipe) -> list[tuple[str, Fraction]]:
        made = corrected(recipe, at, guide, strength)
        return [(e.rule, e.exact / e.target.quantity) for e in made.edits if isinstance(e.target, Amount)]  # type: ignore[operator]

    assert shares(by_cup) == shares(by_gram)


@pytest.mark.parametrize("guide", GUIDES)
@given(recipe=recipes(), at=feet)
def test_a_canning_card_never_changes(guide: str, recipe: Recipe, at: int) -> None:
    card = replace(recipe, facts=(*recipe.facts, Fact("canning", 9000, 9005, "jars")))
    made = corrected(card, at, guide)
    assert made.edits == made.later == ()


@given(recipes(), guides, feet)
@settings(max_examples=100)
def test_a_gentler_strength_never_corrects_more(recipe: Recipe, guide: str, at: int) -> None:
    gentle, middle, full = (moves(corrected(recipe, at, guide, strength)) for strength in ("gentle", "middle", "full"))
    assert all(middle.get(place, Fraction(-1)) >= move for place, move in gentle.items())
    assert all(full.get(place, Fraction(-1)) >= move for place, move in middle.items())
