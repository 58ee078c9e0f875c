"""Units and their spellings. Canonical names are the project's; what they measure: NIST Handbook 44, Appendix C."""

from __future__ import annotations

import re

import pytest

from rewriter.reading import units
from rewriter.reading.units import UNIT, canonical, dimension, words_pattern

SPELLED = {
    "cup": "cup cups c. C c cupful cupfuls cupsful cps",
    "tbsp": "T T. Tbs Tbs. tbsp Tbsp. TBSP tblsp tbl tablespoon tablespoons tablespoonfuls tablepsoon tablesoons",
    "tsp": "t t. tsp tsps Tsp TSP. teaspoon teaspoons teaspoonful teaspon teapsoon",
    "oz": "oz oz. ounce ounces OZ",
    "floz": "fl.oz floz",
    "lb": "lb lbs lb. lbs. pound pounds #",
    "g": "g gr gm gms gram grams gramme",
    "kg": "kg kgs kilo kilos",
    "ml": "ml mL ML mls cc millilitre milliliters",
    "dl": "dl decilitre",
    "cl": "cl centiliters",
    "l": "l L litre liters",
    "pint": "pt pt. pts pint pints",
    "quart": "qt qts quart quarts",
    "gal": "gal gallon gallons",
    "stick": "stick sticks",
    "pinch": "pinch pinches",
    "dash": "dash dashes",
    "packet": "pkg pkg. package packages envelope sachet packet",
    "can": "can cans tin tins",
    "clove": "clove cloves",
    "slice": "slice slices",
    "pat": "pat pats",
    "knob": "knob knobs",
    "jigger": "jigger jiggers",
    "gill": "gill gills",
    "teacup": "teacup teacupful tea-cup teacups",
    "coffee cup": "coffeecup coffee-cup coffeecupfuls",
    "wineglass": "wineglass wineglassful wine-glass",
    "saltspoon": "saltspoon saltspoonful salt-spoonful",
    "dessertspoon": "dessertspoon dessertspoonful dsp",
    "tumbler": "tumbler tumblerful",
    "cake": "cake cakes yeast-cake",
}


@pytest.mark.parametrize(("unit", "spelling"), [(unit, one) for unit, many in SPELLED.items() for one in many.split()])
def test_canonical(unit: str, spelling: str) -> None:
    assert canonical(spelling) == unit


@pytest.mark.parametrize(("spelling", "unit"), [("fl oz", "floz"), ("fl. oz.", "floz"), ("fluid ounces", "floz")])
def test_units_of_two_words(spelling: str, unit: str) -> None:
    assert canonical(spelling) == unit


def test_a_large_t_is_a_tablespoon_and_a_small_one_a_teaspoon() -> None:
    assert (canonical("T"), canonical("t"), canonical("T."), canonical("t.")) == ("tbsp", "tsp", "tbsp", "tsp")


@pytest.mark.parametrize(
    "text", ["cupboard", "table", "canister", "lbx", "garlic", "tinned", "gradually", "creamy", "# 2"]
)
def test_a_unit_is_a_whole_word(text: str) -> None:
    assert re.match(UNIT, text, re.IGNORECASE) is None


@pytest.mark.parametrize(("text", "unit"), [("cupsflour", "cups"), ("tspsalt", "tsp"), ("cupcakes", "")])
def test_units_run_together_with_the_next_word(text: str, unit: str) -> None:
    match = re.match(UNIT, text, re.IGNORECASE)
    assert (match[0] if match else "") == unit


@pytest.mark.parametrize(
    ("unit", "measures"),
    [("g", "mass"), ("lb", "mass"), ("cup", "volume"), ("gill", "volume"), ("each", "count"), ("stick", "count")],
)
def test_dimension(unit: str, measures: str) -> None:
    assert dimension(unit) == measures


def test_sizes_of_units() -> None:
    # NIST Handbook 44, Appendix C: cup = 16 tablespoons = 48 teaspoons; gallon = 4 quarts = 8 pints; pound = 16 ounces
    volume, mass = units.VOLUME, units.MASS
    assert volume["cup"] == 16 * volume["tbsp"] == 48 * volume["tsp"]
    assert volume["gal"] == 4 * volume["quart"] == 8 * volume["pint"]
    assert mass["lb"] == 16 * mass["oz"]
    assert float(mass["lb"]) == pytest.approx(453.59237)
    assert float(volume["cup"]) == pytest.approx(236.5882365)


def test_a_tree_of_words_matches_each_word_and_nothing_else() -> None:
    words = ["tea", "tea cup", "teaspoon", "t"]
    tree = re.compile(words_pattern(words))
    assert all(tree.fullmatch(word) for word in words)
    assert tree.fullmatch("tea  cup")
    assert not any(tree.fullmatch(word) for word in ("te", "teas", "cup", ""))


def test_every_spelling_in_the_table_is_found_by_its_own_unit() -> None:
    for unit, spellings in units.table("units")["unit"].items():
        for spelling in spellings:
            assert canonical(spelling) == unit, spelling
