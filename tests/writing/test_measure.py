"""Exact figures become amounts a person can measure, in the recipe's own manner."""

from fractions import Fraction

import pytest

from rewriter.model import Amount, Edit, Heat, Plan, Recipe, Twin
from rewriter.writing import measure
from rewriter.writing.heats import in_words
from tests.writing.cards import AIR, CARD, amount, card, change_of, edit, item


@pytest.mark.parametrize(
    ("text", "words", "quantity", "unit", "exact", "new"),
    [
        ("1 cup it", "1 cup", "1", "cup", "15/16", "1 cup less 1 Tbsp"),
        ("1 cup it, 2 tablespoons milk", "1 cup", "1", "cup", "15/16", "1 cup less 1 tablespoon"),
        ("1 c. it, 2 T. milk", "1 c.", "1", "cup", "15/16", "1 c. less 1 T."),
        ("1 CUP it", "1 CUP", "1", "cup", "15/16", "1 CUP less 1 TBSP"),
        ("2 cups it", "2 cups", "2", "cup", "15/8", "2 cups less 2 Tbsp"),
        ("2 cups it, ½ tsp salt", "2 cups", "2", "cup", "15/8", "2 cups less 2 Tbsp"),
        ("1½cups it", "1½cups", "3/2", "cup", "5/4", "1¼cups"),
        ("1-1/2 cups it", "1-1/2 cups", "3/2", "cup", "5/4", "1-1/4 cups"),
        ("1.5 cups it", "1.5 cups", "3/2", "cup", "5/4", "1.25 cups"),
        ("one and one-half cups it", "one and one-half cups", "3/2", "cup", "5/4", "one and one-quarter cups"),
        ("two cups it", "two cups", "2", "cup", "15/8", "two cups less two tablespoons"),
        ("a cupful it", "a cupful", "1", "cup", "3/4", "three-quarters cupful"),
        ("about 2 cups it", "about 2 cups", "2", "cup", "3/2", "about 1 1/2 cups"),
        ("1/4 cup it", "1/4 cup", "1/4", "cup", "3/16", "3 Tbsp"),
        ("1 Tbsp it", "1 Tbsp", "1", "tbsp", "1/2", "1 1/2 tsp"),
        ("200g it", "200g", "200", "g", "375/2", "188g"),
        ("200 grams it", "200 grams", "200", "g", "375/2", "188 grams"),
        ("1.5 kg it", "1.5 kg", "3/2", "kg", "45/32", "1.405 kg"),
        ("240 ml it", "240 ml", "240", "ml", "265", "265 ml"),
        ("2 lb it", "2 lb", "2", "lb", "15/8", "1 lb 14 oz"),
        ("8 oz it", "8 oz", "8", "oz", "15/2", "7 1/2 oz"),
        ("1 pint it", "1 pint", "1", "pint", "9/8", "1 pint + 1/4 cup"),
        ("1 teacup it", "1 teacup", "1", "teacup", "11/12", "1 teacup less 1 tablespoon"),
        ("2 cups it, ½ tsp salt", "2 cups", "2", "cup", "7/4", "1¾ cups"),
        ("1,800 g it", "1,800 g", "1800", "g", "3375/2", "1,690 g"),
        ("1 rounded tsp it", "1 rounded tsp", "1", "tsp", "1/2", "1/2 rounded tsp"),
        ("two level tablespoonfuls it", "two level tablespoonfuls", "2", "tbsp", "1", "one level tablespoonful"),
    ],
)
def test_written_as_the_recipe_writes(text: str, words: str, quantity: str, unit: str, exact: str, new: str) -> None:
    assert change_of(text, words, quantity, unit, exact) == new


@pytest.mark.parametrize(
    ("words", "quantity", "exact", "new"),
    [
        ("2 tsp", "2", "1", "1 tsp"),
        ("1 tsp", "1", "7/8", "7/8 tsp"),
        ("1/2 tsp", "1/2", "7/16", "scant 1/2 tsp"),
        ("1/2 tsp", "1/2", "1/4", "1/4 tsp"),
        ("1/8 tsp", "1/8", "1/16", "a pinch"),
    ],
)
def test_leaveners_are_measured_finely(words: str, quantity: str, exact: str, new: str) -> None:
    assert change_of(f"{words} it", words, quantity, "tsp", exact, role="leavener") == new


def test_grams_stand_beside_a_tiny_spoonful() -> None:
    text = "1/4 tsp soda"
    soda = item(text, "soda", "leavener", amount(text, "1/4 tsp", "1/4", "tsp"), grams=1.15)
    [change] = measure(text, Recipe("", "cookie", (soda,), end=len(text)), Plan((edit(soda, "leavener", "1/8"),)))
    # A teaspoon of baking soda weighs 4.6 g (USDA FoodData Central, from memory).
    assert change.new == "1/8 tsp (0.6 g)"


def test_an_envelope_of_yeast_becomes_teaspoons() -> None:
    # An envelope holds 2 1/4 tsp (common practice); three quarters of it are 1 11/16 tsp.
    assert change_of("1 envelope it", "1 envelope", "1", "packet", "3/4", role="yeast") == "1 3/4 teaspoons"


def test_both_ends_of_a_range_are_measured() -> None:
    text = "2-3 cups it"
    ranged = Amount(0, 8, "2-3 cups", Fraction(2), Fraction(3), "cup")
    flour = item(text, "it", "flour", ranged)
    change = measure(
        text, Recipe("", "cookie", (flour,), end=11), Plan((edit(flour, "f", "9/4", exact_max=Fraction(13, 4)),))
    )[0]
    assert change.new == "2 1/4 - 3 1/4 cups"
    assert (change.exact, change.exact_max) == (Fraction(9, 4), Fraction(13, 4))


def test_several_containers_are_given_as_a_whole() -> None:
    assert change_of("2 x 400g tins it", "2 x 400g", "400", "g", "375", count=Fraction(2)).startswith("750")


@pytest.mark.parametrize(
    ("words", "quantity", "exact", "new"),
    [
        ("2", "2", "3", "3"),
        ("3", "3", "7/2", "3 + 1 1/2 Tbsp beaten egg"),
        ("two", "2", "5/2", "two plus one and one-half tablespoons beaten egg"),
    ],
)
def test_eggs_are_whole_and_a_part_is_beaten(words: str, quantity: str, exact: str, new: str) -> None:
    assert change_of(f"{words} it", words, quantity, "each", exact, role="egg") == new


def test_what_rounds_to_the_old_amount_is_no_change() -> None:
    assert change_of("1 pinch it", "1 pinch", "1", "pinch", "3/4", role="leavener") == ""
    assert change_of("2 it", "2", "2", "each", "2.02", role="egg") == ""


def test_every_figure_of_an_oven_setting_follows_the_one_exact_figure() -> None:
    recipe, plan = card()
    changes = [change for change in measure(CARD, recipe, plan) if change.rule == "oven"]
    # 375 F is 190.6 C; a fan oven is set 20 C lower (common practice); gas mark n is 250 F and 25 F a mark.
    assert [change.new for change in changes] == ["375°F", "190°C", "170°C fan", "Gas 5", "375°F"]
    assert all(CARD[change.start : change.end] == change.old for change in changes)
    assert {change.exact for change in changes} == {Fraction(375)}


def test_twins_follow_where_only_the_setting_has_an_edit() -> None:
    text = "Bake at 180C/fan 160C/gas 4."
    twins = (Twin(13, 21, "fan 160C", Fraction(160), "fan-C"), Twin(22, 27, "gas 4", Fraction(4), "gas"))
    heat = Heat(8, 27, text[8:27], Fraction(356), Fraction(180), twins, scale="C", value=Fraction(180))
    one = Edit("oven", 8, 27, "up", Fraction(381), "", "", target=heat)
    changes = measure(text, Recipe("", "shortened-cake", heats=(heat,), end=len(text)), Plan((one,)))
    assert [(change.old, change.new) for change in changes] == [
        ("180C", "195C"),
        ("fan 160C", "fan 175C"),
        ("gas 4", "gas 5"),
    ]


def test_a_moderate_oven_becomes_the_next_word_with_its_figure() -> None:
    text = "Bake in a moderate oven."
    heat = Heat(8, 23, "a moderate oven", Fraction(350), None, scale="word")
    edits = (Edit("oven", 8, 23, "up", Fraction(375), "", "", target=heat),)
    [change] = measure(text, Recipe("", "shortened-cake", heats=(heat,), end=len(text)), Plan(edits))
    # Moderately hot is 375 F (oven words in use, NIST metric kitchen temperatures page).
    assert change.new == "a moderately hot oven, 375 F"


def test_water_stands_beside_a_sour_liquid_and_again_in_the_method() -> None:
    text = "1 cup buttermilk\n\nStir in the buttermilk."
    sour = item(text, "buttermilk", "liquid", amount(text, "1 cup", "1", "cup"))
    beside = Edit(
        "liquid",
        0,
        5,
        "up",
        Fraction(13, 4),
        "w",
        "s",
        unit="tbsp",
        addition="water",
        target=sour.amounts[0],
        ingredient=sour,
    )
    recipe = Recipe("", "quick-bread", (sour,), end=len(text), method=((18, len(text)),))
    first, again = measure(text, recipe, Plan((beside,)))
    assert (first.start, first.end, first.new, first.direction) == (0, 5, "+ 3 Tbsp water", "up")
    assert (again.direction, again.old, text[: again.start]) == ("note", "", text[:-1])


def test_water_beside_a_dual_amount_is_said_once() -> None:
    text = "2/3 cup (160ml) cream"
    cream = item(text, "cream", "liquid", amount(text, "2/3 cup", "2/3", "cup"), amount(text, "160ml", "160", "ml"))
    beside = [
        Edit(
            "liquid",
            a.start,
            a.end,
            "up",
            Fraction(exact),
            "w",
            "s",
            unit=unit,
            addition="water",
            target=a,
            ingredient=cream,
        )
        for a, exact, unit in zip(cream.amounts, ("9/4", "33"), ("tbsp", "ml"), strict=True)
    ]
    [change] = measure(text, Recipe("", "quick-bread", (cream,), end=len(text)), Plan(tuple(beside)))
    assert (change.old, change.new) == ("2/3 cup", "+ 2 Tbsp (35ml) water")


@pytest.mark.parametrize(
    ("words", "fahrenheit", "new"),
    [("a rather slow oven", 340, "a moderate oven, 340 F"), ("moderately quick oven", 400, "hot oven, 400 F")],
)
def test_oven_words_are_moved_whole(words: str, fahrenheit: int, new: str) -> None:
    assert in_words(words, Fraction(fahrenheit)) == new


def test_a_packet_of_anything_but_yeast_stays_a_packet() -> None:
    assert change_of("2 packets it", "2 packets", "2", "packet", "1", role="leavener") == "1 packet"
    assert change_of("1 packet it", "1 packet", "1", "packet", "15/16", role="sugar") == ""


def test_an_insertion_goes_to_the_end_of_its_line() -> None:
    text = "1 cup nuts, chopped\n2 eggs\n"
    nuts = item(text, "nuts", "other", amount(text, "1 cup", "1", "cup"))
    put = Edit("liquid", nuts.end, nuts.end, "insert", Fraction(2), "w", "s", unit="tbsp", addition="water")
    [change] = measure(text, Recipe("", "cookie", (nuts,), end=len(text)), Plan((put,)))
    assert (change.start, change.end, change.old, change.new) == (19, 19, "", "+ 2 Tbsp water")


def test_changes_come_in_reading_order_with_all_they_need() -> None:
    recipe, plan = card()
    changes = measure(CARD, recipe, plan)
    assert [change.start for change in changes] == sorted(change.start for change in changes)
    assert all(change.why and change.source and change.exact is not None for change in changes)
    assert AIR.boiling_f == pytest.approx(200.1, abs=0.1)
