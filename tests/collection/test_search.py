"""Every way to find a card."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter.collection import Box, Query
from rewriter.collection.search import asked
from rewriter.errors import Unusable

BEANS, LOAF, CAKE, OATS = 1, 2, 3, 4


def numbers(box: Box, query: Query | str) -> list[int]:
    """The cards a query finds, by number."""
    return sorted(card.number for card in box.search(query))


@pytest.mark.parametrize(
    ("phrase", "found"),
    [
        ("yeast breads with honey", [LOAF]),
        ("breads with honey", [LOAF]),
        ("cookies", [OATS]),
        ("cookies without walnuts", []),
        ("cakes with butter and milk", [CAKE]),
        ("with butter", [CAKE, OATS]),
        ("with brown sugar", [OATS]),
        ("snow day", [CAKE]),
        ("walnut", [OATS]),
        ("greasing", [CAKE]),
        ("headspace", [BEANS]),
        ("", [BEANS, LOAF, CAKE, OATS]),
        ("ninebark", []),
    ],
)
def test_a_phrase_finds_its_cards(box: Box, phrase: str, found: list[int]) -> None:
    assert numbers(box, phrase) == found


@pytest.mark.parametrize(
    ("query", "found"),
    [
        (Query(roles=("syrup",)), [LOAF]),
        (Query(roles=("leavener",), kinds=("cookie",)), [OATS]),
        (Query(ingredients=("all-purpose flour",)), [CAKE, OATS]),
        (Query(words="rise", roles=("yeast",)), [LOAF]),
    ],
)
def test_by_ingredient_kind_and_role(box: Box, query: Query, found: list[int]) -> None:
    assert numbers(box, query) == found


def test_by_elevation_tried_and_outcome(box: Box) -> None:
    box.bake(CAKE, "8200 ft", faults=["it sank in the middle"])
    box.bake(OATS, "8100 ft", rating=5)
    box.bake(LOAF, "5280 ft", rating=4)
    assert numbers(box, Query(elevation="8,200 ft")) == [CAKE, OATS]
    assert numbers(box, Query(elevation="8,200 ft", outcome="worked")) == [OATS]
    assert numbers(box, "cakes tried at 8200 ft that sank") == [CAKE]
    assert numbers(box, "that worked") == [LOAF, OATS]
    assert numbers(box, Query(elevation="3000 ft")) == []


def test_a_note_on_a_bake_and_a_name_are_found(box: Box) -> None:
    box.bake(CAKE, "8200 ft", rating=5, note="for Ngozi's christening")
    box.name(CAKE, 1, "the depot version")
    assert numbers(box, "christening") == [CAKE]
    assert numbers(box, "depot") == [CAKE]


def test_a_merged_card_stands_behind_its_twin(box: Box) -> None:
    box.merge(CAKE, [OATS])
    assert numbers(box, "") == [BEANS, LOAF, CAKE]


@pytest.mark.parametrize("query", [Query(kinds=("pudding-cake",)), Query(roles=("magic",)), Query(outcome="meh")])
def test_what_does_not_exist_is_said(box: Box, query: Query) -> None:
    with pytest.raises(Unusable, match="choose one of"):
        box.search(query)


@settings(deadline=None)
@given(st.text(max_size=60))
def test_any_words_without_an_outcome_are_searched_for(words: str) -> None:
    if " that " not in f" {words.lower()} ":
        assert asked(words).fault == asked(words).outcome == ""


def test_an_outcome_that_is_none_is_said() -> None:
    with pytest.raises(Unusable, match="names no fault"):
        asked("cakes that sang")


@pytest.mark.parametrize("words", ['"', "a OR b", "NEAR(", "col:x", "*", "-", "it's", "ö ü ½", '""', "(((", "^x"])
def test_signs_of_the_index_are_only_words(box: Box, words: str) -> None:
    assert box.search(words) == []
