"""Kitchen units against pint's own registry, NIST Handbook 44, the FDA's household measures and the British Act."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import UnitRegistry

from rewriter import pantry
from rewriter.pantry import shelf
from rewriter.pantry.unitfile import read_units

OUTSIDE: UnitRegistry[Fraction] = UnitRegistry(non_int_type=Fraction)
CONTRACT = "cup tbsp tsp ml l g kg oz lb floz pint quart gill gal stick pinch dash packet can clove slice each".split()
HOUSEHOLD = ["teacup", "coffee cup", "wineglass", "saltspoon", "dessertspoon", "tumbler", "jigger", "knob", "pat"]
HOUSEHOLD += ["size of an egg", "size of a walnut"]


# Source: the default registry of pint 0.25, which takes its US and imperial units from NIST and the Weights and
# Measures Act.
@pytest.mark.parametrize(
    ("unit", "system", "theirs"),
    [
        ("cup", "us", "cup"),
        ("tbsp", "us", "tablespoon"),
        ("tsp", "us", "teaspoon"),
        ("floz", "us", "fluid_ounce"),
        ("gill", "us", "gill"),
        ("pint", "us", "pint"),
        ("quart", "us", "quart"),
        ("gal", "us", "gallon"),
        ("fluiddram", "us", "fluid_dram"),
        ("minim", "us", "minim"),
        ("jigger", "us", "shot"),
        ("l", "us", "liter"),
        ("dl", "us", "deciliter"),
        ("cl", "us", "centiliter"),
        ("pint", "imperial", "imperial_pint"),
        ("quart", "imperial", "imperial_quart"),
        ("gal", "imperial", "imperial_gallon"),
        ("floz", "imperial", "imperial_fluid_ounce"),
        ("cup", "imperial", "imperial_cup"),
        ("gill", "imperial", "imperial_gill"),
    ],
)
def test_volume_as_pint_has_it(unit: str, system: str, theirs: str) -> None:
    assert pantry.factor(unit, system) == OUTSIDE.Quantity(Fraction(1), theirs).to("milliliter").magnitude


@pytest.mark.parametrize(
    ("unit", "theirs"), [("lb", "pound"), ("oz", "ounce"), ("dram", "dram"), ("kg", "kilogram"), ("stone", "stone")]
)
def test_mass_as_pint_has_it(unit: str, theirs: str) -> None:
    assert pantry.factor(unit) == OUTSIDE.Quantity(Fraction(1), theirs).to("gram").magnitude


# Source: NIST Handbook 44, Appendix C, exact values.
@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        ("gal", "3785.411784"),
        ("cup", "236.5882365"),
        ("tsp", "4.92892159375"),
        ("lb", "453.59237"),
        ("oz", "28.349523125"),
    ],
)
def test_handbook_44(unit: str, exact: str) -> None:
    assert pantry.factor(unit) == Fraction(exact)


# Source: 21 CFR 101.9(b)(5)(viii), household measures of nutrition labels.
@pytest.mark.parametrize(("unit", "size"), [("cup", 240), ("tbsp", 15), ("tsp", 5), ("floz", 30), ("oz", 28)])
def test_label_measures(unit: str, size: int) -> None:
    assert pantry.factor(unit, "label") == size


# Source: metric cup and spoons, Australian tablespoon: common practice; imperial pint: Weights and Measures Act 1985.
@pytest.mark.parametrize(
    ("unit", "system", "size"),
    [
        ("cup", "metric", "250"),
        ("tbsp", "metric", "15"),
        ("tsp", "metric", "5"),
        ("tbsp", "aus", "20"),
        ("cup", "aus", "250"),
        ("pint", "imperial", "568.26125"),
    ],
)
def test_other_systems(unit: str, system: str, size: str) -> None:
    assert pantry.factor(unit, system) == Fraction(size)


# Source: American cookbooks 1890 to 1920, which disagree.
@pytest.mark.parametrize(
    ("unit", "cups"),
    [("gill", "1/2"), ("teacup", "3/4"), ("coffee cup", "1"), ("wineglass", "1/4"), ("tumbler", "1"), ("stick", "1/2")],
)
def test_household_volumes(unit: str, cups: str) -> None:
    assert pantry.convert(Fraction(1), unit, "cup") == Fraction(cups)


@pytest.mark.parametrize(("unit", "ounces"), [("size of an egg", 2), ("size of a walnut", 1)])
def test_household_weights(unit: str, ounces: int) -> None:
    assert pantry.convert(Fraction(1), unit, "oz") == ounces


def test_a_dessertspoon_is_two_teaspoons_and_a_saltspoon_a_quarter() -> None:
    assert pantry.convert(Fraction(1), "dessertspoon", "tsp") == 2
    assert pantry.convert(Fraction(1), "saltspoon", "tsp") == Fraction(1, 4)


@pytest.mark.parametrize("unit", CONTRACT + HOUSEHOLD)
def test_every_promised_unit_is_known(unit: str) -> None:
    assert unit in pantry.known_units()
    assert pantry.factor(unit) > 0
    assert pantry.dimension(unit) in ("volume", "mass", "count")


@pytest.mark.parametrize(("unit", "into"), [("cup", "g"), ("oz", "floz"), ("can", "clove"), ("each", "g")])
def test_what_needs_the_ingredient_does_not_convert(unit: str, into: str) -> None:
    with pytest.raises(pantry.UnitError):
        pantry.convert(Fraction(1), unit, into)


@pytest.mark.parametrize("unit", ["", "cups", "furlong"])
def test_an_unknown_unit_is_an_error(unit: str) -> None:
    with pytest.raises(pantry.UnitError):
        pantry.factor(unit)


VOLUMES = sorted(unit for unit in pantry.known_units() if pantry.dimension(unit) == "volume")


@given(
    quantity=st.fractions(min_value=0, max_value=1000, max_denominator=96),
    unit=st.sampled_from(VOLUMES),
    into=st.sampled_from(VOLUMES),
    system=st.sampled_from(["us", "metric", "imperial", "aus"]),
)
def test_there_and_back_is_exact(quantity: Fraction, unit: str, into: str, system: str) -> None:
    assert pantry.convert(pantry.convert(quantity, unit, into, system), into, unit, system) == quantity


def test_the_shelf_holds_what_the_definition_file_says() -> None:
    read = read_units(shelf.ROOM / "units.txt")
    assert {unit: [str(size), kind] for unit, (size, kind) in read.items()} == shelf.units()
