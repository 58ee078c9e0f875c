"""Syrup, frying fat, doneness and foam cakes against what is printed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976

from rewriter.correcting import GUIDES
from tests.correcting.bakes import bake, corrected, heat, line


def stage(fahrenheit: int, feet: float) -> Fraction:
    (edit,) = corrected(bake("confection", heats=[heat(fahrenheit, place="syrup")]), feet).edits
    assert edit.exact is not None
    return edit.exact


# Standard candy stages at sea level, from memory: soft ball 235, firm ball 245, hard ball 250, soft crack 270, hard
# crack 300 F.
STAGES = [235, 245, 250, 270, 300]


@pytest.mark.parametrize("fahrenheit", STAGES)
@pytest.mark.parametrize("feet", [3000, 5280, 6500, 9000])
def test_a_stage_falls_with_the_boiling_point(fahrenheit: int, feet: int) -> None:
    """The boiling point by CoolProp at the pressure of fluids' 1976 atmosphere; to a tenth of a degree."""
    boils = PropsSI("T", "P", ATMOSPHERE_1976(feet * 0.3048).P, "Q", 0, "Water") * 9 / 5 - 459.67
    sea = PropsSI("T", "P", 101_325, "Q", 0, "Water") * 9 / 5 - 459.67
    assert float(stage(fahrenheit, feet)) == pytest.approx(fahrenheit - (sea - boils), abs=0.1)


@pytest.mark.parametrize("fahrenheit", STAGES)
@pytest.mark.parametrize("feet", range(3000, 10_001, 1000))
def test_about_two_degrees_each_1000_ft(fahrenheit: int, feet: int) -> None:
    """Colorado State University Extension, and nine printed candy recipes: 2 F lower for each 1,000 ft."""
    assert float(fahrenheit - stage(fahrenheit, feet)) == pytest.approx(2 * feet / 1000, rel=0.1)


@pytest.mark.parametrize(("feet", "printed"), [(5280, 290), (6500, 288), (9000, 283)])
def test_brittle(feet: int, printed: int) -> None:
    """300 F less the drop in the boiling point, in whole degrees below it: a syrup is stopped early, never late."""
    assert int(stage(300, feet)) == printed


@pytest.mark.parametrize("guide", GUIDES)
@pytest.mark.parametrize("fahrenheit", [145, 160, 165])
def test_safe_minimum_temperatures_never_fall(guide: str, fahrenheit: int) -> None:
    """USDA FSIS safe minimum internal temperatures: 165 F poultry and reheated, 160 ground meat and egg dishes, 145."""
    for place in ("food", "oil", "syrup", "water"):
        for kind in ("savoury", "custard", "lean-yeast", "rich-yeast", "confection"):
            made = corrected(bake(kind, heats=[heat(fahrenheit, place=place, purpose="doneness")]), 14_000, guide)
            assert made.edits == ()


def test_an_angel_food_cake_goes_the_way_of_the_printed_pair() -> None:
    """'Mile High Cakes' leaflet as printed in the Verde News, 2 April 2001: direction and order, not the size."""
    # sugar down, then down again; flour up; oven 400 to 425 F at 10,000 ft
    cake = bake(
        "foam-cake",
        line("cake-flour", "17/16 cup"),
        line("granulated-sugar", "5/4 cup"),
        line("egg-white", "12 each"),
        heats=[heat(400)],
    )
    for guide in ("formula", "extension", "gas-law"):
        mile, high, higher = (
            {e.ingredient.key if e.ingredient else "oven": e.exact for e in corrected(cake, feet, guide).edits}
            for feet in (5000, 7500, 10_000)
        )
        assert mile["granulated-sugar"] >= high["granulated-sugar"] >= higher["granulated-sugar"]  # type: ignore[operator]
        assert higher["granulated-sugar"] < Fraction(5, 4)  # type: ignore[operator]
        assert 400 < higher["oven"] <= 425  # type: ignore[operator]
    later = corrected(cake, 7500).later
    assert [e.rule for e in later] == ["flour"]
    assert any("softer peak" in n.text for n in corrected(cake, 7500).notes)
