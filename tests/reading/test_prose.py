# ruff: noqa: E501  (recipes stand as they are)
"""Amounts in running text and what they measure (common practice, no source; the recipes are our own)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Ingredient
from rewriter.reading.pipeline import read


def told(text: str) -> list[tuple[str, str, str]]:
    """Quantity, unit and role of each ingredient of a recipe in running prose."""
    return [
        (str(one.amounts[0].quantity), one.amounts[0].unit, one.role)
        for recipe in read(f"Tea Cake\n\n{text}")
        for one in recipe.ingredients
        if one.amounts
    ]


MEASURED = [
    ("Cream one cup of butter with two of sugar.", [("1", "cup", "fat"), ("2", "cup", "sugar")]),
    ("Beat the yolks of four eggs, then add a pint of milk.", [("4", "each", "egg"), ("1", "pint", "liquid")]),
    (
        "Rub in butter the size of an egg; add a quart of flour.",
        [("1", "size of an egg", "fat"), ("1", "quart", "flour")],
    ),
    (
        "Sift three cups flour with two teaspoonfuls of baking powder.",
        [("3", "cup", "flour"), ("2", "tsp", "leavener")],
    ),
    ("Add half a cupful of milk and one egg.", [("1/2", "cup", "liquid"), ("1", "each", "egg")]),
    ("Stir in one and one-half cups of sugar.", [("3/2", "cup", "sugar")]),
]


@pytest.mark.parametrize(("text", "expected"), MEASURED)
def test_what_an_amount_measures(text: str, expected: list[tuple[str, str, str]]) -> None:
    assert told(text) == expected


NOT_MEASURED = [
    "Bake in two tins for forty minutes in a moderate oven.",
    "Roll one inch thick and cut in two.",
    "Let it stand five minutes, then turn out.",
    "1. Beat well.\n2. Bake.",
]


@pytest.mark.parametrize("text", NOT_MEASURED)
def test_numbers_that_measure_no_ingredient(text: str) -> None:
    assert told(text) == []


WORDS = st.lists(
    st.sampled_from(
        "one two half a cup of butter sugar flour eggs milk and with the , . ; add beat tablespoonful size an egg yolks whites".split()
    ),
    max_size=30,
).map(" ".join)


@given(WORDS | st.text(max_size=120))
def test_never_raises_and_stays_inside_the_text(text: str) -> None:
    found: list[Ingredient] = [one for recipe in read(text) for one in recipe.ingredients]
    for one in found:
        assert 0 <= one.start <= one.end <= len(text)
        assert all(text[amount.start : amount.end] == amount.text for amount in one.amounts)
