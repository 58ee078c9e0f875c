"""Near-duplicates are told by ingredients and amounts, not by wording."""

from __future__ import annotations

import pytest

from rewriter.collection import Box
from rewriter.errors import Unusable

from .conftest import AUNT, BREAD, CAKE


def test_twins_are_found_and_what_differs_is_said(box: Box) -> None:
    number = box.add_text(AUNT).cards[0]
    [group] = box.twins()
    assert group.cards == (3, number)
    assert group.differences == (("1 cup sugar, not 1 1/4 cups",),)


def test_other_words_and_another_order_do_not_matter(box: Box) -> None:
    title, rest = CAKE.split("\n\n", 1)
    lines, method = rest.split("\n\n", 1)
    turned = "\n".join(reversed(lines.splitlines()))
    other = f"Wilma's birthday\n\n{turned}\n\nBeat it all and bake at 350 F in a pan for half an hour.\n"
    number = box.add_text(other).cards[0]
    assert [group.cards for group in box.twins()] == [(3, number)]
    assert title
    assert method


def test_twice_the_batch_is_a_twin_and_it_is_said(box: Box) -> None:
    double = CAKE
    for one, two in (("1/2 cup butter", "1 cup butter"), ("1 1/4 cups sugar", "2 1/2 cups sugar"), ("2 eggs", "4 eggs"),
                     ("2 cups all", "4 cups all"), ("2 tsp", "4 tsp"), ("1/2 tsp salt", "1 tsp salt"),
                     ("1 cup milk", "2 cups milk")):  # fmt: skip
        double = double.replace(one, two)
    box.add_text(double)
    [group] = box.twins()
    assert group.differences[0][0] == "about 2 times as much of everything"


def test_the_same_words_with_other_amounts_are_no_twins(box: Box) -> None:
    lean = CAKE.replace("1 1/4 cups sugar", "1 Tbsp sugar").replace("1/2 cup butter", "1 tsp butter")
    lean = (
        lean.replace("2 eggs", "1 egg").replace("1 cup milk", "3 cups milk").replace("2 tsp baking", "1/4 tsp baking")
    )
    box.add_text(lean)
    assert box.twins() == []


def test_an_added_ingredient_is_said(box: Box) -> None:
    box.add_text(BREAD.replace("1/4 cup honey", "1/4 cup honey\n2 Tbsp sesame seeds"))
    [group] = box.twins()
    assert group.differences == (("also 2 Tbsp sesame seeds",),)


def test_a_merge_keeps_both_originals_and_can_be_undone(box: Box) -> None:
    number = box.add_text(AUNT).cards[0]
    box.merge(3, [number])
    assert box.twins() == []
    assert number not in [card.number for card in box.cards()]
    assert box.original(number) == AUNT.encode()
    assert box.card(number).text == AUNT
    box.part(number)
    assert number in [card.number for card in box.cards()]
    assert len(box.twins()) == 1


def test_a_card_is_not_merged_into_itself_or_nothing(box: Box) -> None:
    with pytest.raises(Unusable, match="cannot be merged"):
        box.merge(3, [3])
    with pytest.raises(Unusable, match="there is no card 99"):
        box.merge(3, [99])
