"""Baker's percentages, hydration, soda against acid, and the balance of a formula."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rewriter.correcting.formula import Formula, formulas
from rewriter.model import Recipe
from tests.correcting.bakes import LAYER_CAKE, bake, corrected, line


def one(recipe: Recipe, feet: int | None = None, guide: str = "practice") -> Formula:
    (made,) = formulas(recipe, None if feet is None else corrected(recipe, feet, guide))
    return made


def row(made: Formula, name: str) -> tuple[Fraction | None, Fraction | None]:
    return next((r.grams, r.percent) for r in made.rows if r.name == name)


# USDA FoodData Central, SR Legacy portions, grams of a cup, from memory.
@pytest.mark.parametrize(
    ("key", "measure", "grams"),
    [
        ("all-purpose-flour", "2 cup", 250),
        ("granulated-sugar", "2 cup", 400),
        ("honey", "1 cup", 339),
        ("butter", "1 cup", 227),
        ("milk", "1 cup", 244),
        ("egg", "2 each", 100),
        ("baking-powder", "1 tsp", Fraction("4.6")),
    ],
)
def test_weights(key: str, measure: str, grams: Fraction) -> None:
    made = one(bake("shortened-cake", line("cake-flour", "100 g"), line(key, measure, role="")))
    assert row(made, key)[0] == grams


def test_percent_of_the_flour_and_its_honest_range() -> None:
    made = one(bake("shortened-cake", *LAYER_CAKE))
    assert row(made, "granulated-sugar")[1] == Fraction(128)
    flour = made.rows[0]
    assert (flour.low, flour.high) == (Fraction("287.5"), Fraction("362.5"))  # 115 to 145 g a cup, common practice
    weighed = one(bake("shortened-cake", line("all-purpose-flour", "300 g"))).rows[0]
    assert weighed.low == weighed.grams == weighed.high == 300


def test_hydration_counts_the_water_of_milk_eggs_butter_and_honey() -> None:
    plain = one(bake("lean-yeast", line("bread-flour", "500 g"), line("water", "350 g")))
    assert plain.hydration == 70
    rich = bake(
        "rich-yeast",
        line("bread-flour", "500 g"),
        line("milk", "250 g"),
        line("egg", "2 each"),
        line("butter", "100 g"),
    )
    hydration = one(rich).hydration
    assert hydration is not None
    assert 58 < hydration < 66  # 250 x 0.88 + 100 x 0.76 + 100 x 0.16 of 500 (USDA SR Legacy, from memory)


def test_a_starter_is_half_flour_and_half_water() -> None:
    made = one(
        bake("lean-yeast", line("bread-flour", "450 g"), line("water", "325 g"), line("sourdough-starter", "100 g"))
    )
    assert (made.flour, made.hydration) == (500, 75)


def test_sugar_counts_honey_and_condensed_milk() -> None:
    made = one(
        bake("shortened-cake", line("cake-flour", "100 g"), line("granulated-sugar", "50 g"), line("honey", "100 g"))
    )
    assert made.sugar == pytest.approx(50 + 82, abs=1)


def test_before_and_after() -> None:
    before, after = one(bake("shortened-cake", *LAYER_CAKE)), one(bake("shortened-cake", *LAYER_CAKE), 6500)
    assert before.lift == Fraction(6, 5)
    assert after.lift == Fraction(3, 5)
    assert row(after, "granulated-sugar")[0] == 375
    assert row(before, "milk")[0] < row(after, "milk")[0]  # type: ignore[operator]


def test_water_beside_a_liquid_is_a_row_of_its_own() -> None:
    cake = bake("shortened-cake", line("all-purpose-flour", "5/2 cup"), line("buttermilk", "2 cup"))
    assert row(one(cake, 6000), "water (added)")[0] == Fraction(237 * 5, 16)


# '2 cups soured milk to 1 tsp soda' (old cookbooks): 1 cup of buttermilk takes about 1/2 tsp.
@pytest.mark.parametrize(("soda", "says"), [("1/2 tsp", "balanced"), ("1 tsp", "soapy"), ("1/8 tsp", "sour")])
def test_soda_against_acid(soda: str, says: str) -> None:
    made = one(
        bake(
            "shortened-cake", line("all-purpose-flour", "2 cup"), line("buttermilk", "1 cup"), line("baking-soda", soda)
        )
    )
    assert made.soda.taken == Fraction(1, 2)
    assert made.soda.says == says


def test_acid_without_any_soda_is_no_fault() -> None:
    made = one(bake("lean-yeast", line("all-purpose-flour", "2 cup"), line("buttermilk", "1 cup")))
    assert made.soda.says == "balanced"


# Gisslen, Professional Baking, formula balance; common teaching sheets.
@pytest.mark.parametrize(
    ("sugar", "egg", "fat", "milk", "holds"),
    [
        (100, 50, 50, 60, [True, True, True]),
        (90, 100, 50, 60, [True, False, False]),
        (130, 60, 50, 80, [True, True, True]),
        (170, 40, 50, 80, [False, False, False]),
    ],
)
def test_balance_of_creamed_and_high_ratio_cakes(sugar: int, egg: int, fat: int, milk: int, holds: list[bool]) -> None:
    made = one(
        bake(
            "shortened-cake",
            line("cake-flour", "100 g"),
            line("granulated-sugar", f"{sugar} g"),
            line("egg", f"{egg} g"),
            line("butter", f"{fat} g"),
            line("milk", f"{milk} g"),
        )
    )
    assert [rule.holds for rule in made.rules] == holds
    assert all(rule.source for rule in made.rules)


def test_cocoa_counts_with_the_flour() -> None:
    lines = (line("cake-flour", "80 g"), line("cocoa", "20 g"), line("granulated-sugar", "100 g"))
    (rule,) = one(bake("shortened-cake", *lines)).rules
    assert (rule.text, rule.holds) == ("sugar no more than flour", True)


def test_what_cannot_be_weighed_is_named() -> None:
    assert one(bake("shortened-cake", line("cake-flour", "100 g"), line("milk", "? cup"))).unweighed == ("milk",)
