"""Photos: small cards set, rendered and laid as people lay them."""

from __future__ import annotations

import io

import pypdfium2
import pytest
import typst
from PIL import Image

from rewriter import intake
from rewriter.errors import Unusable

CARD = """#set page(width: 3in, height: 1.6in, margin: 0.3in)
#set text(font: "Libertinus Serif", size: 13pt)
Pell Oat Cakes \\ 2 cups oats \\ 3 teaspoons honey \\ Bake at 350 F."""
LINES = ["Pell Oat Cakes", "2 cups oats", "3 teaspoons honey", "Bake at 350 F."]


def picture() -> Image.Image:
    pdf = typst.compile(CARD.encode(), format="pdf", ignore_system_fonts=True)
    assert isinstance(pdf, bytes)
    return pypdfium2.PdfDocument(pdf)[0].render(scale=4).to_pil().convert("RGB")


def saved(image: Image.Image, **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, "PNG", **more)
    return out.getvalue()


def test_lines_and_places_of_words() -> None:
    taken = intake.take(saved(picture()), "card.png")
    assert taken.text.split("\n") == LINES
    [page] = taken.pages
    assert max(page.width, page.height) == pytest.approx(792)
    # the card's own measure: its margin is a tenth of its width
    assert min(word.x0 for word in page.words) == pytest.approx(page.width / 10, rel=0.1)
    assert all(taken.text[word.start : word.end] == word.text for word in page.words)
    assert all(word.confidence < 1 for word in page.words)


def test_a_photo_that_its_camera_noted_as_turned_is_set_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 3  # EXIF 2.3, tag Orientation: 3 is turned by 180 degrees
    taken = intake.take(saved(picture().rotate(180), exif=exif), "card.png")
    assert taken.text.split("\n") == LINES


@pytest.mark.parametrize(("turn", "says"), [(180, "on its head"), (90, "on its side")])
def test_a_photo_that_is_not_upright_is_sent_back(turn: int, says: str) -> None:
    with pytest.raises(Unusable, match=says):
        intake.take(saved(picture().rotate(turn, expand=True)), "card.png")


def test_a_picture_without_words_is_sent_back() -> None:
    with pytest.raises(Unusable, match="no words"):
        intake.take(saved(Image.new("RGB", (400, 300), "white")), "card.png")


def test_a_scanned_page_of_a_pdf_is_read_as_a_photo() -> None:
    out = io.BytesIO()
    picture().save(out, "PDF", resolution=288)
    taken = intake.take(out.getvalue(), "scan.pdf")
    assert taken.text.split("\n") == LINES
    assert taken.pages[0].width == pytest.approx(216, abs=1)
