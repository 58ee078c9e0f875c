"""Sugar. 1 Tbsp from each cup, and the guards: common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.correcting.bakes import bake, corrected, edits_of, exact, line


@pytest.mark.parametrize("kind", ["shortened-cake", "foam-cake", "cookie", "quick-bread"])
@pytest.mark.parametrize(
    ("measure", "left"), [("2 cup", Fraction(15, 8)), ("400 g", Fraction(375)), ("1 lb", Fraction(15, 16))]
)
def test_a_tablespoon_from_each_cup(kind: str, measure: str, left: Fraction) -> None:
    recipe = bake(kind, line("all-purpose-flour", "2 cup"), line("granulated-sugar", measure))
    for feet in (3000, 6500, 12_000):
        assert exact(corrected(recipe, feet), "granulated-sugar") == left


@pytest.mark.parametrize("kind", ["quick-bread", "griddle"])
def test_little_sugar_stays_where_the_bread_holds_little(kind: str) -> None:
    """At most 2 Tbsp a cup of flour, all sugars together."""
    lift = line("baking-powder", "2 tsp")
    little = bake(kind, line("all-purpose-flour", "2 cup"), line("granulated-sugar", "4 tbsp"), lift)
    made = corrected(little, 6500)
    assert exact(made, "granulated-sugar") is None
    assert any(n.kind == "kept" and "2 Tbsp" in n.text for n in made.notes)
    more = bake(
        kind,
        line("all-purpose-flour", "2 cup"),
        line("granulated-sugar", "2 tbsp"),
        line("brown-sugar", "3 tbsp"),
        lift,
    )
    assert exact(corrected(more, 6500), "granulated-sugar") == Fraction(15, 8)


@pytest.mark.parametrize(
    "kind", ["lean-yeast", "rich-yeast", "fried-dough", "pastry", "custard", "confection", "savoury"]
)
def test_kinds_that_keep_their_sugar(kind: str) -> None:
    recipe = bake(
        kind, line("all-purpose-flour", "3 cup"), line("granulated-sugar", "2 cup"), line("baking-powder", "2 tsp")
    )
    assert edits_of(corrected(recipe, 9000), "granulated-sugar") == []


@pytest.mark.parametrize("part", ["frosting", "topping", "filling", "dusting", "bloom", "serving", "dish"])
def test_only_the_batter_changes(part: str) -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "2 cup"), line("granulated-sugar", "2 cup", part=part))
    assert edits_of(corrected(recipe, 9000), "granulated-sugar") == []


def test_syrup_and_sugar_substitutes_stay() -> None:
    recipe = bake(
        "cookie", line("all-purpose-flour", "2 cup"), line("honey", "1 cup"), line("erythritol", "1 cup", role="sugar")
    )
    assert edits_of(corrected(recipe, 9000), "honey") == []
    assert edits_of(corrected(recipe, 9000), "erythritol") == []


def test_sugar_divided_in_the_method_is_cut_where_it_is_measured() -> None:
    recipe = bake(
        "foam-cake",
        line("cake-flour", "1 cup"),
        line("granulated-sugar", "3/2 cup"),
        portions=[(1, "1/2 cup", "portion")],
    )
    made = corrected(recipe, 6500)
    assert [e.exact for e in made.edits if e.start >= 7000] == [Fraction(15, 32)]


def test_an_amount_nobody_gave_stays() -> None:
    recipe = bake(
        "cookie", line("all-purpose-flour", "2 cup"), line("granulated-sugar", "? cup"), line("brown-sugar", "0 cup")
    )
    assert corrected(recipe, 8000).edits == ()
