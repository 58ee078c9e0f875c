"""What a machine reads wrongly from a card: asked about, never believed."""

from __future__ import annotations

import io
import re

import numpy as np
import pypdfium2
import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageFilter

import rewriter
from rewriter import intake
from rewriter.errors import Unusable
from rewriter.further import job_of
from rewriter.intake import Taken
from rewriter.model import Answer, Page, Query, Word
from rewriter.overlay import checked, doubts, settled, told
from rewriter.writing.notes import notes

CARD = """Sundquist Plain Cake

2 cups flour
2 teaspoons baking powder
1/2 teaspoon salt
1/2 cup butter
1 1/2 cups sugar
2 eggs
1 cup milk

Heat the oven to 350 F. Cream the butter and sugar, beat in the eggs, then the flour, baking powder and salt in turns
with the milk. Bake 30 minutes.
"""


def seen(text: str, confidence: float = 0.97, **unsure: float) -> Taken:
    """A text as if a machine had read it from a photo; ``unsure``: words it was less sure of."""
    words = [
        Word(found[0], 0, 0, 1, 1, 1, found.start(), found.end(), unsure.get(f"w{found[0]}", confidence))
        for found in re.finditer(r"\S+", text)
    ]
    return Taken(text, (Page(1, 600, 800, tuple(words)),), kind="photo")


def asked(taken: Taken) -> list[Query]:
    return doubts(taken.text, rewriter.read(taken.text), taken.pages)


def line_of(text: str, words: str) -> int:
    return text[: text.index(words)].count("\n") + 1


def test_a_card_read_well_is_asked_nothing() -> None:
    assert asked(seen(CARD)) == []


def test_words_of_a_text_layer_are_never_doubted() -> None:
    wrong = CARD.replace("1/2 teaspoon salt", "12 teaspoon salt")
    assert asked(seen(wrong, confidence=1.0)) == []


# Figures that readers of photos give for small fractions: our own trials with the third specimen card and its like.
MISREAD = [
    ("1/2 teaspoon salt", "12 teaspoon salt", "1/2"),
    ("1/2 cup butter", "12 cup butter", "1/2"),
    ("1 1/2 cups sugar", "11/2 cups sugar", "1 1/2"),
    ("2 teaspoons baking powder", "212 teaspoons baking powder", "2 1/2"),
    ("2 cups flour", "21/4 cups flour", "2 1/4"),
    ("1 cup milk", "34 cup milk", "3/4"),
]


@pytest.mark.parametrize(("right", "wrong", "meant"), MISREAD)
def test_a_lost_bar_or_space_is_asked_about(right: str, wrong: str, meant: str) -> None:
    text = CARD.replace(right, wrong)
    [query] = asked(seen(text))
    assert query.start == text.index(wrong)
    assert query.id == f"card@{line_of(text, wrong)}"
    assert query.choices == (meant + wrong[wrong.index(" ") :], wrong)


@pytest.mark.parametrize(("right", "wrong", "meant"), MISREAD)
def test_an_answer_settles_it(right: str, wrong: str, meant: str) -> None:
    """The line is as it stands on the card, and every word keeps its place on the page."""
    text = CARD.replace(right, wrong)
    lines, others = told([Answer(f"card@{line_of(text, wrong)}", right), Answer("kind@0", "shortened-cake")])
    taken = settled(seen(text), lines)
    assert taken.text == CARD
    assert [answer.query for answer in others] == ["kind@0"]
    assert asked(taken) == []
    assert all(taken.text[word.start : word.end] == word.text for word in taken.pages[0].words)
    assert [word.text for word in taken.pages[0].words] == CARD.split()


@given(st.text("12 /½cups\t", max_size=30), st.integers(1, 12))
def test_any_answer_leaves_words_and_text_agreed(words: str, number: int) -> None:
    taken = settled(seen(CARD), {number: " ".join(words.split())})
    assert all(taken.text[word.start : word.end] == word.text for word in taken.pages[0].words)
    assert taken.text.count("\n") == CARD.count("\n")
    assert taken.text.split("\n")[number - 1] == " ".join(words.split())


def test_an_answer_keeps_each_word_where_it_stood() -> None:
    words = (Word("12", 10, 0, 20, 9, 1, 0, 2, 0.9), Word("cup", 24, 0, 40, 9, 1, 3, 6, 0.9))
    words += (Word("butter", 44, 0, 80, 9, 1, 7, 13, 0.9),)
    taken = settled(Taken("12 cup butter", (Page(1, 100, 20, words),)), {1: "1 1/2 cup butter"})
    assert [(word.text, word.x0) for word in taken.pages[0].words] == [
        ("1", 10), ("1/2", 10), ("cup", 24), ("butter", 44),
    ]  # fmt: skip


@pytest.mark.parametrize("answer", ["card@x", "card@-1", "card@99"])
def test_an_answer_about_no_line_is_refused(answer: str) -> None:
    with pytest.raises(Unusable):
        settled(seen(CARD), told([Answer(answer, "1 cup milk")])[0])


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("1/2 teaspoon salt", "y2 teaspoon salt"),
        ("1/2 teaspoon salt", "% teaspoon salt"),
        ("1/2 cup butter", "l/2 cup butter"),
        ("1/2 cup butter", "cup butter"),
        ("2 cups flour", "cups flour"),
        ("2 teaspoons baking powder", "20 teaspoons baking powder"),
        ("1 1/2 cups sugar", "15 cups sugar"),
        ("2 teaspoons baking powder", "2 cups baking powder"),
    ],
)
def test_what_cannot_be_an_amount_is_asked_about(right: str, wrong: str) -> None:
    text = CARD.replace(right, wrong)
    found = asked(seen(text))
    line = text.index(wrong)
    assert [query for query in found if line <= query.start < line + len(wrong)]


def test_small_fractions_are_always_asked_about() -> None:
    [query] = asked(seen(CARD.replace("1/2 cup butter", "½ cup butter")))
    assert query.choices[:2] == ("¼ cup butter", "¾ cup butter")
    assert query.choices[-1] == "½ cup butter"


def test_a_figure_the_machine_was_not_sure_of_is_asked_about() -> None:
    [query] = asked(seen(CARD.replace("1 cup milk", "7/8 cup milk"), **{"w7/8": 0.6}))
    assert query.text == "7/8 cup"


def test_a_measure_it_was_not_sure_of_is_not() -> None:
    assert asked(seen(CARD, wteaspoons=0.5, wmilk=0.4)) == []


@pytest.mark.parametrize("degrees", ["850 F", "35 F"])
def test_no_oven_is_set_so(degrees: str) -> None:
    text = CARD.replace("350 F", degrees)
    job = job_of(rewriter.rewrite(text, "6500 ft"))
    assert not any(change.rule == "oven" for change in checked(job, seen(text)).changes)
    if any(heat.place == "oven" for heat in job.recipes[0].heats):
        assert [query.id for query in asked(seen(text))] == [f"card@{line_of(text, 'Heat the oven')}"]


def test_an_amount_in_doubt_is_left_as_it_is() -> None:
    taken = seen(CARD.replace("2 teaspoons baking powder", "212 teaspoons baking powder"))
    job = job_of(rewriter.rewrite(taken.text, "6500 ft"))
    kept = checked(job, taken)
    assert any(change.ingredient == "baking powder" for change in job.changes)
    assert not any(change.ingredient == "baking powder" for change in kept.changes)
    assert any(change.ingredient == "sugar" for change in kept.changes)
    told = " ".join(words for section in notes(kept).sections for words in section.kept)
    assert "baking powder" not in told, "what is held back is not called too small to measure"
    assert [query.text for query in kept.queries if query.id.startswith("card@")] == ["212 teaspoons"]


def test_nothing_is_reckoned_from_flour_in_doubt() -> None:
    taken = seen(CARD.replace("2 cups flour", "21/4 cups flour"))
    job = job_of(rewriter.rewrite(taken.text, "6500 ft"))
    assert any(change.rule == "liquid" for change in job.changes)
    kept = checked(job, taken)
    assert not any(change.rule == "liquid" for change in kept.changes)
    assert any(change.rule == "leavener" for change in kept.changes)


def test_a_job_without_doubts_is_the_same_job() -> None:
    taken = seen(CARD)
    job = job_of(rewriter.rewrite(taken.text, "6500 ft"))
    assert checked(job, taken) is job


SMALL = """#set page(width: 4in, height: 3in, margin: 0.3in, fill: rgb("f6efdc"))
#set text(font: "Libertinus Serif", size: 11pt)
#set par(leading: 0.6em)
#for line in sys.inputs.text.split("\\n") [#line \\ ]"""
GLYPHS = """Pell Ginger Bars

2¼ cups flour
½ teaspoon baking soda
¾ teaspoon salt
⅞ cup butter
1⅓ cups sugar
½ cup milk

Bake at 350 F for 25 minutes."""


def test_small_fractions_on_a_photo_are_read_right_or_asked_about() -> None:
    """The promise end to end: no amount on the card is changed from a figure that the card does not say."""
    card = typst.compile(SMALL.encode(), format="pdf", sys_inputs={"text": GLYPHS}, ignore_system_fonts=True)
    assert isinstance(card, bytes)
    picture = (
        pypdfium2.PdfDocument(card)[0].render(scale=2.4).to_pil().convert("RGB").filter(ImageFilter.GaussianBlur(0.9))
    )
    grain = np.random.default_rng(4).normal(0, 7, (picture.height, picture.width, 3))
    out = io.BytesIO()
    Image.fromarray((np.asarray(picture) + grain).clip(0, 255).astype(np.uint8)).save(out, "JPEG", quality=70)
    taken = intake.take(out.getvalue(), "bars.jpg")
    kept = checked(job_of(rewriter.rewrite(taken.text, "6500 ft")), taken)
    meant = rewriter.read(GLYPHS)[0].ingredients
    says = {one.name.split()[-1]: one.amounts[0].quantity for one in meant}
    read = {one.name.split()[-1]: one for one in kept.recipes[0].ingredients if one.amounts}
    for name, quantity in says.items():
        one = read.get(name)
        if one is None or one.amounts[0].quantity == quantity:
            continue
        assert not any(change.start < one.end and change.end > one.start for change in kept.changes), name
