"""Oven words, gas marks, household measures, kinds and roles."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rewriter import pantry
from rewriter.pantry import shelf


# Source: NIST, metric kitchen, cooking temperatures; midpoints of the ranges in use.
@pytest.mark.parametrize(
    ("words", "fahrenheit"),
    [
        ("very slow", 250),
        ("slow", 300),
        ("moderately slow", 325),
        ("moderate", 350),
        ("Moderate oven", 350),
        ("moderately hot", 375),
        ("hot", 400),
        ("very hot", 450),
    ],
)
def test_oven_words(words: str, fahrenheit: int) -> None:
    found = pantry.oven_word(words)
    assert found is not None
    assert found.fahrenheit == fahrenheit
    assert not found.check


# Source: American cookbooks 1890 to 1920, which disagree: so the reading is a question.
@pytest.mark.parametrize("words", ["quick", "brisk", "gentle"])
def test_words_old_books_disagree_on_are_asked_about(words: str) -> None:
    found = pantry.oven_word(words)
    assert found is not None
    assert found.check


@pytest.mark.parametrize("words", ["rather quick", "cool", "very cool", "fairly hot"])
def test_further_words_are_known(words: str) -> None:
    assert pantry.oven_word(words) is not None
    assert words in pantry.oven_phrases()


def test_every_word_lies_in_its_range_and_hotter_words_are_hotter() -> None:
    words = [pantry.oven_word(word) for word in pantry.oven_phrases()]
    assert all(word is not None and word.low <= word.fahrenheit <= word.high for word in words)
    ladder = ["very slow", "slow", "moderately slow", "moderate", "moderately hot", "hot", "very hot"]
    heats = [word.fahrenheit for name in ladder if (word := pantry.oven_word(name))]
    assert heats == sorted(set(heats))


def test_other_words_say_nothing_about_an_oven() -> None:
    assert pantry.oven_word("clean") is None


# Source: British gas marks, common practice: mark 1 is 275 F, each mark 25 F.
@pytest.mark.parametrize(
    ("mark", "fahrenheit"),
    [("1/4", 225), ("1/2", 250), ("1", 275), ("2", 300), ("4", 350), ("6", 400), ("9", 475), ("10", 500)],
)
def test_gas_marks(mark: str, fahrenheit: int) -> None:
    assert pantry.gas_mark(Fraction(mark)) == fahrenheit
    assert pantry.to_gas_mark(Fraction(fahrenheit)) == Fraction(mark)


@pytest.mark.parametrize("mark", ["0", "11", "1/3", "21/2"])
def test_no_such_gas_mark(mark: str) -> None:
    assert pantry.gas_mark(Fraction(mark)) is None


def test_measures_and_the_unit_file_agree() -> None:
    for unit, row in pantry.measures().items():
        assert pantry.convert(Fraction(1), unit, row.base) == row.quantity, unit


# Source: American cookbooks 1890 to 1920, which disagree.
@pytest.mark.parametrize("unit", ["teacup", "wineglass", "saltspoon", "tumbler", "size of an egg", "size of a walnut"])
def test_disagreeing_measures_are_asked_about_with_the_alternatives(unit: str) -> None:
    row = pantry.measure(unit)
    assert row is not None
    assert row.check
    assert row.others


def test_an_exact_unit_is_no_household_measure() -> None:
    assert pantry.measure("cup") is None


@pytest.mark.parametrize(
    ("words", "unit"),
    [
        ("wine glasses", "wineglass"),
        ("teacupfuls", "teacup"),
        ("coffee cups", "coffee cup"),
        ("size of an egg", "size of an egg"),
    ],
)
def test_spellings_of_measures(words: str, unit: str) -> None:
    assert dict(pantry.measure_phrases())[words] == unit


def test_cans_by_number_hold_more_the_higher_the_number() -> None:
    # Source: trade can sizes, from memory.
    cans = shelf.tables()["measures"]["cans"]
    cups = [Fraction(cans[number]["cups"]) for number in ("1", "300", "303", "2", "2 1/2", "3", "10")]
    assert cups == sorted(cups)


def test_the_fourteen_kinds_and_fourteen_roles() -> None:
    assert len(pantry.kinds()) == 14
    assert len(pantry.roles()) == 14
    still = {key for key, kind in pantry.kinds().items() if not kind.rises}
    assert still == {"pastry", "steam-raised", "custard", "confection", "savoury", "uncooked"}
    assert all(kind.text.endswith(".") for kind in pantry.kinds().values())
