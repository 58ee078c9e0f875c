"""Heats: figures, scales, twins, places and purposes (common practice, no source, unless said otherwise)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Heat
from rewriter.reading.heats import find_heats, to_celsius, to_fahrenheit


def only(text: str) -> Heat:
    """The one heat of a text."""
    found = find_heats(text)
    assert len(found) == 1, [(heat.text, heat.place) for heat in found]
    return found[0]


FIGURES = [
    ("Bake at 350F.", "350F", 350),
    ("Bake at 350°F.", "350°F", 350),
    ("Bake at 350 ° F.", "350 ° F", 350),
    ("Bake at 350 degrees F.", "350 degrees F", 350),
    ("Bake at 350º for an hour.", "350º", 350),
    ("Bake at 350˚F", "350˚F", 350),
    ("Bake at 350℉", "350℉", 350),
    ("Bake at 350&deg;F", "350&deg;F", 350),
    ("Bake at 350 degrees.", "350 degrees", 350),
    ("Bake at 350* until set", "350", 350),
    ("Bake at 350 degrees Fahrenheit", "350 degrees Fahrenheit", 350),
    ("Bake at 350F degrees until done", "350F degrees", 350),
    ("Bake at 350 Deg. F", "350 Deg. F", 350),
    ("BAKE AT 350 F.", "350 F", 350),
    ("Preheat oven to 3500 F.", "3500 F", 350),
    ('Preheat oven to 350"F.', '350"F', 350),
    ("Preheat oven to 350OF.", "350OF", 350),
    ("Preheat oven to 350o F.", "350o F", 350),
    ("Preheat oven to 35O°F.", "35O°F", 350),
    ("Turn the oven to 350.", "350", 350),
    ("Preheat oven 425", "425", 425),
    ("oven 350", "350", 350),
    ("Oven: 375", "375", 375),
    ("Bake 45 minutes at 325", "325", 325),
    ("Bake 8 min. at 375.", "375", 375),
    ("Bake 375 for 12 minutes.", "375", 375),
    ("lower to 325", "325", 325),
    ("reduce heat to 300 and go on", "300", 300),
    ("Drop the temperature to 400.", "400", 400),
    ("in a 350 degree oven", "350 degree", 350),
    ("in a preheated 350-degree oven", "350-degree", 350),
    ("Preheat the oven to\n350 and butter a tin.", "350", 350),
    ("Bake at three hundred and fifty degrees.", "three hundred and fifty degrees", 350),
    ("Bake at four hundred degrees.", "four hundred degrees", 400),
    ("Bake at three-fifty for an hour.", "three-fifty", 350),
    ("Bake at gas 4.", "gas 4", 350),
    ("Gas Mark 6", "Gas Mark 6", 400),
    ("Heat the oven, Gas Mark ½.", "Gas Mark ½", 250),
    ("Heat the oven to 180C.", "180C", 356),
    ("Heat the oven to 180 °C.", "180 °C", 356),
    ("Heat the oven to 200 degrees Celsius.", "200 degrees Celsius", 392),
    ("Heat the oven to 200 degrees Celcius.", "200 degrees Celcius", 392),
    ("Set a fan oven to 160C.", "160C", 356),
    ("Use a 325°F convection oven.", "325°F", 350),
]


@pytest.mark.parametrize(("text", "figure", "fahrenheit"), FIGURES)
def test_one_oven_figure(text: str, figure: str, fahrenheit: int) -> None:
    heat = only(text)
    assert (heat.text, heat.fahrenheit, heat.place) == (figure, fahrenheit, "oven")
    assert text[heat.start : heat.end] == figure


# Middles of the ranges of the NIST metric kitchen temperatures page; quick ovens: old cookbooks; both from memory.
WORDS = [
    ("Bake in a moderate oven.", "moderate oven", 350),
    ("Bake in a moderate\noven one hour.", "moderate\noven", 350),
    ("bake in a slow oven", "slow oven", 300),
    ("Bake in a very hot oven", "very hot oven", 450),
    ("bake in a rather quick oven", "rather quick oven", 375),
    ("Bake in a brisk oven.", "brisk oven", 400),
    ("Have the oven moderately hot.", "oven moderately hot", 375),
    ("The oven should be moderate.", "oven should be moderate", 350),
    ("not too hot an oven", "not too hot an oven", 375),
    ("Bake at a moderate heat.", "moderate heat", 350),
]


@pytest.mark.parametrize(("text", "words", "fahrenheit"), WORDS)
def test_oven_words(text: str, words: str, fahrenheit: int) -> None:
    heat = only(text)
    assert (heat.text, heat.fahrenheit, heat.scale, heat.place) == (words, fahrenheit, "word", "oven")


def test_oven_words_disputed_by_old_books_are_not_sure() -> None:
    assert not only("bake in a quick oven").sure
    assert only("bake in a moderate oven").sure


def test_range_of_oven_words() -> None:
    heat = only("Bake in a slow to moderate oven.")
    assert (heat.fahrenheit, heat.maximum) == (300, 350)


TWINS = [
    ("Preheat oven to 180C/160C fan/gas 4.", "C", 356, [("160C", "fan-C"), ("gas 4", "gas")]),
    ("Heat oven to 180°C (fan 160°C), gas mark 4", "C", 356, [("160°C", "fan-C"), ("gas mark 4", "gas")]),
    ("Heat oven to 180 °C/160 fan", "C", 356, [("160", "fan-C")]),
    ("Heat oven to 160C/fan 140C/gas 3.", "C", 320, [("140C", "fan-C"), ("gas 3", "gas")]),
    ("Heat oven to 200C fan/220C/425F/gas 7", "fan-C", 425, [("220C", "C"), ("425F", "F"), ("gas 7", "gas")]),
    ("Bake at 350 degrees F (177 degrees C)", "F", 350, [("177 degrees C", "C")]),
    ("Bake at 350 F / 175 C", "F", 350, [("175 C", "C")]),
    ("Bake at 302°f (150°c).", "F", 302, [("150°c", "C")]),
    ("Bake at 350F/180", "F", 350, [("180", "C")]),
    ("Bake at 170 C or 340 F.", "C", 340, [("340 F", "F")]),
    ("Bake at 350°F (325°F convection).", "F", 350, [("325°F", "fan-F")]),
    ("Heat the oven to 190°C (375°F) or 170°C (340°F) fan.", "C", 375,
     [("375°F", "F"), ("170°C", "fan-C"), ("340°F", "fan-F")]),
    ("Set the oven to 170C. If you have a fan oven set it to 150C.", "C", 338, [("150C", "fan-C")]),
    ("Bake in a moderate oven (350°F).", "word", 350, [("350°F", "F")]),
    ("Bake in a moderate (350 F) oven.", "word", 350, [("350 F", "F")]),
    ("Bake in a slow 300° oven.", "word", 300, [("300°", "F")]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "scale", "fahrenheit", "twins"), TWINS)
def test_one_setting_written_more_than_once(
    text: str, scale: str, fahrenheit: int, twins: list[tuple[str, str]]
) -> None:
    heat = only(text)
    assert (heat.scale, heat.fahrenheit) == (scale, fahrenheit)
    assert [(twin.text, twin.scale) for twin in heat.twins] == twins
    assert all(text[twin.start : twin.end] == twin.text for twin in heat.twins)


RANGES = [
    ("Bake at 325-350F.", 325, 350),
    ("Bake at 350 to 375 F.", 350, 375),
    ("Bake between 350 and 375°F.", 350, 375),
    ("Bake at 350°–375°.", 350, 375),
    ("Set oven to 375-400.", 375, 400),
    ("oven temperature: 180-200 °C", 356, 392),
]


@pytest.mark.parametrize(("text", "low", "high"), RANGES)
def test_a_range_is_one_heat(text: str, low: int, high: int) -> None:
    heat = only(text)
    assert (heat.fahrenheit, heat.maximum) == (low, high)


PLACES = [
    ("Heat the oil to 350°F.", "oil", "fry"),
    ("Heat 2 inches of oil in a Dutch oven over medium heat to 365°F.", "oil", "fry"),
    ("Fry at 190C.", "oil", "fry"),
    ("Heat the fat to 370 degrees and fry the doughnuts.", "oil", "fry"),
    ("Drop into deep fat at 375.", "oil", "fry"),
    ("Boil to 238°F, soft ball stage.", "syrup", "stage"),
    ("Cook until a candy thermometer reads 300.", "syrup", "stage"),
    ("Boil the sugar to 118°C.", "syrup", "stage"),
    ("Bake until the internal temperature is 165F.", "food", "doneness"),
    ("Bake until the center reads 200°F.", "food", "doneness"),
    ("Roast until the chicken registers 165 degrees.", "food", "doneness"),
    ("Cool to 100°F.", "food", "cool"),
    ("Temper the couverture at 88°F.", "food", "temper"),
    ("Scald the milk to 180°F.", "food", "scald"),
    ("1 cup warm water (110F)", "water", "proof"),
    ("lukewarm water, 105-115F", "water", "proof"),
    ("bring the milk to 110", "water", "proof"),
    ("Preheat the griddle to 375°F.", "pan", "griddle"),
    ("Preheat the waffle iron to 400.", "pan", "griddle"),
    ("Preheat the oven to 350°F.", "oven", "preheat"),
    ("Preheat the oven to 350°F with the skillet inside.", "oven", "preheat"),
    ("Oven to 350°F, rack in the middle.", "oven", "preheat"),
    ("Turn the oven down to 325°F.", "oven", "bake"),
    ("Bake 25 minutes, until golden and 190°F inside.", "food", "doneness"),
    ("Bake 60 minutes, to 172°F, set at the edge.", "food", "doneness"),
    ("Reheat to 165 degrees.", "food", "doneness"),
    ("Keep warm at 200°F.", "oven", "keep-warm"),
    ("Bulk rise at 76°F.", "food", "proof"),
    ("Bake on a hot griddle, 380 degrees.", "pan", "griddle"),
    ("Bake the plums with their sugar at 180°C.", "oven", "bake"),
    ("Cook the sugar to 250°F.", "syrup", "stage"),
    ("Mix, roll in balls. 350, 10-12 min.", "oven", "bake"),
    ("BAKE 20 MIN. AT 350, JUST TILL GOLD.", "oven", "bake"),
    ("FIRM BALL, 245 ON THE THERMOMETER", "syrup", "stage"),
    ("Brush with oil and bake at 400°F.", "oven", "bake"),
    ("Bake in the preheated 425°F oven.", "oven", "bake"),
    ("Bake in a water bath at 325°F.", "oven", "bake"),
    ("Keep warm in a 200F oven.", "oven", "keep-warm"),
    ("Keep warm in a low oven and serve with syrup.", "oven", "keep-warm"),
    ("Toast the pecans at 350°F for 8 minutes.", "oven", "toast"),
    ("Roast the squash at 400°F.", "oven", "roast"),
    ("Preheat the oven to 400°F. Roast the squash until soft.", "oven", "roast"),
    ("Preheat the oven to 350°F. Toast the nuts, then bake the cake.", "oven", "preheat"),
]


@pytest.mark.parametrize(("text", "place", "purpose"), PLACES)
def test_place_and_purpose(text: str, place: str, purpose: str) -> None:
    heat = only(text)
    assert (heat.place, heat.purpose) == (place, purpose)


def test_steps_stay_apart() -> None:
    heats = find_heats("Bake at 425°F for 10 minutes, then lower the oven to 350 and bake 30 more.")
    assert [heat.fahrenheit for heat in heats] == [425, 350]


NOT_HEATS = [
    "Rotate the pan 180 degrees halfway through.",
    "Cut at a 45 degree angle.",
    "Once the oven is hot, add the tins.",
    "Take the loaf from the hot oven.",
    "Preheat an oven big enough for 2 pans.",
    "12 c. flour, 120 g sugar, 350 g flour, 250 ml milk",
    "Serves 350. Page 200.",
    "Bake 25 to 30 minutes.",
    "350 cookies, 400 calories, 180 people",
    "Cook over moderate heat.",
    "Light the gas stove; use a gas grill for 10 minutes.",
    "a 9x13 pan, 23 cm",
    "Reduce to 250 ml.",
    "In 1950 the oven was new.",
    "$350 for an oven",
    "My oven lies by 20 degrees.",
    "Set the oven 25 degrees hotter.",
    "Raise the oven by 25°F.",
    "I make these, 60 of them.",
    "She baked three hundred for the fair.",
    "sugar, 350, flour",
]


@pytest.mark.parametrize("text", NOT_HEATS)
def test_not_a_heat(text: str) -> None:
    assert find_heats(text) == []


def test_the_hot_oven_of_a_set_oven_is_no_second_setting() -> None:
    assert only("Preheat the oven to 450°F. Slide the loaf into the hot oven.").fahrenheit == 450


@pytest.mark.parametrize(
    ("text", "scale", "fahrenheit", "sure"),
    [
        ("200 g flour\n100 g sugar\n50 ml milk\nBake at 180 for 20 minutes.", "C", 356, True),
        ("200 g flour\n100 g sugar\n50 ml milk\nBake at 220 for 20 minutes.", "C", 428, True),
        ("2 cups flour\n1 cup sugar\nBake at 225 for 20 minutes.", "F", 225, True),
        ("Bake at 220 for 20 minutes.", "F", 220, False),
        ("Bake at 350 for 20 minutes.", "F", 350, True),
    ],
)
def test_scale_by_context(text: str, scale: str, fahrenheit: int, sure: bool) -> None:
    heat = only(text)
    assert (heat.scale, heat.fahrenheit, heat.sure) == (scale, fahrenheit, sure)


def test_exact_conversion() -> None:
    assert only("Bake at 175°C.").fahrenheit == Fraction(347)
    assert only("Bake at 350°F.").celsius == Fraction(530, 3)


def test_offsets_count_from_the_whole_text() -> None:
    text = "Bake at 300°F.\nBake at 350°F (180°C)."
    heat = find_heats(text, 15)[0]
    assert text[heat.start : heat.end] == "350°F"
    assert text[heat.twins[0].start : heat.twins[0].end] == "180°C"


@given(st.fractions(min_value=-100, max_value=1000))
def test_scales_turn_back(value: Fraction) -> None:
    assert to_celsius(to_fahrenheit(value)) == value


@given(st.text(alphabet="bakeovnt 350°FCcf/()-–gas4,.\nİ½o", max_size=120))
def test_never_raises_and_spans_hold(text: str) -> None:
    for heat in find_heats(text):
        assert text[heat.start : heat.end] == heat.text
        assert all(text[twin.start : twin.end] == twin.text for twin in heat.twins)


@given(st.integers(min_value=40, max_value=110).map(lambda n: n * 5))
def test_every_oven_figure_comes_back(value: int) -> None:
    assert only(f"Preheat the oven to {value}°F.").fahrenheit == value
