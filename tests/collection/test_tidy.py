"""Tidying: pairs of before and after, cards that stay, and the promise that a card is read afterwards as before."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from corpus.family_folder import texts
from rewriter import api
from rewriter.collection import Box
from rewriter.collection.manner import Manner, number
from rewriter.collection.mending import unscanned
from rewriter.collection.tidy import tidied
from rewriter.errors import Unusable

from .conftest import CAKE, JARS

RUSK = "Rusk\n\n2 cups flour\n1 tsp soda\n1 cup milk\n\n"
HEAD = "Sundquist Gems\n\n"
TAIL = "2 eggs\n2 cups flour\n\nMix all the ingredients and bake in a pan at 350 F for 20 minutes. Makes 12.\n"


def line(before: str, manner: Manner = Manner()) -> str:  # noqa: B008
    """A line of a card, tidied."""
    return tidied(f"{HEAD}{before}\n{TAIL}", manner).after.split("\n")[2]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("1 1/2 tablespoons sugar", "1 1/2 Tbsp sugar"),
        ("½ teaspoon salt", "1/2 tsp salt"),
        ("1½ c. sugar", "1 1/2 cups sugar"),
        ("2 to 3 tablespoons milk", "2 to 3 Tbsp milk"),
        ("8 ounces butter", "8 oz butter"),
        ("•  1 cup sugar", "1 cup sugar"),
        ("1 cup\tsugar", "1 cup  sugar"),
        ("2 cups f1our", "2 cups flour"),
        ("1 tsp sa1t", "1 tsp salt"),
        ("l cup sugar", "1 cup sugar"),
        ("1 cup sweet milk", "1 cup sweet milk [whole milk]"),
        ("1/2 cup oleo", "1/2 cup oleo [margarine]"),
        ("1 gill cream", "1 gill [1/2 cup] cream"),
        ("1 teacup sugar", "1 teacup [about 3/4 cup] sugar"),
    ],
)
def test_a_line_is_put_in_the_family_s_manner(before: str, after: str) -> None:
    # Gill and teacup: rewriter/pantry/measures.toml with its source; old words: common practice, no source.
    assert line(before) == after


@pytest.mark.parametrize(
    "same",
    [
        "2 eggs, well beaten",
        "one and one-half cups sugar",
        "butter the pan",
        "1 (14-oz) can milk",
        "Aunt Enid's own sugar, 1 cup",
        "a pinch of salt",
        "0.37 kg sugar",
        "1 dl sugar",
        "1 1/2 tsp salt",
        "1 cup sweet milk [whole milk]",
    ],
)
def test_a_line_that_needs_nothing_stays(same: str) -> None:
    assert line(same) == same


def test_the_manner_is_the_family_s(box: Box) -> None:
    chosen = box.manner(units="long", fractions="vulgar", bullets="-")
    assert line("1 1/2 tsp salt", chosen) == "- 1½ teaspoons salt"
    assert box.manner() == chosen
    with pytest.raises(Unusable, match="choose one of short, long"):
        box.manner(units="furlong")


def test_ovens_in_words_are_explained_beside_the_words() -> None:
    # 350 and 400 F: rewriter/pantry/oven_words.toml, NIST kitchen table named there.
    text = "Rusk\n\n2 cups flour\n1 tsp soda\n1 cup milk\n\nBake in a moderate oven, then brown in a hot oven.\n"
    after = tidied(text, Manner()).after
    assert "in a moderate oven [350 F], then" in after
    assert "in a hot oven [400 F]." in after


def test_a_garbled_oven_figure_is_mended() -> None:
    text = "Rusk\n\n2 cups flour\n1 tsp soda\n1 cup milk\n\nBake at 35O F for 20 minutes.\n"
    assert "Bake at 350 F for" in tidied(text, Manner()).after


def test_half_a_garbled_figure_is_never_written_anew() -> None:
    # "l Y2 cups" is 1 1/2 cups; were only its second half read, 1/2 must not be written over it
    after = line("l Y2 cups sugar")
    assert after in ("l Y2 cups sugar", "1 1/2 cups sugar")


def test_a_word_split_by_a_line_end_is_joined_where_it_is_known() -> None:
    split = "Sift the baking powder with the flour and beat the but-\nter well with the other-\nwise cold eggs.\n"
    text = f"{HEAD}{TAIL}{split}"
    assert "the butter well with the other-\nwise" in tidied(text, Manner()).after


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        (RUSK + "Mix all the ingredients and bake until brown.\n", "no oven heat"),
        (RUSK + "Mix all the ingredients; bake at 350 F for 9 minutes.\n", "no pan"),
        (RUSK + "Mix all the ingredients; bake at 350 F for 9 minutes.\n", "no yield"),
        (CAKE.replace("1/2 tsp salt\n", "1/2 tsp salt\n1 cup raisins\n"), "the list has raisins, the method has not"),
        (CAKE.replace("Bake in", "Stir in the raisins. Bake in"), "the method has raisins, the list has not"),
    ],
)
def test_what_a_card_leaves_unsaid_is_named(text: str, missing: str) -> None:
    assert missing in tidied(text, Manner()).gaps


def test_a_whole_card_has_no_gaps() -> None:
    assert tidied(CAKE, Manner()).gaps == ()


def test_cards_for_jars_are_not_touched() -> None:
    done = tidied(JARS, Manner())
    assert not done.changed
    assert "jars" in done.left


def test_an_annotated_card_is_not_touched() -> None:
    done = tidied(api.rewrite(CAKE, "8200 ft").text, Manner())
    assert not done.changed
    assert "annotations" in done.left


def test_a_tidied_card_is_a_revision_and_the_original_stays(box: Box) -> None:
    text = CAKE.replace("2 tsp", "2 teaspoons")
    number = box.add_text(text).cards[0]
    done = box.tidy(number)
    assert "-2 teaspoons baking powder" in done.diff()
    assert "+2 tsp baking powder" in done.diff()
    assert box.card(number).text == text
    assert box.apply(number, done) == 1
    assert box.card(number).text == done.after
    assert box.original(number) == text.encode()
    assert [one.why for one in box.revisions(number)] == ["as found", "tidied"]


def test_a_card_changed_in_the_meantime_is_not_overwritten(box: Box) -> None:
    number = box.add_text(CAKE.replace("2 tsp", "2 teaspoons")).cards[0]
    done = box.tidy(number)
    box.edit(number, CAKE + "\nGood.\n")
    with pytest.raises(Unusable, match="in the meantime"):
        box.apply(number, done)


@pytest.mark.parametrize("text", [text for _, text in texts()[::4]])
def test_a_card_is_read_afterwards_as_before_and_tidying_again_changes_nothing(text: str) -> None:
    done = tidied(text, Manner())
    if done.changed:
        before, after = api.original(text)[1][0], api.original(done.after)[1][0]
        assert len(after.ingredients) == len(before.ingredients)
        for one, other in zip(before.ingredients, after.ingredients, strict=True):
            told = [(a.quantity, a.quantity_max, a.unit) for a in other.amounts]
            assert told[: len(one.amounts)] == [(a.quantity, a.quantity_max, a.unit) for a in one.amounts]
            assert (one.part, one.key or other.key) == (other.part, other.key)
        assert [h.fahrenheit for h in after.heats] == [h.fahrenheit for h in before.heats]
    assert tidied(done.after, Manner()).after == done.after


@settings(deadline=None)
@given(st.fractions(0, 40, max_denominator=8).filter(lambda one: one.denominator in (1, 2, 3, 4, 8)))
def test_a_number_is_written_so_that_it_is_read_back(value: Fraction) -> None:
    if value:
        for fractions in ("typed", "vulgar"):
            written = number(value, fractions)
            read = api.read_ingredient(f"{written} cups sugar").amounts[0].quantity
            assert read == value


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_tidied_or_left(text: str) -> None:
    done = tidied(text, Manner())
    assert done.before == text
    assert done.changed or done.after == text


@pytest.mark.parametrize("word", ["huckleberry", "flour", "Ngozi", "skillet", "beaten", "aunt"])
def test_words_that_are_no_scanning_error_stay(word: str) -> None:
    assert unscanned(word) is None
