"""What the method says: clauses, their parts, which words mean which line, ovens told in words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Amount, Ingredient
from rewriter.reading.findings import Findings
from rewriter.reading.groups import heading_part
from rewriter.reading.mentions import fits
from rewriter.reading.method import clauses_of
from rewriter.reading.oven_words import degrees, scan
from rewriter.reading.pipeline import load, read
from rewriter.reading.roles import settle
from rewriter.reading.sentences import split


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Cream the butter. Bake 20 minutes. Whisk the sugar and milk.", ["batter", "batter", "frosting"]),
        ("Mix the flour. For the glaze, beat sugar and milk.", ["batter", "frosting"]),
        ("Make the filling: cook the plums. Roll the dough.", ["filling", "filling"]),
        ("Mix flour and milk. Bake.", ["batter", "batter"]),
    ],
)
def test_clauses_and_their_parts(text: str, parts: list[str]) -> None:
    assert [clause.part for clause in clauses_of(text, [(0, len(text))])] == parts


def test_a_word_of_greasing_puts_only_what_follows_elsewhere() -> None:
    text = "Grease the pan with butter"
    (clause,) = clauses_of(text, [(0, len(text))])
    assert clause.part == "batter"
    assert clause.part_at(text.index("butter")) == "dusting"


def test_an_abbreviation_ends_no_sentence() -> None:
    text = "Add 1 tsp. soda. Bake 20 min. more."
    assert [text[start:end].strip() for start, end in split(text, 0, len(text))] == [
        "Add 1 tsp. soda",
        "Bake 20 min. more",
    ]


@given(st.text(max_size=200))
def test_clauses_lie_in_order_inside_the_text(text: str) -> None:
    at = 0
    for clause in clauses_of(text, [(0, len(text))] if text.strip() else []):
        assert at <= clause.start < clause.end <= len(text)
        at = clause.end


@pytest.mark.parametrize(
    ("mention", "listed", "fit"),
    [
        ("sugar", "granulated sugar", True),
        ("powdered sugar", "granulated sugar", False),
        ("eggs", "large egg", True),
        ("milk", "warm milk", True),
        ("cherries", "sour cherry", True),
        ("flour", "cornflour", False),
        ("", "flour", False),
    ],
)
def test_mentions(mention: str, listed: str, fit: bool) -> None:
    assert fits(mention, listed) is fit


@pytest.mark.parametrize(
    ("heading", "part"),
    [
        ("For the cream cheese frosting:", "frosting"),
        ("Sour Cream Cake", "batter"),
        ("Streusel Topping", "topping"),
        ("Filling", "filling"),
        ("For dusting", "dusting"),
        ("To serve", "serving"),
        ("Dough", "batter"),
        ("Grandmother's note", None),
    ],
)
def test_headings(heading: str, part: str | None) -> None:
    assert heading_part(heading) == part


@pytest.mark.parametrize(
    ("words", "fahrenheit"),
    # NIST metric kitchen temperatures, midpoints of the ranges in use (from memory)
    [
        ("slow", 300),
        ("moderately slow", 325),
        ("moderate", 350),
        ("moderately hot", 375),
        ("hot", 400),
        ("very hot", 450),
    ],
)
def test_oven_words(words: str, fahrenheit: int) -> None:
    found = degrees(words)
    assert found is not None
    assert found[0] == found[1] == fahrenheit
    text = f"bake in a {words} oven until done"
    (figure,) = scan(text, [])
    assert text[figure.start : figure.end] == f"{words} oven"


@pytest.mark.parametrize(
    "text", ["take it from the hot oven", "an oven door", "the hot pan", "a cloven hoof", "keep it moderate"]
)
def test_no_oven_word(text: str) -> None:
    assert scan(text, []) == []


def test_findings_are_sliced_by_place() -> None:
    text = "2 cups flour and 3 eggs"
    doc = load()(text)
    found = Findings(text, doc.user_data["names"], doc.user_data["amounts"])
    assert [name.text for name in found.names_in(0, 12)] == ["flour"]
    assert [amount.text for amount in found.amounts_in(12, len(text))] == ["3"]
    near = found.amount_before(text.index("eggs"), 0)
    assert isinstance(near, Amount)
    assert near.text == "3"
    assert found.amount_before(0, 0) is None


def test_settled_roles_keep_what_needs_no_settling() -> None:
    flour = Ingredient(0, 5, "flour", "flour", "batter", key="all-purpose-flour")
    unknown = Ingredient(6, 9, "zog", "other", "batter")
    assert settle([flour, unknown], "flour zog") == [flour, unknown]


def test_tartar_is_a_leavener_only_beside_soda() -> None:
    beside = read(
        "Snap Cookies\n\n2 cups flour\n1 tsp soda\n2 tsp cream of tartar\n1 cup sugar\n\nMix. Bake at 350 F.\n"
    )[0]
    alone = read(
        "Angel Cake\n\n1 cup flour\n12 egg whites\n1 tsp cream of tartar\n1 cup sugar\n\nBeat. Bake at 350 F.\n"
    )[0]
    roles = [next(one.role for one in recipe.ingredients if "tartar" in one.name) for recipe in (beside, alone)]
    assert roles == ["leavener", "other"]


def test_both_halves_of_a_method_are_heard() -> None:
    text = (
        "Pell Cinnamon Snaps\n\n2 cups flour\n1 tsp soda\n1 cup sugar\n1/2 cup butter\n1 egg\n1/4 cup sugar\n"
        "1 tsp cinnamon\n\n"
        "Cream butter and 1 cup sugar, add egg, flour and soda. Mix 1/4 cup sugar and cinnamon in a bowl. "
        "Roll balls of dough in the sugar. "
        "Bake at 375 F for 9 minutes.\n"
    )
    sugars = [one.part for one in read(text)[0].ingredients if one.role == "sugar"]
    assert sugars == ["batter", "dusting"]
