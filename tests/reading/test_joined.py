"""A second thing on an ingredient's line, and what the line says both are for."""

from __future__ import annotations

import pytest

import rewriter

TOP = "Cinnamon Cookies\n\n2 cups flour\n1 cup butter\n1 tsp baking soda\n"
BAKE = "\n\nMix. Shape. Bake at 375 F for 12 minutes.\n"


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("3 eggs + 1 yolk", [("eggs", "egg", "batter"), ("yolk", "egg", "batter")]),
        ("2 eggs plus 2 egg yolks", [("eggs", "egg", "batter"), ("egg yolks", "egg", "batter")]),
        (
            "1/4 cup sugar and 1 tsp cinnamon for rolling",
            [("sugar", "sugar", "dusting"), ("cinnamon", "other", "dusting")],
        ),
        ("1/4 cup sugar & 1 tsp mace, for topping", [("sugar", "sugar", "topping"), ("mace", "other", "topping")]),
        ("1 cup sugar plus 2 Tbsp sugar", [("sugar", "sugar", "batter")]),
        ("1 cup sugar plus 2 tablespoons", [("sugar", "sugar", "batter")]),
        ("1 egg plus 1 Tbsp water", [("egg", "egg", "batter")]),
        ("1 cup sugar (or 1/2 cup sugar + 1/2 cup honey)", [("sugar", "sugar", "batter")]),
        ("1/2 cup sugar, plus a teaspoon for the yeast", [("sugar", "sugar", "batter")]),
        ("1 cup milk, and 1 tbsp cream for brushing", [("milk", "liquid", "batter"), ("cream", "liquid", "topping")]),
        ("1 cup sugar, plus more for rolling", [("sugar", "sugar", "batter")]),
    ],
)
def test_each_thing_on_a_line_is_an_ingredient(line: str, told: list[tuple[str, str, str]]) -> None:
    recipe = rewriter.read(f"{TOP}{line}{BAKE}")[0]
    assert [(one.name, one.role, one.part) for one in recipe.ingredients if one.listed][3:] == told


def test_sugar_for_rolling_is_left_alone_beside_the_dough() -> None:
    text = f"{TOP}1 1/2 cups sugar\n1/4 cup sugar and 1 tsp cinnamon for rolling{BAKE}"
    changed = [change.old for change in rewriter.rewrite(text, "8,200 ft").changes if change.direction == "down"]
    assert changed == ["1 tsp", "1 1/2 cups"]


def test_what_a_line_has_beside_its_own_amount_is_no_portion_of_it() -> None:
    text = f"{TOP}3/4 cup sugar, plus 1 tablespoon for the berries\n\nToss with 1 tablespoon sugar. Add 3/4 cup sugar."
    recipe = rewriter.read(f"{text}{BAKE}")[0]
    assert [portion.text for portion in recipe.portions] == ["3/4 cup"]
