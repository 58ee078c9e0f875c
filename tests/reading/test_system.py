"""Whose cup, spoon or pint it is, where the line says so.

Sizes: a metric cup 250 ml, an Australian tablespoon 20 ml, an imperial pint 568 ml (their national standards, from
memory); a US cup 236.6 ml and a US tablespoon 14.8 ml (NIST Handbook 44, appendix C).
"""

from __future__ import annotations

import pytest

import rewriter
from rewriter.pantry import units


@pytest.mark.parametrize(
    ("line", "unit", "system", "ml"),
    [
        ("2 metric cups flour", "cup", "metric", 250),
        ("1 Australian tablespoon golden syrup", "tbsp", "aus", 20),
        ("3 level Australian tablespoons cocoa", "tbsp", "aus", 20),
        ("2 imperial pints milk", "pint", "imperial", 568),
        ("1 UK pint milk", "pint", "imperial", 568),
        ("2 U.S. cups flour", "cup", "us", 237),
        ("2 cups flour", "cup", "us", 237),
    ],
)
def test_the_word_before_a_unit_tells_its_size(line: str, unit: str, system: str, ml: int) -> None:
    (amount,) = rewriter.read_ingredient(line).amounts
    assert (amount.unit, amount.system) == (unit, system)
    assert round(units.factor(unit, system)) == ml


def test_what_is_written_keeps_the_word() -> None:
    cake = "Date Cake\n\n2 metric cups flour\n1 metric cup sugar\n2 tsp baking powder\n1 metric cup milk\nBake at 180C."
    text = rewriter.rewrite(cake, "8,200 ft").text
    assert "metric cup [→" in text
    assert all("metric cup" in mark.split("]")[0] for mark in text.split("metric cup [→ ")[1:])
