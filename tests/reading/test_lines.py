"""One ingredient line: amounts, name, role, flags (common practice, no source; weights from the pantry's rows)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.reading.heads import head_name
from rewriter.reading.line_amounts import own_amounts
from rewriter.reading.lines import purpose, weigh
from rewriter.reading.pipeline import load, read_ingredient

LINES = [
    ("3 large eggs", "egg", "egg", [("3", "each")]),
    ("2 egg whites", "egg", "egg-white", [("2", "each")]),
    ("yolks of 4 eggs", "egg", "egg-yolk", [("4", "each")]),
    ("whites of three eggs", "egg", "egg-white", [("3", "each")]),
    ("juice of 1 lemon", "liquid", "lemon-juice", [("1", "each")]),
    ("zest of 1 lemon", "other", "lemon", [("1", "each")]),
    ("1 cup butter, divided", "fat", "butter", [("1", "cup")]),
    ("1 T baking powder", "leavener", "baking-powder", [("1", "tbsp")]),
    ("1 t soda", "leavener", "baking-soda", [("1", "tsp")]),
    ("3/4 C sugar", "sugar", "granulated-sugar", [("3/4", "cup")]),
    ("Flour: 2 cups", "flour", "all-purpose-flour", [("2", "cup")]),
    ("Flour 2 cups", "flour", "all-purpose-flour", [("2", "cup")]),
    ("flour - 2 cups", "flour", "all-purpose-flour", [("2", "cup")]),
    ("Flour .... 2 cups", "flour", "all-purpose-flour", [("2", "cup")]),
    ("flour (2 cups)", "flour", "all-purpose-flour", [("2", "cup")]),
    ("1 cake yeast", "yeast", "fresh-yeast", [("1", "cake")]),
    ("1 yeast cake", "yeast", "fresh-yeast", [("1", "each")]),
    ("1 envelope (2 1/4 tsp) yeast", "yeast", "active-dry-yeast", [("1", "packet"), ("9/4", "tsp")]),
    ("1 (14-oz) can condensed milk", "syrup", "condensed-milk", [("14", "oz")]),
    ("1 No. 2 can crushed pineapple", "other", "pineapple", [("1", "can")]),
    ("3 cloves garlic", "other", "garlic", [("3", "clove")]),
    ("1 stick cinnamon", "other", "cinnamon-stick", [("1", "each")]),
    ("2 sticks butter", "fat", "butter", [("2", "stick")]),
    ("butter the size of an egg", "fat", "butter", [("1", "size of an egg")]),
    ("1 1/2 dozen eggs", "egg", "egg", [("18", "each")]),
    ("1 cup (2 sticks, 226 g) unsalted butter", "fat", "unsalted-butter", [("1", "cup"), ("2", "stick"), ("226", "g")]),
    ("225g/8oz butter", "fat", "butter", [("225", "g"), ("8", "oz")]),
    ("l c. sugar", "sugar", "granulated-sugar", [("1", "cup")]),
    ("Y2 tsp soda", "leavener", "baking-soda", [("1/2", "tsp")]),
    ("2 cups flour (sifted 3 times)", "flour", "all-purpose-flour", [("2", "cup")]),
    ("1 cup 2% milk", "liquid", "milk", [("1", "cup")]),
    ("2 cups 1-inch bread cubes", "other", "bread", [("2", "cup")]),
    ("1 egg, beaten with 2 Tbsp milk", "egg", "egg", [("1", "each")]),
    ("scant cup sugar", "sugar", "granulated-sugar", [("1", "cup")]),
    ("salt", "salt", "salt", []),
]


@pytest.mark.parametrize(("line", "role", "key", "amounts"), LINES)
def test_a_line(line: str, role: str, key: str, amounts: list[tuple[str, str]]) -> None:
    one = read_ingredient(line)
    assert (one.role, one.key) == (role, key)
    assert [(str(amount.quantity), amount.unit) for amount in one.amounts] == amounts


@pytest.mark.parametrize(
    ("line", "flag"),
    [
        ("1 cup butter, divided", "divided"),
        ("2 cups flour, plus more for dusting", "plus-more"),
        ("1 cup milk or water", "alternative"),
        ("1/2 cup butter or oil", "alternative"),
        ("1/2 cup nuts (optional)", "optional"),
        ("3 eggs, separated", "separated"),
        ("3 bananas, mashed", "mashed"),
        ("1 tsp each salt and soda", "each"),
        ("2 tbsp sugar, for dusting", "for-dusting"),
        ("Glaze: 1 cup powdered sugar", "for-frosting"),
    ],
)
def test_flags(line: str, flag: str) -> None:
    assert flag in read_ingredient(line).flags


@pytest.mark.parametrize("line", ["2 cups flour", "1 cup corn or similar", "1 cup sugar for the cake"])
def test_no_false_flags(line: str) -> None:
    assert not read_ingredient(line).flags & {"divided", "plus-more", "optional", "separated", "for-dusting"}


@pytest.mark.parametrize(
    ("body", "part"),
    [
        ("3 tbsp flour, for dusting", "dusting"),
        ("butter for the pan", "dusting"),
        ("1 egg, for the egg wash", "topping"),
        ("cream, to serve", "serving"),
        ("2 cups flour, plus more for dusting", ""),
        ("2 cups flour, extra for the board", ""),
        ("2 cups flour", ""),
    ],
)
def test_purpose(body: str, part: str) -> None:
    assert purpose(body, frozenset(body.replace(",", "").split())) == part


def test_a_weight_goes_before_a_volume() -> None:
    one = read_ingredient("1 cup (120 g) flour")
    assert weigh(one.key, one.amounts) == (120.0, (120.0, 120.0))


def test_what_the_pantry_does_not_know_has_no_weight_by_volume() -> None:
    assert weigh(None, read_ingredient("1 cup flour").amounts) == (None, None)


def test_the_head_of_a_phrase_is_its_last_name() -> None:
    text = "egg noodles, cooked in milk"
    names = load()(text).user_data["names"]
    head, start, end = head_name(text, 0, len(text), names)
    assert head is not None
    assert (head.text, text[start:end]) == ("egg noodles", "egg noodles")


def test_no_amounts_are_none_of_the_line() -> None:
    assert own_amounts("salt to taste", 0, 13, []) == []


@given(st.text(max_size=120))
def test_a_line_never_raises_and_its_offsets_lie_inside(line: str) -> None:
    one = read_ingredient(line)
    assert one == read_ingredient(line)
    assert 0 <= one.start <= one.end <= len(line)
    assert one.name == line[one.name_start : one.name_end]
    assert all(amount.text == line[amount.start : amount.end] for amount in one.amounts)
