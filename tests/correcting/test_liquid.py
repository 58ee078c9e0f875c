"""Liquid of batters and water of doughs. The practice guide and the guards: common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rewriter.model import Part, Plan
from tests.correcting.bakes import Line, bake, corrected, edits_of, exact, line

HOME = line("all-purpose-flour", "5/2 cup")


def inserted(made: Plan) -> list[tuple[Fraction | None, str, str]]:
    return [(e.exact, e.unit, e.addition) for e in made.edits if e.direction == "insert"]


@pytest.mark.parametrize(
    ("feet", "gentle", "middle"),
    [(2999, 0, 0), (3000, 1, 2), (4500, Fraction(5, 2), Fraction(7, 2)), (6000, 4, 5), (10_000, 8, 9), (13_000, 8, 9)],
)
def test_the_household_figure_for_a_home_size_recipe(feet: int, gentle: Fraction, middle: Fraction) -> None:
    recipe = bake("shortened-cake", HOME, line("milk", "2 cup"))
    for strength, tbsp in (("gentle", gentle), ("middle", middle), ("full", middle)):
        assert exact(corrected(recipe, feet, strength=strength), "milk") == (2 + Fraction(tbsp) / 16 if tbsp else None)


def test_starch_and_cocoa_count_with_the_flour_and_melted_chocolate_does_not() -> None:
    dry = (line("all-purpose-flour", "3/2 cup"), line("cornstarch", "1/2 cup"), line("cocoa", "1/2 cup"))
    recipe = bake("shortened-cake", *dry, line("dark-chocolate", "2 cup"), line("milk", "2 cup"))
    assert exact(corrected(recipe, 6000), "milk") == 2 + Fraction(5, 16)


@pytest.mark.parametrize(
    ("feet", "share"),
    [(3000, Fraction(3, 100)), (6000, Fraction(6, 100)), (9000, Fraction(9, 100)), (12_000, Fraction(10, 100))],
)
def test_flour_in_weights_goes_by_percent(feet: int, share: Fraction) -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "1500 g", "12 cup"), line("milk", "900 g"))
    assert exact(corrected(recipe, feet), "milk") == 900 + 1500 * share


def test_where_the_two_differ_the_block_gives_all_three() -> None:
    made = corrected(bake("shortened-cake", HOME, line("milk", "1 cup")), 6000)
    (note,) = [n for n in made.notes if "rules of liquid differ" in n.text]
    # 5 Tbsp; 6 % of 312.5 g, 18.75 g, is 1.27 Tbsp; 17.8 % of 16 Tbsp is 2.85 Tbsp (Gisslen, Table 33.3)
    assert all(
        figure in note.text for figure in ("rule 5 Tbsp", "flour 1 1/4 Tbsp", "table 3 Tbsp", "by the home-size rule;")
    )


def test_in_weights_the_three_figures_are_told_in_grams() -> None:
    dry = line("all-purpose-flour", "1500 g", "12 cup")
    made = corrected(bake("shortened-cake", dry, line("milk", "900 g")), 6000)
    (note,) = [n for n in made.notes if "rules of liquid differ" in n.text]
    # 6 % of 1,500 g; 5 Tbsp for each 312 g, 24 Tbsp of 237 g a cup; 17.8 % of 900 g of milk, by volume
    assert "flour 90 g" in note.text
    assert "rule 355 g" in note.text
    assert "Marked by the percent of the flour" in note.text


def test_no_more_than_a_third_of_what_pours() -> None:
    made = corrected(bake("shortened-cake", HOME, line("milk", "1/2 cup")), 8000)
    (edit,) = edits_of(made, "milk")
    assert edit.exact == Fraction(2, 3)
    assert edit.unguarded == Fraction(1, 2) + Fraction(7, 16)
    assert "one third" in edit.why


@pytest.mark.parametrize("fact", ["rolled-dough", "dropped-dough", "puree-batter", "pound-cake"])
def test_stiff_doughs_take_a_tablespoon_a_cup(fact: str) -> None:
    made = corrected(bake("quick-bread", line("all-purpose-flour", "2 cup"), line("milk", "1 cup"), facts=[fact]), 8000)
    assert exact(made, "milk") == 1 + Fraction(2, 16)


@pytest.mark.parametrize(("milk", "left"), [("2 tbsp", 2 + Fraction(2, 3)), ("1 tbsp", None), ("8 tbsp", 10)])
def test_cookies_take_liquid_only_if_the_dough_holds_some(milk: str, left: Fraction | None) -> None:
    made = corrected(bake("cookie", line("all-purpose-flour", "2 cup"), line("milk", milk)), 8000)
    assert exact(made, "milk") == left
    assert inserted(made) == []
    assert any("1 Tbsp" in n.text for n in made.notes if n.kind == "kept") is (left is None)


@pytest.mark.parametrize("kind", ["shortened-cake", "quick-bread", "griddle"])
def test_water_is_inserted_where_nothing_pours(kind: str) -> None:
    recipe = bake(kind, line("all-purpose-flour", "2 cup"), line("sour-cream", "1 cup"), line("baking-powder", "2 tsp"))
    made = corrected(recipe, 8000)
    assert inserted(made) == [(Fraction(2), "tbsp", "water")]
    (edit,) = [e for e in made.edits if e.direction == "insert"]
    assert edit.start == edit.end == recipe.ingredients[-1].end


@pytest.mark.parametrize("kind", ["foam-cake", "cookie"])
def test_nothing_is_inserted_in_foam_cakes_and_cookies(kind: str) -> None:
    assert inserted(corrected(bake(kind, line("all-purpose-flour", "2 cup"), line("egg", "6 each")), 8000)) == []


@pytest.mark.parametrize("key", ["buttermilk", "pineapple-juice", "beer", "heavy-cream", "apple-juice"])
def test_water_beside_acid_alcohol_juice_and_cream(key: str) -> None:
    (edit,) = edits_of(corrected(bake("shortened-cake", HOME, line(key, "2 cup")), 6000), key)
    assert (edit.direction, edit.exact, edit.unit, edit.addition) == ("up", Fraction(5), "tbsp", "water")


def test_water_in_grams_beside_a_liquid_in_grams() -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "1000 g"), line("buttermilk", "800 g"))
    (edit,) = edits_of(corrected(recipe, 6000), "buttermilk")
    assert (edit.exact, edit.unit, edit.addition) == (Fraction(60), "g", "water")


def test_a_tin_takes_water_beside_it() -> None:
    recipe = bake("shortened-cake", HOME, line("evaporated-milk", "12 oz x 2"))
    (edit,) = edits_of(corrected(recipe, 6000), "evaporated-milk")
    assert (edit.exact, edit.addition) == (Fraction(5), "water")


@pytest.mark.parametrize(
    ("lines", "main"),
    [
        ((line("milk", "1/2 cup"), line("water", "1 cup")), "water"),
        ((line("water", "1 tbsp"), line("milk", "1 cup")), "milk"),
        ((line("buttermilk", "1 cup"), line("water", "1 cup")), "water"),
        ((line("lemon-juice", "1 cup"), line("milk", "3/4 cup")), "milk"),
        ((line("rum", "1 cup"), line("milk", "3/4 cup")), "milk"),
        ((line("milk", "1 tbsp"),), "milk"),
    ],
)
def test_one_liquid_takes_it_the_largest_that_may(lines: tuple[Line, ...], main: str) -> None:
    made = corrected(bake("shortened-cake", HOME, *lines), 6000)
    assert {e.ingredient.key for e in made.edits if e.rule == "liquid" and e.ingredient} == {main}


@pytest.mark.parametrize(
    "kind", ["fried-dough", "pastry", "steam-raised", "custard", "confection", "savoury", "uncooked"]
)
def test_kinds_that_keep_their_liquid(kind: str) -> None:
    made = corrected(bake(kind, HOME, line("milk", "1 cup"), line("baking-powder", "2 tsp")), 9000)
    assert [e for e in made.edits if e.rule == "liquid"] == []


def test_rich_doughs_take_five_points_of_the_flour() -> None:
    recipe = bake("rich-yeast", line("bread-flour", "500 g"), line("milk", "250 g"))
    assert exact(corrected(recipe, 5000), "milk") == 275
    cups = bake("rich-yeast", line("all-purpose-flour", "4 cup"), line("milk", "1 cup"))
    assert exact(corrected(cups, 5000), "milk") == 1 + Fraction(
        25, 244
    )  # 5 % of 4 x 125 g, in cups of 244 g (USDA, from memory)


@pytest.mark.parametrize(("water", "left"), [(300, 325), (325, None), (350, None), (375, None), (400, None)])
def test_lean_doughs_only_below_65_percent(water: int, left: int | None) -> None:
    recipe = bake("lean-yeast", line("bread-flour", "500 g"), line("water", f"{water} g"))
    made = corrected(recipe, 5000)
    assert exact(made, "water") == left
    assert any("hydration is" in n.text for n in made.notes) is (left is None)


def test_lean_doughs_in_cups_are_never_decided_by_hydration() -> None:
    made = corrected(bake("lean-yeast", line("bread-flour", "4 cup"), line("water", "1 cup")), 8000)
    assert edits_of(made, "water") == []
    assert any(n.kind == "watch" and "Lean doughs" in n.text for n in made.notes)


def test_bagels_and_pretzels_are_a_note() -> None:
    made = corrected(
        bake("lean-yeast", line("bread-flour", "500 g"), line("water", "250 g"), facts=["stiff-dough"]), 8000
    )
    assert edits_of(made, "water") == []


def test_dry_and_wet_headings_are_one_batter_and_two_batters_are_two() -> None:
    dry_and_wet = bake("shortened-cake", HOME, line("milk", "2 cup", group=1))
    assert exact(corrected(dry_and_wet, 6000), "milk") == 2 + Fraction(5, 16)
    lines = []
    for group in (0, 1):
        lines += [line("all-purpose-flour", "5/4 cup", group=group), line("baking-powder", "2 tsp", group=group)]
        lines += [line("milk", "1 cup", group=group)]
    two = corrected(bake("shortened-cake", *lines), 6000)
    assert [e.exact for e in edits_of(two, "milk")] == [1 + Fraction(5, 32)] * 2


def test_flour_nobody_measured_goes_by_the_liquid() -> None:
    made = corrected(
        bake("shortened-cake", line("all-purpose-flour"), line("milk", "1 cup"), line("baking-soda", "1 tsp")), 6000
    )
    assert exact(made, "milk") == 1 + Fraction(5, 16)


def test_boxed_mixes_follow_the_box() -> None:
    made = corrected(bake("shortened-cake", line("cake-mix", "15 oz"), line("water", "1 cup")), 6000)
    assert made.edits == ()
    assert any("box" in n.text for n in made.notes)


@pytest.mark.parametrize(("flour", "exact_", "unit"), [("2 cup", Fraction(2), "tbsp"), ("300 g", None, "g")])
def test_inserted_water_is_measured_as_the_flour_is(flour: str, exact_: Fraction | None, unit: str) -> None:
    recipe = bake(
        "quick-bread", line("all-purpose-flour", flour), line("banana", "300 g"), line("baking-soda", "1 tsp")
    )
    ((exact, measured, addition),) = inserted(corrected(recipe, 9000))
    assert (measured, addition) == (unit, "water")
    assert exact_ is None or exact == exact_


def test_a_brioche_in_cups_gets_its_water_in_spoons() -> None:
    made = corrected(bake("rich-yeast", line("all-purpose-flour", "4 cup"), line("egg", "5 each")), 6500)
    assert inserted(made) == [(Fraction(25 * 16, 237), "tbsp", "water")]


def test_what_is_done_to_an_unsure_part_is_not_sure() -> None:
    cake = bake("shortened-cake", HOME, line("milk", "1 cup"), parts=[Part("batter", "shortened-cake", sure=False)])
    made = corrected(cake, 6500)
    assert made.edits
    assert not any(e.sure for e in made.edits)


def test_a_rich_dough_whose_flour_nobody_measured_goes_by_its_liquid() -> None:
    """Its liquid is about three fifths of its flour, so 5 points of the flour are one twelfth of it."""
    made = corrected(
        bake("rich-yeast", line("all-purpose-flour"), line("milk", "1 cup"), line("instant-yeast", "2 tsp")), 6500
    )
    assert exact(made, "milk") == Fraction(13, 12)


def test_water_in_millilitres_tells_the_hydration_too() -> None:
    made = corrected(bake("lean-yeast", line("bread-flour", "500 g"), line("water", "280 ml")), 6500)
    assert exact(made, "water") is not None


def test_a_rolled_dough_has_flour_even_where_none_was_read() -> None:
    made = corrected(
        bake("cookie", line("baking-soda", "1 tsp"), line("butter", "1 cup"), facts=["rolled-dough"]), 6500
    )
    assert exact(made, "baking-soda") == Fraction(1, 2)
    assert corrected(bake("cookie", line("baking-soda", "1 tsp"), line("butter", "1 cup")), 6500).edits == ()
