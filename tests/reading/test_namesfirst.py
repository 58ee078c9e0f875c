"""Lists run on in one line with the names before their amounts."""

from __future__ import annotations

import rewriter

CAKE = (
    "Pound Cake\n\n2 cups flour\n1 cup sugar\n1 tsp baking powder\n4 eggs\n1 cup butter\n\nBake at 350 F for 1 hour.\n"
)
WAFFLES = "Waffles: flour 2c, bp 4t, sugar 2T, milk 1 3/4c, oil 1/2c, eggs 2. Hot iron till the steam stops.\n"
FROSTING = "Frosting: sugar 2c, butter 1/2c, milk 2T, vanilla 1t. Beat well.\n"


def test_a_card_in_one_line_below_another_recipe_is_a_recipe_of_its_own() -> None:
    cake, waffles = rewriter.read(f"{CAKE}\n{WAFFLES}")
    assert [one.role for one in cake.ingredients] == ["flour", "sugar", "leavener", "egg", "fat"]
    assert (waffles.title, waffles.kind) == ("Waffles", "griddle")
    assert [(one.role, one.amounts[0].text) for one in waffles.ingredients] == [
        ("flour", "2c"), ("leavener", "4t"), ("sugar", "2T"), ("liquid", "1 3/4c"), ("fat", "1/2c"), ("egg", "2"),
    ]  # fmt: skip


def test_a_finish_in_one_line_belongs_to_the_recipe_above_it() -> None:
    (cake,) = rewriter.read(f"{CAKE}\n{FROSTING}")
    assert {one.part for one in cake.ingredients if one.listed} == {"batter"}
    assert [(one.role, one.part) for one in cake.ingredients if not one.listed] == [
        ("sugar", "frosting"), ("fat", "frosting"), ("liquid", "frosting"), ("other", "frosting"),
    ]  # fmt: skip


def test_names_after_their_amounts_are_read_as_ever() -> None:
    (cake,) = rewriter.read("Stir together flour, 2 cups sugar, 1 cup milk, 2 tsp soda, 3 eggs. Bake at 350 F.")
    assert [(one.name, one.amounts[0].text) for one in cake.ingredients][:2] == [("sugar", "2 cups"), ("milk", "1 cup")]
