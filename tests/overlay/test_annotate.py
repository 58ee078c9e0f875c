"""Annotated pages as they come out: read again and rendered, and looked at where the amounts stand."""

from __future__ import annotations

import io
import json
from itertools import pairwise
from math import cos, radians, sin
from statistics import median

import numpy as np
import pypdfium2
import pytest
import typst
from pypdf import PdfReader, PdfWriter

import rewriter
from corpus.specimens import CARD, COLUMNS, PHOTOGRAPHED, TWO_COLUMNS, TYPED, TYPEWRITER, set_type
from rewriter import intake
from rewriter.errors import Unusable
from rewriter.further import job_of
from rewriter.intake import Taken
from rewriter.model import Change, Page
from rewriter.overlay import annotated
from rewriter.writing.registry import Job
from tests.overlay.cards import CARDS, card, done

Point = tuple[float, float]


def level(point: Point, page: Page) -> Point:
    """A point of a page, where it would be if the page lay straight."""
    turn = radians(page.skew)
    x, y = point[0] - page.width / 2, point[1] - page.height / 2
    return x * cos(turn) + y * sin(turn), -x * sin(turn) + y * cos(turn)


def line_pitch(taken: Taken, page: Page) -> float:
    """From one line of print to the next, as a reader would measure it."""
    tops = sorted(level((w.x0, (w.y0 + w.y1) / 2), page)[1] for w in page.words)
    steps = [low - high for high, low in pairwise(tops) if low - high > 5]
    return median(steps)


def spots(pdf: bytes, number: int, words: str) -> list[Point]:
    """Where some words stand on a page, from its top left: the middles of what the text layer finds."""
    page = pypdfium2.PdfDocument(pdf)[number - 1]
    layer = page.get_textpage()
    search = layer.search(words, match_case=True)
    found = []
    while (hit := search.get_next()) is not None:
        boxes = [layer.get_charbox(hit[0] + i) for i in range(hit[1])]
        boxes = [box for box in boxes if box[2] > box[0]]
        x = (min(b[0] for b in boxes) + max(b[2] for b in boxes)) / 2
        y = (min(b[1] for b in boxes) + max(b[3] for b in boxes)) / 2
        found.append((x, page.get_height() - y))
    return found


def about(taken: Taken, change: Change) -> tuple[Page, Point]:
    """Where the amount of a change stands on its page; for what has no amount, the word before it."""
    every = [word for page in taken.pages for word in page.words]
    words = [w for w in every if w.start < change.end and w.end > change.start]
    if change.start == change.end:
        words = [max((w for w in every if w.start < change.end), key=lambda w: w.start)]
    xs, ys = [(w.x0 + w.x1) / 2 for w in words], [(w.y0 + w.y1) / 2 for w in words]
    return taken.pages[words[0].page - 1], (sum(xs) / len(xs), sum(ys) / len(ys))


def away(taken: Taken, pdf: bytes, change: Change) -> float:
    """How many lines of print lie between a change's label and its amount."""
    page, amount = about(taken, change)
    here = spots(pdf, page.number, change.new)
    assert here, f"{change.new} is not written"
    return min(abs(level(spot, page)[1] - level(amount, page)[1]) for spot in here) / line_pitch(taken, page)


def written(job: Job) -> list[Change]:
    return [change for change in job.changes if change.step == "now" and len(change.new) <= 33]


def test_every_change_lands_within_a_line_of_its_amount(specimen: tuple[Taken, Job, bytes]) -> None:
    taken, job, pdf = specimen
    assert len(written(job)) >= 4
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0, change


def inked(pdf: bytes, size: tuple[float, float], scale: float = 3.0) -> np.ndarray:
    """The first page, its top left part of a size, in colour."""
    picture = np.asarray(pypdfium2.PdfDocument(pdf)[0].render(scale=scale).to_pil().convert("RGB")).astype(int)
    return picture[: round(size[1] * scale), : round(size[0] * scale)]


def test_no_print_is_covered(specimen: tuple[Taken, Job, bytes]) -> None:
    """Where the card had ink there is no blue of ours; leaders cross less than one part in five hundred of it."""
    taken, _, pdf = specimen
    page = taken.pages[0]
    after = inked(pdf, (page.width * 2, page.height))
    added = after.shape[1] - round(page.width * 3)
    shift = added if added > 0 and spots(pdf, 1, "¼ teaspoon (1.2 g)") else 0
    before = inked(_plain(taken), (page.width, page.height))
    after = after[: before.shape[0], shift : shift + before.shape[1]]
    ours = (after[..., 2] - after[..., 0] > 60) & (after[..., 0] < 120)
    grey = before.mean(axis=2)
    ink = grey < np.median(grey) * 0.55
    assert ours.sum() > 500
    assert ink.sum() > 2000
    assert (ours & ink)[: round(0.9 * len(ink))].sum() < 0.002 * ink.sum()


def _plain(taken: Taken) -> bytes:
    from rewriter.overlay.annotate import _base

    return _base(taken)


def test_the_card_itself_is_kept_as_it_was() -> None:
    """Every word of the text layer is still there, at its place."""
    taken, _, pdf = card("typed.pdf")
    again = {(w.text, round(w.x0), round(w.y0)) for w in intake.take(pdf, "again.pdf").pages[0].words}
    assert {(w.text, round(w.x0), round(w.y0)) for w in taken.pages[0].words} <= again


def turned_about(pdf: bytes, rotate: int = 0, crop: bool = False) -> bytes:
    writer = PdfWriter(clone_from=io.BytesIO(pdf))
    for page in writer.pages:
        if crop:
            page.cropbox.lower_left = (20, 30)
            page.cropbox.upper_right = (float(page.mediabox.right) - 10, float(page.mediabox.top) - 15)
        if rotate:
            page.add_transformation(_upright(rotate, float(page.mediabox.width), float(page.mediabox.height)))
            if rotate in (90, 270):
                page.mediabox.upper_right = (float(page.mediabox.height), float(page.mediabox.width))
                page.cropbox = page.mediabox
            page.rotate(rotate)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def _upright(rotate: int, width: float, height: float) -> tuple[float, float, float, float, float, float]:
    """What turns a page's content back, so that it reads upright again once the page is shown turned."""
    return {90: (0, 1, -1, 0, height, 0), 180: (-1, 0, 0, -1, width, height), 270: (0, -1, 1, 0, 0, width)}[rotate]


@pytest.mark.parametrize("rotate", [90, 180, 270])
def test_a_page_that_is_stored_turned_is_annotated_as_it_is_shown(rotate: int) -> None:
    data = turned_about((CARDS / "typed.pdf").read_bytes(), rotate)
    taken, job, pdf = done(intake.take(data, "turned.pdf"))
    assert taken.text == card("typed.pdf")[0].text
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0


def test_a_cropped_page_is_annotated_as_it_is_shown() -> None:
    taken, job, pdf = done(intake.take(turned_about((CARDS / "typed.pdf").read_bytes(), crop=True), "cropped.pdf"))
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0
    again = {(w.text, round(w.x0), round(w.y0)) for w in intake.take(pdf, "again.pdf").pages[0].words}
    assert {(w.text, round(w.x0), round(w.y0)) for w in taken.pages[0].words} <= again


TIGHT = """#set page(width: 3.1in, height: 3.2in, margin: 5pt)
#set text(size: 10pt)
#set par(leading: 0.35em, justify: true)
Pell Cake. Take 2 cups of flour, 2 teaspoons of baking powder, 1/2 teaspoon of salt, 1/2 cup of butter, 1 1/2 cups of
sugar, 2 eggs and 1 cup of milk. Heat the oven to 350 F. Cream the butter and sugar, beat in the eggs, then the flour
in turns with the milk, and bake it in a greased pan for 30 minutes until the middle springs back. Let it stand for ten
minutes in the pan before it is turned out on a rack and left until it is quite cold; it keeps for three days."""


def test_a_page_without_room_gets_a_margin() -> None:
    source = typst.compile(TIGHT.encode(), format="pdf", ignore_system_fonts=True)
    assert isinstance(source, bytes)
    taken, job, pdf = done(intake.take(source, "tight.pdf"))
    assert len(written(job)) >= 3
    wide = pypdfium2.PdfDocument(pdf)[0].get_width()
    assert wide > taken.pages[0].width + 20
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0


def test_a_card_that_lies_askew_is_annotated_askew() -> None:
    """Labels follow the lines of print, turned as they are."""
    skew = 4.0
    flat = (CARDS / "typed.pdf").read_bytes()
    writer = PdfWriter(clone_from=io.BytesIO(flat))
    turn = radians(-skew)
    writer.pages[0].add_transformation((cos(turn), sin(turn), -sin(turn), cos(turn), 0, 60))
    out = io.BytesIO()
    writer.write(out)
    taken, job, pdf = done(intake.take(out.getvalue(), "askew.pdf"))
    assert taken.text == card("typed.pdf")[0].text
    assert taken.pages[0].skew == pytest.approx(skew, abs=0.1)
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0


def test_several_pages_keep_their_order_and_each_its_own_labels() -> None:
    writer = PdfWriter()
    for name in ("typed.pdf", "two-columns.pdf"):
        writer.append(io.BytesIO((CARDS / name).read_bytes()))
    out = io.BytesIO()
    writer.write(out)
    taken, job, pdf = done(intake.take(out.getvalue(), "both.pdf"))
    assert len(PdfReader(io.BytesIO(pdf)).pages) in (2, 3, 4)
    assert {about(taken, change)[0].number for change in written(job)} == {1, 2}
    for change in written(job):
        assert away(taken, pdf, change) <= 1.0


@pytest.mark.parametrize(("notes", "pages", "taller"), [("below", 1, True), ("page", 2, False)])
def test_the_notes_stand_below_or_on_their_own_page(notes: str, pages: int, taller: bool) -> None:
    taken, job, _ = card("two-columns.pdf")
    document = pypdfium2.PdfDocument(annotated(taken, job, notes))
    assert len(document) == pages
    assert (document[0].get_height() > taken.pages[0].height + 50) == taller
    text = document[len(document) - 1].get_textpage().get_text_range()
    assert "water boils at 200 F" in text
    assert "Check early" in text


def test_the_notes_of_many_recipes_are_set_on_pages_as_large_as_the_last() -> None:
    writer = PdfWriter()
    cards = [set_type(TYPEWRITER, text=TYPED), set_type(TWO_COLUMNS, card=json.dumps(COLUMNS))]
    for one in (*cards, set_type(CARD, text=PHOTOGRAPHED)):
        writer.append(io.BytesIO(one))
    out = io.BytesIO()
    writer.write(out)
    taken, job, pdf = done(intake.take(out.getvalue(), "three.pdf"))
    document = pypdfium2.PdfDocument(pdf)
    assert len(job.recipes) == 3
    assert len(document) >= len(taken.pages) + 2
    told = ""
    for number in range(3, len(document)):
        assert document[number].get_height() == pytest.approx(taken.pages[-1].height)
        told += document[number].get_textpage().get_text_range()
    assert all(recipe.title in told for recipe in job.recipes)


def test_notes_use_the_room_a_page_leaves() -> None:
    taken, _, pdf = card("typed.pdf")
    document = pypdfium2.PdfDocument(pdf)
    assert len(document) == 1
    assert document[0].get_height() == pytest.approx(taken.pages[0].height)
    assert "Check early" in document[0].get_textpage().get_text_range()


def test_a_question_gets_its_number_on_the_page() -> None:
    from dataclasses import replace

    from rewriter.model import Query

    taken, job, _ = card("typed.pdf")
    at = taken.text.index("3 eggs")
    asked = replace(job, queries=[Query(f"quantity@{at}", at, at + 6, "3 eggs", "How many?")])
    pdf = annotated(taken, asked)
    eggs = next(word for word in taken.pages[0].words if word.text == "eggs")
    assert min(abs(y - (eggs.y0 + eggs.y1) / 2) for _, y in spots(pdf, 1, "?1")) < 17


@pytest.mark.parametrize("words", ['#import "x"', "$x$ *a* _b_ \\ ]", "\x00\ud800 [@ref] <l>"])
def test_a_label_is_shown_and_never_obeyed(words: str) -> None:
    from dataclasses import replace

    taken, job, _ = card("typed.pdf")
    changed = replace(job, changes=[replace(job.changes[0], new=words)])
    text = pypdfium2.PdfDocument(annotated(taken, changed))[0].get_textpage().get_text_range()
    for word in words.replace("\x00\ud800", "").split():
        assert word in text


def test_what_is_too_long_for_a_label_stands_in_the_notes() -> None:
    from dataclasses import replace

    taken, job, _ = card("typed.pdf")
    long = "1 1/4 cups and with it another 3 tablespoons of warm water"
    changed = replace(job, changes=[replace(job.changes[0], new=long)])
    text = " ".join(pypdfium2.PdfDocument(annotated(taken, changed))[0].get_textpage().get_text_range().split())
    assert text.count("note a") == 2
    assert long in text


def test_a_protected_page_is_left_alone() -> None:
    writer = PdfWriter(clone_from=io.BytesIO((CARDS / "typed.pdf").read_bytes()))
    writer.encrypt("", "the owner's", algorithm="RC4-128")
    out = io.BytesIO()
    writer.write(out)
    with pytest.raises(Unusable, match="protected"):
        done(intake.take(out.getvalue(), "locked.pdf"))


def test_text_without_a_page_is_refused() -> None:
    text = "Cake\n\n2 cups flour\n2 tsp baking powder\n1 cup sugar\n1 cup milk\n\nBake at 350 F.\n"
    job = job_of(rewriter.rewrite(text, "6500 ft"))
    with pytest.raises(Unusable, match="no printed page"):
        annotated(intake.take(text.encode(), "cake.txt"), job)
