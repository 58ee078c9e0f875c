"""Rounding to spoons, cups and scales keeps within its bounds."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.writing.scales import in_jug, in_ounces, on_scale
from rewriter.writing.spoons import Term, nearest

# NIST Handbook 44, Appendix C: a cup is 16 tablespoons and 48 teaspoons.
# A pinch as 1/16 tsp: common practice, no source.
TSP = {"cup": Fraction(48), "tbsp": Fraction(3), "tsp": Fraction(1), "pinch": Fraction(1, 16)}
# Scant and rounded: a sixteenth of a teaspoon, or of so many tablespoons (our own convention).
SHADE = {"": 0, "scant": -1, "rounded": 1}

amounts = st.fractions(min_value=Fraction(1, 8), max_value=480, max_denominator=96)


def in_tsp(terms: tuple[Term, ...]) -> Fraction:
    """The terms added up by the published sizes."""
    return sum((term.count * TSP[term.unit] + SHADE[term.shade] * _sixteenth(term) for term in terms), Fraction(0))


def _sixteenth(term: Term) -> Fraction:
    return Fraction(1, 16) if term.unit == "tsp" else term.count * 3 / 16


@given(
    amounts,
    st.fractions(min_value=Fraction(1, 4), max_value=24, max_denominator=64),
    st.sampled_from(["cup", "tbsp", "tsp"]),
)
def test_measure_is_within_its_bound_and_its_terms_add_up(tsp: Fraction, bound: Fraction, unit: str) -> None:
    found = nearest(tsp, bound, unit)
    assert in_tsp(found.terms) == found.tsp
    assert abs(found.tsp - tsp) <= bound
    assert len(found.terms) <= 3


@given(amounts, st.sampled_from(["cup", "tbsp", "tsp"]))
def test_leaveners_are_within_a_sixteenth_of_a_teaspoon(tsp: Fraction, unit: str) -> None:
    assert abs(nearest(tsp, Fraction(1, 16), unit).tsp - tsp) <= Fraction(1, 16)


@given(st.integers(1, 47 * 16).map(lambda n: Fraction(n, 16)), st.sampled_from(["cup", "tbsp", "tsp"]))
def test_with_no_room_the_measure_is_exact(tsp: Fraction, unit: str) -> None:
    found = nearest(tsp, Fraction(0), unit)
    assert found.tsp == tsp
    assert in_tsp(found.terms) == tsp


@given(amounts.filter(lambda tsp: tsp >= 12))
def test_two_terms_are_enough_where_the_correction_is_a_sixteenth(tsp: Fraction) -> None:
    assert len(nearest(tsp * Fraction(15, 16), tsp / 64, "cup").terms) <= (2 if tsp >= 48 else 3)


@given(
    st.fractions(min_value=1, max_value=5000, max_denominator=8),
    st.fractions(min_value=Fraction(1, 20), max_value=200, max_denominator=20),
    st.sampled_from([on_scale, in_jug, in_ounces]),
)
def test_scales_and_jugs_are_within_their_bound(value: Fraction, bound: Fraction, rounded: object) -> None:
    assert callable(rounded)
    finest = Fraction(1, 16) if rounded is in_ounces else Fraction(1, 20)
    assert abs(rounded(value, bound) - value) <= max(bound, finest)


@pytest.mark.parametrize(
    ("tsp", "bound", "unit", "terms"),
    [
        (45, "3/4", "cup", [(1, "cup"), (-1, "tbsp")]),  # a cup of sugar, 1/16 less
        (51, "1/4", "cup", [(1, "cup"), (1, "tbsp")]),
        (6, "1/2", "cup", [(2, "tbsp")]),  # 1/8 cup is 2 Tbsp
        (9, "1/2", "cup", [(3, "tbsp")]),
        (24, "1", "cup", [("1/2", "cup")]),
        (2, "1/4", "tbsp", [(2, "tsp")]),
        ("7/8", "1/16", "tsp", [("7/8", "tsp")]),
        ("1/16", "1/16", "tsp", [(1, "pinch")]),
    ],
)
def test_the_simplest_measure_is_chosen(tsp: object, bound: str, unit: str, terms: list[tuple[object, str]]) -> None:
    found = nearest(Fraction(str(tsp)), Fraction(bound), unit).terms
    assert [(term.count, term.unit) for term in found] == [(Fraction(str(count)), name) for count, name in terms]
