"""The pasted text comes back byte for byte, whatever it holds; what a person edited is never lost."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.writing import measure, strip, strip_report, write
from rewriter.writing.seal import sealed
from tests.writing.cards import AIR, CARD, card

TYPED = [
    "[→ 1 cup]",
    "[+ 2 Tbsp water]",
    "[! careful]",
    "=== Altitude notes: ",
    "record: inline LF 0",
    "===",
    "[",
    "]",
    "→",
]
TYPED += ["\r\n", "\r", "\n", "\u2028", "\x85", "\x0b", "\t", "\u00a0", "🧁", "½", "e\u0301", "\ufeff", "1 cup"]
pieces = st.one_of(st.sampled_from(TYPED), st.text(st.characters(exclude_categories=["Cs"]), max_size=8))
texts = st.lists(pieces, max_size=20).map("".join)


@st.composite
def marked(draw: st.DrawFn) -> tuple[str, str]:
    """A text, and the same text with marks anywhere and a block."""
    text = draw(texts)
    places = draw(st.lists(st.tuples(st.integers(0, len(text)), texts), max_size=6))
    return text, sealed(text, places, draw(st.lists(st.just("note"), max_size=3)), "inline")


@given(texts)
def test_a_text_without_a_block_comes_back_unchanged(text: str) -> None:
    assert strip(text) == text


@given(marked())
def test_strip_undoes_every_insertion(pair: tuple[str, str]) -> None:
    text, annotated = pair
    assert strip(annotated) == strip(text) == text


@given(marked())
def test_a_text_with_a_block_of_its_own_starts_from_its_original(pair: tuple[str, str]) -> None:
    text, annotated = pair
    again = sealed(annotated, [(0, "[! once more] ")], ["note"], "inline")
    assert strip(again) == strip(annotated) == text


@given(texts, texts)
def test_a_block_in_the_middle_of_a_text_is_the_persons_own(before: str, after: str) -> None:
    fake = sealed("other", [(0, "[! x]")], ["note"], "inline")
    text = before + fake + after + "."
    assert strip(text) == text
    assert strip(sealed(text, [(0, "[! x] ")], ["note"], "inline")) == text


@given(marked(), st.data())
def test_an_edited_text_loses_nothing(pair: tuple[str, str], data: st.DataObject) -> None:
    _, annotated = pair
    place = data.draw(st.integers(0, len(annotated) - 1))
    extra = data.draw(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=5))
    edited = annotated[:place] + extra + annotated[place:]
    assert strip(edited) == edited


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("tail", ["", "\n"])
def test_every_line_end_and_no_final_newline(end: str, tail: str) -> None:
    text = (CARD.rstrip("\n") + tail).replace("\n", end)
    recipe, plan = card(text)
    changes = measure(text, recipe, plan)
    annotated = write(text, [recipe], [plan], changes, [], AIR)
    assert strip(annotated) == text
    assert set(annotated.replace(end, "")) & {"\r", "\n"} == set()


@pytest.mark.parametrize(("was", "became"), [("\n", "\r\n"), ("\r\n", "\n")])
def test_line_ends_changed_by_an_editor_are_put_back(was: str, became: str) -> None:
    text = CARD.replace("\n", was)
    recipe, plan = card(text)
    annotated = write(text, [recipe], [plan], measure(text, recipe, plan), [], AIR)
    assert strip(annotated.replace(was, became)) == text


def annotated_card() -> str:
    recipe, plan = card()
    return write(CARD, [recipe], [plan], measure(CARD, recipe, plan), [], AIR)


def test_an_edit_in_the_recipe_is_told_and_kept_in_the_best_reading() -> None:
    edited = annotated_card().replace("3 eggs", "4 eggs, large").replace("2 c. flour", "2 1/4 c. flour")
    report = strip_report(edited)
    assert (report.intact, report.text) == (False, edited)
    assert "edited" in report.message
    assert report.best == CARD.replace("3 eggs", "4 eggs, large").replace("2 c. flour", "2 1/4 c. flour")


def test_an_edit_in_a_mark_only_offers_the_original() -> None:
    edited = annotated_card().replace("[→ 1 tsp]", "[→ 3/4 tsp]")
    report = strip_report(edited)
    assert (report.intact, report.text, report.best) == (False, edited, CARD)


def test_words_after_the_block_are_kept() -> None:
    edited = annotated_card() + "Baked 3 May: lovely."
    report = strip_report(edited)
    assert (report.intact, report.text) == (False, edited)
    assert report.best == CARD + "Baked 3 May: lovely."


def test_a_letter_round_the_recipe_is_kept() -> None:
    letter = "Dear Bea,\n" + "here is the cake you asked for, with what I change up here. " * 9 + "\n\n"
    report = strip_report(letter + annotated_card())
    assert (report.intact, report.best) == (False, letter + CARD)


def test_marks_a_person_typed_are_kept_in_the_best_reading() -> None:
    text = CARD.replace("3 eggs", "3 eggs [! mine were small]")
    recipe, plan = card(text)
    edited = write(text, [recipe], [plan], measure(text, recipe, plan), [], AIR).replace("2 c. flour", "2 1/4 c. flour")
    assert strip_report(edited).best == text.replace("2 c. flour", "2 1/4 c. flour")


def test_a_lost_last_line_is_told() -> None:
    edited = "\n".join(annotated_card().splitlines()[:-1])
    report = strip_report(edited)
    assert (report.intact, report.text) == (False, edited)
    assert report.best is not None
    assert report.best.strip() == CARD.strip()


def test_the_report_of_a_plain_and_of_an_annotated_text() -> None:
    assert strip_report(CARD).intact
    assert strip_report(annotated_card()).text == CARD
