"""Lengths of time and what they time (common practice, no source)."""

from __future__ import annotations

import itertools
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.reading.times import find_times

LENGTHS = [
    ("35 to 40 minutes", 35, 40),
    ("65 – 75 minutes", 65, 75),
    ("8-10 mins", 8, 10),
    ("10 to12 minutes", 10, 12),
    ("1 1/2 hours", 90, None),
    ("1-1/2 hours", 90, None),
    ("1½ hours", 90, None),
    ("1½-2 hours", 90, 120),
    ("1 to 1 1/2 hours", 60, 90),
    ("1.5 hours", 90, None),
    ("1 hr 15 min", 75, None),
    ("1 hour and 15 minutes", 75, None),
    ("2 hrs. 30 mins", 150, None),
    ("1h30m", 90, None),
    ("30 minutes to 1 hour", 30, 60),
    ("half an hour", 30, None),
    ("three-quarters of an hour", 45, None),
    ("a quarter of an hour", 15, None),
    ("an hour and a half", 90, None),
    ("one and one-half hours", 90, None),
    ("an hour or two", 60, 120),
    ("forty-five minutes", 45, None),
    ("twenty to thirty minutes", 20, 30),
    ("five or six hours", 300, 360),
    ("25 to 30 more minutes", 25, 30),
    ("30-second", Fraction(1, 2), None),
    ("two days", 2880, None),
    ("5-minute", 5, None),
    ("lO min", 10, None),
    ("4O to 45 minutes", 40, 45),
    ("l hour", 60, None),
]


@pytest.mark.parametrize(("text", "low", "high"), LENGTHS)
def test_length(text: str, low: Fraction | int, high: int | None) -> None:
    sentence = f"Leave it for {text}, then go on."
    found = find_times(sentence)
    assert [(time.text, time.minutes, time.minutes_max) for time in found] == [(text, low, high)]
    assert sentence[found[0].start : found[0].end] == text


def test_overnight_is_a_range_and_never_sure() -> None:
    (time,) = find_times("Refrigerate overnight.")
    assert (time.minutes, time.minutes_max, time.of, time.sure) == (480, 720, "chill", False)


OF = [
    ("Bake 35 minutes.", "bake"),
    ("Bake in a moderate oven one hour.", "bake"),
    ("45 minutes at 350", "bake"),
    ("Roast for 20 minutes.", "roast"),
    ("Let rise for 1 hour, or until doubled.", "rise"),
    ("Cover and let stand 1 hour, until doubled.", "rise"),
    ("Let stand 10 minutes until foamy.", "proof"),
    ("Simmer five minutes.", "simmer"),
    ("Boil 3 minutes.", "boil"),
    ("Let rest 20 minutes.", "rest"),
    ("Chill for at least 2 hours.", "chill"),
    ("Cool in the pan 10 minutes.", "cool"),
    ("Beat two minutes.", "mix"),
    ("Knead 8 to 10 minutes.", "knead"),
    ("Fry 2 minutes on each side.", "fry"),
    ("Freeze 1 hour.", "freeze"),
    ("Soak the raisins 15 minutes.", "soak"),
    ("Microwave for 1 minute.", "microwave"),
    ("Store up to 3 days.", "store"),
    ("Prep Time: 15 minutes", "prep"),
    ("Total Time: 1 hour", "total"),
    ("Put on a baking sheet and freeze 30 minutes.", "freeze"),
    ("Mix well. 20 minutes.", "other"),
    ("350°F, 12 to 14 minutes", "bake"),
    ("Do not open the door before 18 minutes are up.", "wait"),
    ("Bake on the middle shelf for 20 minutes.", "bake"),
    ("Process pints 20 minutes.", "process"),
    ("Hang upside down 2 hours.", "cool"),
]


@pytest.mark.parametrize(("text", "of"), OF)
def test_what_it_times(text: str, of: str) -> None:
    assert [time.of for time in find_times(text)] == [of]


NOT_TIMES = [
    "a second bowl, the second rise",
    "3 day old bread",
    "1 cup mint, cinnamon",
    "minced garlic",
    "a day, one day, some day",
    "minimum 60% cocoa",
    "overnight oats",
    "2 tsp cinnamon, 3 hens",
    "happy hour",
]


@pytest.mark.parametrize("text", NOT_TIMES)
def test_not_a_time(text: str) -> None:
    assert find_times(text) == []


def test_offsets_count_from_the_whole_text() -> None:
    text = "Bake 10 minutes. Cool 5 minutes."
    (time,) = find_times(text, 16)
    assert text[time.start : time.end] == "5 minutes"


@given(st.integers(min_value=1, max_value=600), st.sampled_from(["minutes", "min", "mins"]))
def test_every_number_of_minutes_comes_back(number: int, unit: str) -> None:
    assert [time.minutes for time in find_times(f"Bake {number} {unit}.")] == [number]


@given(st.text(alphabet="1230/½ -–.minhoursdaytwlfeqrg\n", max_size=100))
def test_never_raises_and_spans_hold(text: str) -> None:
    found = find_times(text)
    assert all(text[time.start : time.end] == time.text for time in found)
    assert all(a.end <= b.start for a, b in itertools.pairwise(found))
    assert all(time.minutes_max is None or time.minutes_max > time.minutes for time in found)
