"""Numbers as recipes write them: each form with its exact value (plain arithmetic; usage is common practice)."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.reading.numerals import NUMBER, value

VALUES = [
    ("2", Fraction(2)),
    ("1,000", Fraction(1000)),
    ("1,500.5", Fraction(3001, 2)),
    ("0.5", Fraction(1, 2)),
    (".5", Fraction(1, 2)),
    ("1.25", Fraction(5, 4)),
    ("2,5", Fraction(5, 2)),
    ("0,75", Fraction(3, 4)),
    ("1/2", Fraction(1, 2)),
    ("1 1/2", Fraction(3, 2)),
    ("1-1/2", Fraction(3, 2)),
    ("1–1/2", Fraction(3, 2)),
    ("1&1/2", Fraction(3, 2)),
    ("1 & 1/2", Fraction(3, 2)),
    ("1+1/2", Fraction(3, 2)),
    ("1.1/2", Fraction(3, 2)),
    ("1 and 1/2", Fraction(3, 2)),
    ("1½", Fraction(3, 2)),
    ("1 ½", Fraction(3, 2)),
    ("7⅞", Fraction(63, 8)),
    ("⅒", Fraction(1, 10)),
    ("1⁄2", Fraction(1, 2)),
    ("1 1⁄2", Fraction(3, 2)),
    ("¹⁄₂", Fraction(1, 2)),
    ("1 ¹/₂", Fraction(3, 2)),
    ("&frac12;", Fraction(1, 2)),
    ("1&frac12;", Fraction(3, 2)),
    ("2 &#8531;", Fraction(7, 3)),
    ("&#xbd;", Fraction(1, 2)),
    ("15/16", Fraction(15, 16)),
    ("12/16", Fraction(3, 4)),
    ("11/2", Fraction(3, 2)),
    ("21/4", Fraction(9, 4)),
    ("10/3", Fraction(10, 3)),
    ("one", Fraction(1)),
    ("seventeen", Fraction(17)),
    ("nineteen", Fraction(19)),
    ("twenty-four", Fraction(24)),
    ("forty five", Fraction(45)),
    ("ninety", Fraction(90)),
    ("hundred", Fraction(100)),
    ("a hundred", Fraction(100)),
    ("two hundred and fifty", Fraction(250)),
    ("one and one-half", Fraction(3, 2)),
    ("one and a half", Fraction(3, 2)),
    ("one and 1/2", Fraction(3, 2)),
    ("two and two-thirds", Fraction(8, 3)),
    ("one and three quarters", Fraction(7, 4)),
    ("three-fourths", Fraction(3, 4)),
    ("three fourths", Fraction(3, 4)),
    ("two thirds", Fraction(2, 3)),
    ("a third", Fraction(1, 3)),
    ("one-eighth", Fraction(1, 8)),
    ("one sixteenth", Fraction(1, 16)),
    ("half", Fraction(1, 2)),
    ("half a", Fraction(1, 2)),
    ("half of a", Fraction(1, 2)),
    ("a half", Fraction(1, 2)),
    ("a quarter of a", Fraction(1, 4)),
    ("a dozen", Fraction(12)),
    ("half a dozen", Fraction(6)),
    ("two dozen", Fraction(24)),
    ("1 1/2 dozen", Fraction(18)),
    ("1½ dozen", Fraction(18)),
    ("1½ doz", Fraction(18)),
    ("2 doz.", Fraction(24)),
    ("a dozen and a half", Fraction(18)),
    ("a couple", Fraction(2)),
    ("a couple of", Fraction(2)),
]
SCANNED = [
    ("l", Fraction(1)),
    ("I", Fraction(1)),
    ("l/2", Fraction(1, 2)),
    ("I/2", Fraction(1, 2)),
    ("l 1/2", Fraction(3, 2)),
    ("l l/4", Fraction(5, 4)),
    ("Y2", Fraction(1, 2)),
    ("V2", Fraction(1, 2)),
    ("l Y2", Fraction(3, 2)),
    ("1Y2", Fraction(3, 2)),
    ("2 V2", Fraction(5, 2)),
    ("Y4", Fraction(1, 4)),
    ("2 Y4", Fraction(9, 4)),
    ("1O", Fraction(10)),
]


@pytest.mark.parametrize(("text", "expected"), VALUES + SCANNED)
def test_value(text: str, expected: Fraction) -> None:
    assert value(text) == expected


@pytest.mark.parametrize(("text", "expected"), VALUES)
def test_the_pattern_takes_in_the_whole_number(text: str, expected: Fraction) -> None:
    match = re.match(NUMBER, f"{text} cups", re.IGNORECASE)
    assert match is not None
    assert value(match[0]) == expected


@pytest.mark.parametrize("text", ["", " ", "1/0", "cups", "flour", "1 1/0", "and", "x", "1//2"])
def test_no_number_is_an_error_not_a_guess(text: str) -> None:
    with pytest.raises(ValueError):
        value(text)


@given(
    st.integers(0, 99), st.integers(1, 15), st.integers(2, 16), st.sampled_from([" ", "-", " and ", " & ", "+", "–"])
)
def test_a_mixed_number_round_trips(whole: int, top: int, bottom: int, joint: str) -> None:
    fraction = Fraction(top % bottom or 1, bottom)
    typed = f"{top % bottom or 1}/{bottom}"
    assert value(f"{whole}{joint}{typed}" if whole else typed) == whole + fraction


@given(st.integers(0, 200), st.sampled_from("½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"))
def test_a_vulgar_fraction_means_what_unicode_says(whole: int, sign: str) -> None:
    # Unicode Character Database: the numeric value of the character
    top, bottom = unicodedata.normalize("NFKC", sign).split("⁄")
    assert value(f"{whole or ''}{sign}") == whole + Fraction(int(top), int(bottom))
    assert abs(float(Fraction(int(top), int(bottom))) - unicodedata.numeric(sign)) < 1e-6


@given(st.integers(1, 99_999), st.integers(0, 99))
def test_decimals_are_exact(whole: int, cents: int) -> None:
    assert value(f"{whole}.{cents:02}") == Fraction(whole * 100 + cents, 100)
    assert value(f"{whole:,}") == whole


@given(st.text(max_size=24))
def test_any_text_is_a_fraction_or_a_value_error(text: str) -> None:
    try:
        found = value(text)
    except ValueError:
        return
    assert isinstance(found, Fraction)
    assert found >= 0
