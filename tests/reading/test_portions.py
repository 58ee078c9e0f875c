"""Amounts in the method that are part of what is listed (common practice, no source; the recipes are our own)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Portion
from rewriter.reading.pipeline import read
from rewriter.reading.portions import comparable

LIST = (
    "Loaf Cake\n\nIngredients\n2 cups sugar\n3 cups flour\n1 cup milk\n1/2 cup butter\n2 tsp baking powder\n\nMethod\n"
)


def portions(method: str) -> list[Portion]:
    return list(read(LIST + method)[0].portions)


def brief(method: str) -> list[tuple[str, str, str, str]]:
    return [
        (one.text, one.ingredient.name, str(one.share if one.quantity is None else one.quantity), one.of)
        for one in portions(method)
    ]


METHODS = [
    ("Mix 1 cup of the sugar with the butter. Bake at 350 F.", [("1 cup", "sugar", "1", "portion")]),
    ("Add half the flour. Bake at 350 F.", [("half", "flour", "1/2", "portion")]),
    ("Stir in two-thirds of the milk. Bake.", [("two-thirds", "milk", "2/3", "portion")]),
    ("Sift the 3 cups flour. Bake.", [("3 cups", "flour", "3", "restated")]),
]


@pytest.mark.parametrize(("method", "expected"), METHODS)
def test_a_portion_is_tied_to_its_ingredient(method: str, expected: list[tuple[str, str, str, str]]) -> None:
    assert brief(method) == expected


def test_what_is_left() -> None:
    found = portions("Beat 1 1/2 cups of the sugar with the butter. Add the remaining 1/2 cup sugar. Bake.")
    assert [(one.text, one.of, one.ingredient.name) for one in found] == [
        ("1 1/2 cups", "portion", "sugar"),
        ("1/2 cup", "remaining", "sugar"),
    ]


def test_more_than_the_list_holds_is_no_portion() -> None:
    assert portions("Add 9 cups of the sugar. Bake.") == []


COMPARED = [
    ("cup", "tbsp", Fraction(16)),  # NIST Handbook 44: 16 tablespoons to the cup (from memory)
    ("tbsp", "tsp", Fraction(3)),  # the same: 3 teaspoons to the tablespoon (from memory)
    ("kg", "g", Fraction(1000)),  # SI
    ("each", "each", Fraction(1)),
    ("cup", "g", None),
]


@pytest.mark.parametrize(("first", "second", "ratio"), COMPARED)
def test_units_of_one_dimension_compare(first: str, second: str, ratio: Fraction | None) -> None:
    assert comparable(first, second) == ratio


METHOD = st.lists(
    st.sampled_from(
        "add beat half the other rest of remaining last 1 cup 2 tbsp sugar flour milk butter . , and third".split()
    ),
    max_size=25,
).map(" ".join)


@given(METHOD)
def test_portions_stay_inside_the_text_and_belong_to_the_recipe(method: str) -> None:
    text = LIST + method
    for recipe in read(text):
        for one in recipe.portions:
            assert text[one.start : one.end] == one.text
            assert one.ingredient in recipe.ingredients
