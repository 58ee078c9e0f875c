"""Yeast: a quarter less (published food-section guides say a quarter to a third; common practice)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.correcting.bakes import bake, corrected, edits_of, exact, line

FLOUR, WATER = line("bread-flour", "4 cup"), line("water", "3/2 cup")


@pytest.mark.parametrize("kind", ["lean-yeast", "rich-yeast", "fried-dough"])
@pytest.mark.parametrize("key", ["active-dry-yeast", "instant-yeast", "fresh-yeast"])
@pytest.mark.parametrize(
    ("measure", "left"), [("2 tsp", Fraction(3, 2)), ("1 packet", Fraction(3, 4)), ("8 g", Fraction(6))]
)
def test_a_quarter_less_of_every_yeast(kind: str, key: str, measure: str, left: Fraction) -> None:
    recipe = bake(kind, FLOUR, WATER, line(key, measure))
    assert exact(corrected(recipe, 2999), key) is None
    for feet in (3000, 6500, 11_000):
        assert exact(corrected(recipe, feet), key) == left


def test_a_packet_and_its_spoons_change_together() -> None:
    made = corrected(bake("lean-yeast", FLOUR, WATER, line("active-dry-yeast", "1 packet", "9/4 tsp")), 5000)
    assert [e.exact for e in edits_of(made, "active-dry-yeast")] == [Fraction(3, 4), Fraction(27, 16)]


def test_starters_are_a_note_not_a_number() -> None:
    made = corrected(bake("lean-yeast", FLOUR, WATER, line("sourdough-starter", "1/2 cup")), 7000)
    assert edits_of(made, "sourdough-starter") == []
    assert any("starter" in n.text for n in made.notes)


def test_a_starter_does_not_shield_the_yeast_beside_it() -> None:
    lines = (FLOUR, WATER, line("sourdough-starter", "1/2 cup"), line("instant-yeast", "2 tsp"))
    assert exact(corrected(bake("lean-yeast", *lines), 7000), "instant-yeast") == Fraction(3, 2)


@pytest.mark.parametrize(("yeast", "facts"), [("1 tsp", ["long-rise"]), ("1/4 tsp", []), ("1/8 tsp", [])])
def test_long_slow_rises_are_left_alone(yeast: str, facts: list[str]) -> None:
    made = corrected(bake("lean-yeast", FLOUR, WATER, line("instant-yeast", yeast), facts=facts), 7000)
    assert edits_of(made, "instant-yeast") == []
    assert any("doubled bulk" in n.text for n in made.notes if n.kind == "kept")


@pytest.mark.parametrize("kind", ["quick-bread", "shortened-cake", "griddle", "pastry", "savoury", "custard"])
def test_kinds_that_keep_their_yeast(kind: str) -> None:
    made = corrected(bake(kind, FLOUR, WATER, line("instant-yeast", "2 tsp")), 7000)
    assert edits_of(made, "instant-yeast") == []


def test_baking_powder_in_a_yeast_dough_stays() -> None:
    made = corrected(
        bake("rich-yeast", FLOUR, WATER, line("instant-yeast", "2 tsp"), line("baking-powder", "1 tsp")), 7000
    )
    assert edits_of(made, "baking-powder") == []


def test_the_rise_is_explained() -> None:
    texts = [n.text for n in corrected(bake("lean-yeast", FLOUR, WATER, line("instant-yeast", "2 tsp")), 7000).notes]
    assert any("printed rise is about right" in text for text in texts)
    assert any("airtight" in text for text in texts)


@pytest.mark.parametrize(("key", "measure"), [("instant-yeast", "7 g"), ("fresh-yeast", "20 g")])
def test_a_long_rise_with_all_its_yeast_is_a_cold_one(key: str, measure: str) -> None:
    """Dry yeast over 1 % of the flour (fresh weighs three times as much) cannot rise 8 hours in the warm."""
    dough = bake("rich-yeast", line("bread-flour", "500 g"), WATER, line(key, measure), facts=["long-rise"])
    assert len(edits_of(corrected(dough, 7000), key)) == 1
