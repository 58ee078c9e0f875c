"""Grams: USDA cup weights, eggs by size, spoons, packets, ranges, and what cannot be weighed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter import pantry


# Source: USDA FoodData Central, SR Legacy portions, from memory.
@pytest.mark.parametrize(
    ("key", "cup"),
    [
        ("all-purpose-flour", 125),
        ("sifted-flour", 115),
        ("whole-wheat-flour", 120),
        ("granulated-sugar", 200),
        ("brown-sugar", 220),
        ("powdered-sugar", 120),
        ("honey", 339),
        ("molasses", 337),
        ("corn-syrup", 341),
        ("maple-syrup", 315),
        ("milk", 244),
        ("buttermilk", 245),
        ("water", 237),
        ("butter", 227),
        ("vegetable-oil", 218),
        ("shortening", 205),
        ("sour-cream", 230),
        ("yogurt", 245),
        ("cocoa", 86),
        ("condensed-milk", 306),
        ("cornstarch", 128),
        ("chocolate-chip", 170),
        ("raisin", 150),
        ("applesauce", 244),
        ("pumpkin-puree", 245),
    ],
)
def test_cup_weights(key: str, cup: float) -> None:
    found = pantry.grams(pantry.entry(key), 1, "cup")
    assert found is not None
    assert found[1] == pytest.approx(cup)


# Source: USDA FoodData Central, SR Legacy portions, from memory.
@pytest.mark.parametrize(
    ("key", "spoon"),
    [
        ("baking-powder", 4.6),
        ("baking-soda", 4.6),
        ("cream-of-tartar", 3.0),
        ("salt", 6.0),
        ("active-dry-yeast", 3.1),
    ],
)
def test_teaspoon_weights(key: str, spoon: float) -> None:
    found = pantry.grams(pantry.entry(key), 1, "tsp")
    assert found is not None
    assert found[1] == pytest.approx(spoon)


# Source: USDA egg sizes without the shell, from memory; an envelope of dry yeast is 7 g (as printed on it).
@pytest.mark.parametrize(
    ("key", "quantity", "unit", "size", "grams"),
    [
        ("egg", 3, "each", "", 150),
        ("egg", 2, "", "large", 100),
        ("egg", 2, "each", "medium", 88),
        ("egg", 1, "each", "jumbo", 63),
        ("egg-white", 4, "each", "", 132),
        ("egg-yolk", 4, "each", "", 68),
        ("active-dry-yeast", 2, "packet", "", 14),
        ("fresh-yeast", 1, "cake", "", 17),
        ("butter", 1, "stick", "", 113.4),
        ("unsweetened-chocolate", 2, "square", "", 56.7),
        ("gelatin", 1, "packet", "", 7),
        ("banana", 3, "each", "", 354),
        ("condensed-milk", 1, "can", "", 397),
    ],
)
def test_pieces_and_packets(key: str, quantity: int, unit: str, size: str, grams: float) -> None:
    found = pantry.grams(pantry.entry(key), quantity, unit, size=size)
    assert found is not None
    assert found[1] == pytest.approx(grams)


# Source: an envelope of dry yeast is 7 g and 2 1/4 tsp (as printed on it).
def test_an_envelope_is_two_and_a_quarter_teaspoons() -> None:
    spoons = pantry.grams(pantry.entry("active-dry-yeast"), Fraction(9, 4), "tsp")
    packet = pantry.grams(pantry.entry("active-dry-yeast"), 1, "packet")
    assert spoons is not None
    assert packet is not None
    assert spoons[1] == pytest.approx(packet[1], rel=0.02)


# Source: '1 qt sifted flour = 1 lb; 1 pt sugar = 1 lb', American cookbooks 1890 to 1920: a rule of thumb, within 15 %.
@pytest.mark.parametrize(("key", "unit"), [("sifted-flour", "quart"), ("granulated-sugar", "pint"), ("butter", "pint")])
def test_the_old_rule_of_a_pound(key: str, unit: str) -> None:
    found = pantry.grams(pantry.entry(key), 1, unit)
    assert found is not None
    assert found[1] == pytest.approx(453.6, rel=0.15)


def test_flour_by_the_cup_has_an_honest_range_and_by_weight_none() -> None:
    flour = pantry.entry("all-purpose-flour")
    assert pantry.grams(flour, 1, "cup") == (115, 125, 145)
    assert pantry.grams(flour, 250, "g") == (250, 250, 250)
    pound = pantry.grams(flour, 1, "lb")
    assert pound is not None
    assert pound[1] == pytest.approx(453.59237)


def test_a_metric_cup_holds_more() -> None:
    sugar = pantry.entry("granulated-sugar")
    metric, american = pantry.grams(sugar, 1, "cup", "metric"), pantry.grams(sugar, 1, "cup")
    assert metric is not None
    assert american is not None
    assert metric[1] / american[1] == pytest.approx(250 / 236.5882365)


@pytest.mark.parametrize(("key", "unit"), [("egg", "bunch"), ("chicken", "cup"), ("milk", ""), ("milk", "hogshead")])
def test_what_cannot_be_weighed_is_none(key: str, unit: str) -> None:
    assert pantry.grams(pantry.entry(key), 1, unit) is None


@given(
    row=st.sampled_from(list(pantry.entries().values())),
    unit=st.sampled_from(["cup", "tbsp", "tsp", "g", "lb", "ml", "each", "packet", "stick"]),
    quantity=st.fractions(min_value=Fraction(1, 16), max_value=64, max_denominator=16),
    system=st.sampled_from(["us", "metric", "imperial", "aus"]),
)
def test_low_usual_high_in_order_and_twice_as_much_weighs_twice(
    row: pantry.Entry, unit: str, quantity: Fraction, system: str
) -> None:
    once, twice = pantry.grams(row, quantity, unit, system), pantry.grams(row, 2 * quantity, unit, system)
    assert (once is None) == (twice is None)
    if once is not None and twice is not None:
        assert 0 < once[0] <= once[1] <= once[2]
        assert twice == pytest.approx(tuple(2 * grams for grams in once), abs=1e-5)
