"""Figures a person can measure: eggs, leaveners after a deep cut, corrections lost in measuring, syrup degrees."""

from fractions import Fraction

import pytest

from rewriter.model import Amount, Heat
from rewriter.writing.amounts import amount
from rewriter.writing.figures import Bound
from rewriter.writing.heats import reset
from rewriter.writing.manner import listen

VOICE = listen("1 1/2 cups sugar\n2 tsp soda\n", 0, 27)
LEAVENER = Bound(least_tsp=Fraction(1, 16), least_g=Fraction(23, 80))


def words(text: str, was: str, unit: str, exact: str, bound: Bound) -> str | None:
    """One amount measured, in words."""
    found = amount(Amount(0, len(text), text, Fraction(was), unit=unit), Fraction(exact), None, VOICE, bound)
    return None if found is None else found.words


@pytest.mark.parametrize(
    ("was", "exact", "said"),
    [
        ("3", "38/10", "4"),  # 0.8 of an egg more is an egg more
        ("2", "31/10", "3"),
        ("3", "37/10", "3 + 2 1/2 tbsp beaten egg"),
        ("3", "327/100", "3 + 1 tbsp beaten egg"),  # 9 % of three eggs (Gisslen, Table 33.3, 5,000 ft)
    ],
)
def test_whole_eggs_where_they_are_near_enough(was: str, exact: str, said: str) -> None:
    found = words(was, was, "each", exact, Bound(egg="beaten egg"))
    assert found is not None
    assert found.lower() == said


@pytest.mark.parametrize(
    ("was", "exact", "said"),
    [
        ("1", "9/28", "rounded 1/4 tsp"),  # 0.32 tsp: 1/4 would be a fifth less lift than the guide leaves
        ("2", "682/1000", "3/4 tsp"),
        ("5/2", "152/100", "1 1/2 tsp"),
        ("3", "1824/1000", "2 tsp"),
    ],
)
def test_a_deep_cut_leaves_its_leavener_within_a_sixth(was: str, exact: str, said: str) -> None:
    assert words("1 tsp", was, "tsp", exact, LEAVENER) == said


def test_three_quarters_of_half_a_cake_of_yeast() -> None:
    assert words("1/2 cake", "1/2", "cake", "3/8", LEAVENER) == "3/8 cake"


@pytest.mark.parametrize(
    ("exact", "said"),
    [("99/200", None), ("31/64", "1/2 cup less 2 tsp")],  # 1/4 tsp less of half a cup; 3/4 tsp less
)
def test_what_is_lost_in_measuring_is_no_correction(exact: str, said: str | None) -> None:
    found = words("1/2 cup", "1/2", "cup", exact, Bound())
    assert (found is None) == (said is None)


@pytest.mark.parametrize(
    ("place", "exact", "said"),
    [("syrup", "2836/10", "283"), ("syrup", "290", "290"), ("food", "2836/10", "284"), ("oven", "3726/10", "375")],
)
def test_a_syrup_stops_at_the_degree_below(place: str, exact: str, said: str) -> None:
    """300 F less the drop in the boiling point at 9,000 ft, 16.4 F: printed as 283 F, stopped early, never late."""
    heat = Heat(0, 5, "300 F", Fraction(300), None, place=place)
    assert reset(heat, heat, "300 F", Fraction(exact), None) == f"{said} F"
