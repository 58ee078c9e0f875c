"""Every cell of the published tables, applied to a recipe, to the last fraction."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.correcting.bakes import bake, corrected, exact, line

CAKE = bake(
    "shortened-cake",
    line("all-purpose-flour", "1600 g"),
    line("baking-powder", "96 tsp"),
    line("egg", "16 oz"),
    line("granulated-sugar", "16 cup"),
    line("butter", "1000 g"),
    line("milk", "16 cup"),
)

# University of Wyoming Extension, 'Altitude adjusters: baking'. Low and high of each cell.
EXTENSION = {
    # from each tsp take, tsp
    ("baking-powder", 3000): ("1/8", "1/8"),
    ("baking-powder", 5000): ("1/8", "1/4"),
    ("baking-powder", 7000): ("1/4", "1/4"),
    # from each cup take, Tbsp
    ("granulated-sugar", 3000): ("0", "1"),
    ("granulated-sugar", 5000): ("0", "2"),
    ("granulated-sugar", 7000): ("1", "3"),
    # to each cup add, Tbsp
    ("milk", 3000): ("1", "2"),
    ("milk", 5000): ("2", "4"),
    ("milk", 7000): ("3", "4"),
}


@pytest.mark.parametrize(("cell", "figures"), EXTENSION.items(), ids=str)
def test_every_cell_of_the_extension_table(cell: tuple[str, int], figures: tuple[str, str]) -> None:
    key, feet = cell
    low, high = (Fraction(figure) for figure in figures)
    whole, share = (96, Fraction(1)) if key == "baking-powder" else (16, Fraction(1, 16))
    sign = 1 if key == "milk" else -1
    for strength, figure in (("gentle", low), ("middle", (low + high) / 2), ("full", high)):
        new = exact(corrected(CAKE, feet, "extension", strength), key)
        assert (whole if new is None else new) == whole * (1 + sign * figure * share)


@pytest.mark.parametrize(("strength", "rise"), [("gentle", 15), ("middle", 20), ("full", 25)])
def test_the_extension_oven(strength: str, rise: int) -> None:
    """University of Wyoming Extension, as above: 15 to 25 F hotter; usually nothing below 3,000 ft."""
    from tests.correcting.bakes import heat

    cake = bake("shortened-cake", line("all-purpose-flour", "2 cup"), heats=[heat(350)])
    assert [e.exact for e in corrected(cake, 3000, "extension", strength).edits] == [350 + rise]
    assert corrected(cake, 2999, "extension", strength).edits == ()


# Wayne Gisslen, Professional Cooking (2014), Table 33.3: percent of the ingredient's own amount; "-" is no change.
FORMULA = {
    "baking-powder": (-1, "20", "40", "60"),
    "all-purpose-flour": (1, "-", "4", "9"),
    "egg": (1, "5/2", "9", "15"),
    "granulated-sugar": (-1, "3", "6", "9"),
    "butter": (-1, "-", "-", "9"),
    "milk": (1, "9", "15", "22"),
}


@pytest.mark.parametrize("key", FORMULA)
@pytest.mark.parametrize(("column", "feet"), [(1, 2500), (2, 5000), (3, 7500)])
def test_every_cell_of_the_professional_table(key: str, column: int, feet: int) -> None:
    row = FORMULA[key]
    sign, cell = int(row[0]), str(row[column])
    amount = next(i for i in CAKE.ingredients if i.key == key).amounts[0]
    assert amount.quantity is not None
    new = exact(corrected(CAKE, feet, "formula"), key)
    if cell == "-":
        assert new is None
    else:
        assert new == amount.quantity * (1 + sign * Fraction(cell) / 100)


def test_the_worked_example_of_the_book() -> None:
    """Gisslen, Professional Cooking (2014): 1 lb (16 oz) of eggs at 7,500 ft, 0.15 x 16 oz = 2.4 oz more: 18.4 oz."""
    assert exact(corrected(CAKE, 7500, "formula"), "egg") == Fraction("18.4")


def test_a_line_starts_where_the_dash_ends() -> None:
    """The same table: fat goes from nothing at 5,000 ft to 9 % at 7,500, so half of it half way."""
    assert exact(corrected(CAKE, 6250, "formula"), "butter") == 1000 * (1 - Fraction(9, 200))
    assert exact(corrected(CAKE, 3750, "formula"), "all-purpose-flour") == 1600 * (1 + Fraction(2, 100))


def test_how_far_the_guides_differ_at_6000_ft() -> None:
    """Half by practice (no source), 48 % by Gisslen's table, 46 % by the gas law, 22 % by the extension's middle."""
    left = {
        g: exact(corrected(CAKE, 6000, g), "baking-powder") for g in ("practice", "formula", "gas-law", "extension")
    }
    cuts = {guide: round(100 * (1 - float(new) / 96)) for guide, new in left.items() if new is not None}
    assert cuts == {"practice": 50, "formula": 48, "gas-law": 46, "extension": 22}


def test_a_table_made_for_shortened_cakes_keeps_flour_eggs_and_fat_elsewhere() -> None:
    """Gisslen's title: 'Approximate formula adjustment in shortened cakes at high altitudes'."""
    from dataclasses import replace

    muffins = replace(CAKE, kind="quick-bread", parts=(replace(CAKE.parts[0], kind="quick-bread"),))
    made = corrected(muffins, 7500, "formula")
    assert [exact(made, key) for key in ("all-purpose-flour", "egg", "butter")] == [None, None, None]
    assert exact(made, "milk") is not None
