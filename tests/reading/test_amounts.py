"""Amounts wherever they stand: the figures of each form (plain arithmetic; forms are common practice, no source)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Amount
from rewriter.reading.amounts import find
from rewriter.reading.numerals import value


def figures(text: str) -> list[tuple[object, ...]]:
    """Each amount as (quantity, unit) with what else it has: the upper end, the count."""
    return [_plain(amount) for amount in find(text)]


def _plain(amount: Amount) -> tuple[object, ...]:
    more = [f"to {amount.quantity_max}"] if amount.quantity_max is not None else []
    more += [f"x {amount.count}"] if amount.count is not None else []
    return (str(amount.quantity), amount.unit, *more)


ONE = [
    ("1/2 cup milk", "1/2", "cup", "1/2 cup"),
    ("1½cups milk", "3/2", "cup", "1½cups"),
    ("1 1/2 cups milk", "3/2", "cup", "1 1/2 cups"),
    ("1-1/2 cups milk", "3/2", "cup", "1-1/2 cups"),
    ("1&frac12; cups milk", "3/2", "cup", "1&frac12; cups"),
    (".5 l milk", "1/2", "l", ".5 l"),
    ("0,5 l milk", "1/2", "l", "0,5 l"),
    ("1,500 g flour", "1500", "g", "1,500 g"),
    ("one and one-half cups milk", "3/2", "cup", "one and one-half cups"),
    ("one and 1/2 cups milk", "3/2", "cup", "one and 1/2 cups"),
    ("three-fourths cup sugar", "3/4", "cup", "three-fourths cup"),
    ("half a cup of sugar", "1/2", "cup", "half a cup"),
    ("half of a cup of sugar", "1/2", "cup", "half of a cup"),
    ("a cup of sugar", "1", "cup", "a cup"),
    ("another cup of sugar", "1", "cup", "another cup"),
    ("a cup and a half of sugar", "3/2", "cup", "a cup and a half"),
    ("2 cupfuls and a half", "5/2", "cup", "2 cupfuls and a half"),
    ("one teaspoonful and a half of soda", "3/2", "tsp", "one teaspoonful and a half"),
    ("two hundred and fifty grams flour", "250", "g", "two hundred and fifty grams"),
    ("a dozen eggs", "12", "", "a dozen"),
    ("1 1/2 dozen eggs", "18", "", "1 1/2 dozen"),
    ("a couple of eggs", "2", "", "a couple of"),
    ("1 T sugar", "1", "tbsp", "1 T"),
    ("1 t. salt", "1", "tsp", "1 t."),
    ("2 Tbs. butter", "2", "tbsp", "2 Tbs."),
    ("2 tblsp oil", "2", "tbsp", "2 tblsp"),
    ("1 tablepsoon oil", "1", "tbsp", "1 tablepsoon"),
    ("2 tsps soda", "2", "tsp", "2 tsps"),
    ("1 c. milk", "1", "cup", "1 c."),
    ("1 C milk", "1", "cup", "1 C"),
    ("2# flour", "2", "lb", "2#"),
    ("2 lbs. flour", "2", "lb", "2 lbs."),
    ("500 gr flour", "500", "g", "500 gr"),
    ("250mL milk", "250", "ml", "250mL"),
    ("1.5 dl milk", "150", "ml", "1.5 dl"),
    ("5 cl rum", "50", "ml", "5 cl"),
    ("4 fl oz cream", "4", "floz", "4 fl oz"),
    ("2 sticks butter", "2", "stick", "2 sticks"),
    ("2 pats of butter", "2", "pat", "2 pats"),
    ("a knob of butter", "1", "knob", "a knob"),
    ("2 jiggers rum", "2", "jigger", "2 jiggers"),
    ("1 gill milk", "1", "gill", "1 gill"),
    ("1 teacup sugar", "1", "teacup", "1 teacup"),
    ("2 coffee cups flour", "2", "coffee cup", "2 coffee cups"),
    ("a wineglass of brandy", "1", "wineglass", "a wineglass"),
    ("1 saltspoonful salt", "1", "saltspoon", "1 saltspoonful"),
    ("1 dessertspoon cocoa", "1", "dessertspoon", "1 dessertspoon"),
    ("1 tumbler milk", "1", "tumbler", "1 tumbler"),
    ("butter the size of an egg", "1", "size of an egg", "the size of an egg"),
    ("butter the bigness of a walnut", "1", "size of a walnut", "the bigness of a walnut"),
    ("lard half the size of an egg", "1/2", "size of an egg", "half the size of an egg"),
    ("a cake of yeast", "1", "cake", "a cake"),
    ("1 No. 2 can pumpkin", "1", "can", "1 No. 2 can"),
    ("2 #303 cans peas", "2", "can", "2 #303 cans"),
    ("3 large eggs", "3", "", "3"),
    ("flour, 2 cups", "2", "cup", "2 cups"),
    ("Sugar - 1 cup", "1", "cup", "1 cup"),
    ("Sugar....1 cup", "1", "cup", "1 cup"),
    ("Sugar | 1 cup", "1", "cup", "1 cup"),
]


@pytest.mark.parametrize(("text", "quantity", "unit", "words"), ONE)
def test_one_amount(text: str, quantity: str, unit: str, words: str) -> None:
    (amount,) = find(text)
    assert (str(amount.quantity), amount.unit) == (quantity, unit)
    assert amount.text.removeprefix("the ") == words.removeprefix("the ")
    assert text[amount.start : amount.end] == amount.text


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("2-3 tbsp milk", 2, 3, "tbsp"),
        ("2 to 3 tbsp milk", 2, 3, "tbsp"),
        ("2 or 3 tbsp milk", 2, 3, "tbsp"),
        ("two or three cups", 2, 3, "cup"),
        ("1/4–1/2 cup milk", Fraction(1, 4), Fraction(1, 2), "cup"),
        ("1/4-1/2 cup milk", Fraction(1, 4), Fraction(1, 2), "cup"),
        ("3-3½ cups flour", 3, Fraction(7, 2), "cup"),
        ("1-1 1/2 cups flour", 1, Fraction(3, 2), "cup"),
        ("1 1/2 to 2 cups flour", Fraction(3, 2), 2, "cup"),
        ("2 cups to 3 cups flour", 2, 3, "cup"),
        ("one or two eggs", 1, 2, ""),
    ],
)
def test_a_range_is_one_amount(text: str, low: Fraction, high: Fraction, unit: str) -> None:
    (amount,) = find(text)
    assert (amount.quantity, amount.quantity_max, amount.unit) == (low, high, unit)


@pytest.mark.parametrize(("text", "quantities"), [("8-2 cups", ["8", "2"]), ("3 - 1 cups", ["3", "1"])])
def test_a_fall_is_no_range(text: str, quantities: list[str]) -> None:
    found = find(text)
    assert all(amount.quantity_max is None for amount in found)
    assert [str(amount.quantity) for amount in found] == quantities


@pytest.mark.parametrize(
    ("text", "hedge"),
    [
        ("about 2 cups flour", "about"),
        ("approx. 2 cups flour", "approx"),
        ("~2 cups flour", "~"),
        ("a scant cup sugar", "scant"),
        ("scant 1/2 cup sugar", "scant"),
        ("1 scant cup sugar", "scant"),
        ("scant cup sugar", "scant"),
        ("1 heaping Tbsp cocoa", "heaping"),
        ("heaping tablespoon cocoa", "heaping"),
        ("a generous cup of milk", "generous"),
        ("2 good cups flour", "good"),
        ("1 rounded tsp soda", "rounded"),
        ("1 level tsp soda", ""),
        ("1 firmly packed cup brown sugar", ""),
        ("1 packed cup brown sugar", ""),
    ],
)
def test_hedges(text: str, hedge: str) -> None:
    (amount,) = find(text)
    assert amount.approximate == hedge
    assert amount.unit in ("cup", "tbsp", "tsp")


def test_a_way_to_drop_dough_is_no_amount() -> None:
    assert figures("drop by rounded teaspoon onto the tin") == []
    assert figures("Drop the dough by heaping tablespoons.") == []


@pytest.mark.parametrize(
    ("text", "quantity", "unit"),
    [
        ("1 cup plus 2 Tbsp flour", Fraction(9, 8), "cup"),
        ("1 cup + 2 Tbsp flour", Fraction(9, 8), "cup"),
        ("1 cup and 2 tablespoons flour", Fraction(9, 8), "cup"),
        ("1 cup (120 g) plus 2 Tbsp flour", Fraction(9, 8), "cup"),
        ("1 stick + 2 Tbsp butter", Fraction(5, 4), "stick"),
        ("1 cup less 1 Tbsp flour", Fraction(15, 16), "cup"),
        ("1 cup minus 2 Tbsp flour", Fraction(7, 8), "cup"),
        ("2 cups, less 2 tablespoons", Fraction(15, 8), "cup"),
        ("2 lb 4 oz flour", Fraction(9, 4), "lb"),
        ("2 lbs. 4 oz. flour", Fraction(9, 4), "lb"),
        ("2 pounds and 4 ounces flour", Fraction(9, 4), "lb"),
        ("1 kg 200 g flour", Fraction(6, 5), "kg"),
        ("1 quart 1 cup milk", Fraction(5, 4), "quart"),
    ],
)
def test_composites_are_one_amount(text: str, quantity: Fraction, unit: str) -> None:
    # NIST Handbook 44, Appendix C: 16 tablespoons a cup, 16 ounces a pound, 4 cups a quart
    (amount,) = find(text)
    assert (amount.quantity, amount.unit) == (quantity, unit)


@pytest.mark.parametrize("text", ["MILK 5 QTS.     2 CUPS", "Milk | 1 qt | 2 cups", "1 cup\t2 tbsp"])
def test_columns_of_a_table_are_never_added_up(text: str) -> None:
    assert len(find(text)) == 2


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 cup (120 g) flour", [("1", "cup"), ("120", "g")]),
        ("225g/8oz butter", [("225", "g"), ("8", "oz")]),
        ("8 oz / 1 cup sugar", [("8", "oz"), ("1", "cup")]),
        ("1 cup/240 ml milk", [("1", "cup"), ("240", "ml")]),
        ("1 cup (2 sticks, 226 g) butter", [("1", "cup"), ("2", "stick"), ("226", "g")]),
        ("1 envelope (2 1/4 tsp) yeast", [("1", "packet"), ("9/4", "tsp")]),
        ("1 can (14 oz) milk", [("1", "can"), ("14", "oz")]),
    ],
)
def test_dual_measures_are_separate_amounts(text: str, expected: list[tuple[str, str]]) -> None:
    assert figures(text) == expected


@pytest.mark.parametrize(
    ("text", "size", "count"),
    [
        ("1 (14-oz) can condensed milk", ("14", "oz"), 1),
        ("1 (14 oz.) can condensed milk", ("14", "oz"), 1),
        ("1 14-ounce can milk", ("14", "oz"), 1),
        ("one 14.5-ounce can tomatoes", ("29/2", "oz"), 1),
        ("two 400g tins tomatoes", ("400", "g"), 2),
        ("2 x 400g tins tomatoes", ("400", "g"), 2),
        ("2x400g tins tomatoes", ("400", "g"), 2),
        ("2 × 400 g tins tomatoes", ("400", "g"), 2),
        ("half a 10-oz jar jam", ("10", "oz"), Fraction(1, 2)),
        ("1/2 of a 10-oz jar jam", ("10", "oz"), Fraction(1, 2)),
        ("1/2 (10-oz) jar jam", ("10", "oz"), Fraction(1, 2)),
    ],
)
def test_containers_hold_a_size_each(text: str, size: tuple[str, str], count: Fraction) -> None:
    (amount,) = find(text)
    assert (str(amount.quantity), amount.unit, amount.count) == (*size, count)


@pytest.mark.parametrize(
    "text",
    [
        "a 9x13 pan",
        "a 9 x 13-inch pan",
        'a 9"x13" pan',
        "a 9-inch round pan",
        "an 8 inch square tin",
        "a 23 cm tin",
        "bake 20 minutes",
        "for 1 hour",
        "1 1/2 hours",
        "1-1/2 hrs",
        "350°F",
        "180C",
        "350 degrees",
        "at 350",
        "gas mark 4",
        "Step 2",
        "page 12",
        "speed 2",
        "$3.50",
        "£2",
        "2-inch pieces",
        "1/2-inch thick",
        "1-inch cubes",
        '¼" thick',
        "40%",
        "2% milk",
        "3 times",
        "in 2 batches",
        "two layers",
        "two weeks",
        "4 servings",
        "8 people",
    ],
)
def test_never_an_amount(text: str) -> None:
    assert figures(text) == []


@given(st.text(max_size=200))
def test_offsets_lie_inside_and_the_text_is_the_words(text: str) -> None:
    at = 0
    for amount in find(text):
        assert at <= amount.start < amount.end <= len(text)
        assert amount.text == text[amount.start : amount.end]
        assert amount.quantity is None or amount.quantity > 0
        assert amount.quantity_max is None or amount.quantity is None or amount.quantity_max > amount.quantity
        at = amount.end


PIECES = st.sampled_from(
    "1 2 10 1/2 ½ one half a dozen couple cup cups T t tbsp oz g lb can (14 oz) plus less - – to or x / , . & and the "
    "size of an egg flour sugar l I Y2 No. # ~ about scant &frac12; \n 0 1/0 %".split(" ")
)


@given(st.lists(PIECES, max_size=14))
def test_words_of_amounts_in_any_order_never_raise(words: list[str]) -> None:
    text = " ".join(words)
    found = find(text)
    assert found == find(text)
    assert all(amount.text == text[amount.start : amount.end] for amount in found)


@given(
    st.integers(0, 40),
    st.sampled_from(["", "1/2", "1/4", "3/4", "1/3", "2/3", "1/8"]),
    st.sampled_from(["cups", "tsp", "g"]),
)
def test_a_written_amount_is_read_as_it_was_meant(whole: int, part: str, unit: str) -> None:
    figure = " ".join(filter(None, [str(whole) if whole or not part else "", part]))
    found = find(f"{figure} {unit} flour")
    meant = Fraction(whole) + (value(part) if part else 0)
    assert [amount.quantity for amount in found] == ([meant] if meant else [])


def test_a_stretch_is_looked_at_alone() -> None:
    text = "2 cups flour; 3 eggs"
    assert [amount.text for amount in find(text, 14)] == ["3"]
    assert [amount.text for amount in find(text, 0, 12)] == ["2 cups"]


@pytest.mark.parametrize(
    ("text", "seen"),
    [("pan a inches", []), ("an inch thick", []), ("cut a inches thick, 1 cup milk", ["1 cup"])],
)
def test_an_article_before_inches_is_passed_and_not_gone_back_to(text: str, seen: list[str]) -> None:
    assert [amount.text for amount in find(text)] == seen
