"""Chemical leaveners. The practice guide's figures and all guards: common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.correcting.bakes import LAYER_CAKE, bake, corrected, edits_of, exact, line

# Leavener left of 16 tsp, far above every floor, by the practice guide.
PRACTICE = [(2999, Fraction(1)), (3000, Fraction(1)), (3250, Fraction(15, 16)), (3500, Fraction(7, 8))]
PRACTICE += [(4750, Fraction(11, 16)), (6000, Fraction(1, 2)), (6500, Fraction(1, 2)), (8250, Fraction(3, 8))]
PRACTICE += [(10_000, Fraction(1, 4)), (14_000, Fraction(1, 4))]  # fmt: skip


@pytest.mark.parametrize(("feet", "left"), PRACTICE)
def test_straight_lines_between_the_points(feet: int, left: Fraction) -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "1 cup"), line("baking-powder", "16 tsp"))
    assert exact(corrected(recipe, feet), "baking-powder") == (None if left == 1 else 16 * left)


@pytest.mark.parametrize(
    ("kind", "facts", "floor"),
    [
        ("quick-bread", ["rolled-dough"], Fraction(1)),
        ("quick-bread", ["dropped-dough"], Fraction(1)),
        ("quick-bread", ["muffin-pan"], Fraction(3, 4)),
        ("griddle", [], Fraction(3, 4)),
        ("shortened-cake", [], Fraction(1, 2)),
        ("foam-cake", [], Fraction(1, 2)),
        ("cookie", ["rolled-dough"], Fraction(1, 2)),
    ],
)
def test_a_least_lift_is_kept_and_the_reason_says_so(kind: str, facts: list[str], floor: Fraction) -> None:
    wet = line("milk", "3/2 cup")
    powder = line("baking-powder", f"{floor * 5 / 2} tsp")
    recipe = bake(kind, line("all-purpose-flour", "2 cup"), powder, wet, facts=facts)
    (edit,) = edits_of(corrected(recipe, 6500), "baking-powder")
    assert edit.exact == floor * 2
    assert edit.unguarded == floor * 5 / 4
    assert "20 % less here" in edit.why
    assert "50 %" in edit.why


def test_one_eighth_is_always_taken() -> None:
    recipe = bake("cookie", line("all-purpose-flour", "3 cup"), line("baking-powder", "1 tsp"))
    (edit,) = edits_of(corrected(recipe, 8000), "baking-powder")
    assert edit.exact == Fraction(7, 8)
    assert edit.unguarded == 1 - (Fraction(1, 2) + Fraction(1, 4) * Fraction(1500, 3500))


def test_the_eighth_is_no_more_than_the_guide_asks() -> None:
    recipe = bake("cookie", line("all-purpose-flour", "3 cup"), line("baking-powder", "1 tsp"))
    assert exact(corrected(recipe, 3250), "baking-powder") == Fraction(15, 16)


def test_soda_counts_four_times_as_much_as_powder() -> None:
    """1/4 tsp of soda lifts like 1 tsp of powder: common kitchen equivalent, many cookbooks."""
    recipe = bake("cookie", line("all-purpose-flour", "2 cup"), line("baking-soda", "1/2 tsp"))
    assert exact(corrected(recipe, 6500), "baking-soda") == Fraction(1, 4)
    weak = bake("cookie", line("all-purpose-flour", "2 cup"), line("baking-soda", "5/16 tsp"))
    assert exact(corrected(weak, 6500), "baking-soda") == Fraction(1, 4)


def test_soda_keeps_half_of_what_the_acid_takes_and_powder_gives_the_rest() -> None:
    """1 cup of buttermilk takes about 1/2 tsp of soda (old cookbooks): 2 cups hold half a teaspoon of soda."""
    recipe = bake(
        "shortened-cake",
        line("all-purpose-flour", "2 cup"),
        line("buttermilk", "2 cup"),
        line("baking-soda", "3/4 tsp"),
        line("baking-powder", "3 tsp"),
    )
    made = corrected(recipe, 6500)
    assert exact(made, "baking-soda") == Fraction(1, 2)
    # total lift 3 + 3 = 6, half of it goes: 1 from the soda, 2 of the 3 tsp of powder
    assert exact(made, "baking-powder") == Fraction(1)


def test_powder_never_gives_more_than_three_quarters() -> None:
    recipe = bake(
        "shortened-cake",
        line("all-purpose-flour", "1 cup"),
        line("buttermilk", "6 cup"),
        line("baking-soda", "2 tsp"),
        line("baking-powder", "1 tsp"),
    )
    made = corrected(recipe, 6500)
    assert exact(made, "baking-powder") == Fraction(1, 4)
    assert exact(made, "baking-soda") == Fraction(3, 2)


def test_cream_of_tartar_moves_with_the_soda_and_stays_in_whites() -> None:
    with_soda = (line("cream-of-tartar", "2 tsp", role="leavener"), line("baking-soda", "1 tsp"))
    recipe = bake("cookie", line("all-purpose-flour", "3 cup"), *with_soda)
    assert exact(corrected(recipe, 6500), "cream-of-tartar") == 1
    whites = bake("foam-cake", line("cake-flour", "1 cup"), line("cream-of-tartar", "1 tsp", role="other"))
    assert exact(corrected(whites, 6500), "cream-of-tartar") is None


@pytest.mark.parametrize(
    "kind", ["lean-yeast", "rich-yeast", "pastry", "steam-raised", "custard", "confection", "savoury", "uncooked"]
)
def test_kinds_that_keep_their_leavener(kind: str) -> None:
    recipe = bake(kind, line("all-purpose-flour", "3 cup"), line("baking-powder", "3 tsp"))
    assert edits_of(corrected(recipe, 9000), "baking-powder") == []


def test_every_measure_and_both_ends_of_a_range_change() -> None:
    recipe = bake("cookie", line("all-purpose-flour", "1 cup"), line("baking-powder", "1-2 tbsp", "14 g"))
    spoons, grams = edits_of(corrected(recipe, 6500), "baking-powder")
    assert (spoons.exact, spoons.exact_max, spoons.unit) == (Fraction(1, 2), Fraction(1), "tbsp")
    assert (grams.exact, grams.exact_max, grams.unit) == (Fraction(7), None, "g")


def test_an_unsure_leavener_is_asked_about_and_left() -> None:
    recipe = bake("cookie", line("all-purpose-flour", "1 cup"), line("baking-powder", "2 tsp", sure=False))
    made = corrected(recipe, 6500)
    assert edits_of(made, "baking-powder") == []
    assert [q.id for q in made.queries] == [f"role@{recipe.ingredients[1].start}"]
    blurred = bake("cookie", line("all-purpose-flour", "1 cup"), line("baking-powder", "2 tsp", amount_sure=False))
    made = corrected(blurred, 6500)
    assert made.queries[0].id == f"quantity@{blurred.ingredients[1].amounts[0].start}"


def test_crepes_without_lift_change_nothing() -> None:
    recipe = bake(
        "griddle", line("all-purpose-flour", "1 cup"), line("milk", "2 cup"), line("granulated-sugar", "1 cup")
    )
    assert corrected(recipe, 8000).edits == ()


def test_the_method_says_it_again() -> None:
    recipe = bake(
        "cookie",
        line("all-purpose-flour", "1 cup"),
        line("baking-powder", "2 tsp"),
        portions=[(1, "2 tsp", "restated")],
    )
    assert [e.exact for e in corrected(recipe, 6500).edits if e.start >= 7000] == [Fraction(1)]


def test_less_than_a_quarter_cup_of_flour_is_no_batter() -> None:
    recipe = bake("foam-cake", line("all-purpose-flour", "3 tbsp"), line("baking-powder", "2 tsp"))
    assert corrected(recipe, 8000).edits == ()


def test_a_layer_cake_at_6500_ft() -> None:
    made = corrected(bake("shortened-cake", *LAYER_CAKE), 6500)
    moved = {e.ingredient.key: e.exact for e in made.edits if e.ingredient}
    assert moved == {
        "baking-powder": Fraction(3, 2),
        "granulated-sugar": Fraction(15, 8),
        "milk": 1 + Fraction(16, 3) / 16,
    }


def test_a_quick_bread_too_dry_to_pour_is_a_dough() -> None:
    """Up to 1/2 cup of wet a cup of flour: biscuits and scones keep 1 tsp a cup (common practice, no source)."""
    recipe = bake(
        "quick-bread", line("all-purpose-flour", "2 cup"), line("baking-powder", "3 tsp"), line("milk", "1 cup")
    )
    made = corrected(recipe, 6500)
    assert exact(made, "baking-powder") == 2
    assert exact(made, "milk") == 1 + Fraction(2, 16)


def test_a_name_nobody_knows_may_be_the_flour() -> None:
    unknown = line("granulated-sugar", "4 cup", role="other", sure=False)
    recipe = bake("rich-yeast", unknown, line("instant-yeast", "2 tsp"), line("milk", "1 cup"))
    assert exact(corrected(recipe, 6500), "instant-yeast") == Fraction(3, 2)
