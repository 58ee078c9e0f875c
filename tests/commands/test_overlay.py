"""``rewriter overlay`` as a person runs it."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from rewriter.cli import main

CARDS = Path(__file__).parents[2] / "corpus" / "specimens"


def text_of(path: Path) -> str:
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(path))


def test_a_typed_card_is_annotated_on_its_page(tmp_path: Path) -> None:
    out = tmp_path / "card-6500.pdf"
    assert main(["overlay", str(CARDS / "typed.pdf"), "--elevation", "6500 ft", "-o", str(out)]) == 0
    text = text_of(out)
    assert "2 1/2 teaspoons baking powder" in text
    assert "→ 375 F" in text
    assert "water boils at 200 F" in text


def test_a_photo_becomes_a_page_with_its_picture(tmp_path: Path) -> None:
    out = tmp_path / "photo.pdf"
    assert main(["overlay", str(CARDS / "photographed.jpg"), "-e", "6500 ft", "-o", str(out)]) == 0
    assert "→ 375 F" in text_of(out)
    kinds = {thing.type for thing in pypdfium2.PdfDocument(out)[0].get_objects(max_depth=4)}
    assert pypdfium2.raw.FPDF_PAGEOBJ_IMAGE in kinds


@pytest.mark.parametrize(
    ("file", "more", "says"),
    [
        ("typed.pdf", [], "--elevation"),
        ("none.pdf", ["-e", "6500 ft"], "is not there"),
        ("typed.pdf", ["-e", "6500 ft", "--answer", "card@99=1 cup milk"], "no line 99"),
        ("typed.pdf", ["-e", "6500 ft", "--notes", "nowhere"], "below"),
    ],
)
def test_what_cannot_be_done_is_said_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], file: str, more: list[str], says: str
) -> None:
    out = tmp_path / "no.pdf"
    assert main(["overlay", str(CARDS / file), *more, "-o", str(out)]) == 2
    assert says in capsys.readouterr().err
    assert not out.exists()


def test_text_has_no_page_to_write_on(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    recipe = tmp_path / "cake.txt"
    recipe.write_text("Cake\n\n2 cups flour\n1 cup sugar\n\nBake at 350 F.\n")
    assert main(["overlay", str(recipe), "-e", "6500 ft", "-o", str(tmp_path / "x.pdf")]) == 2
    assert "rewriter annotate" in capsys.readouterr().err


def test_the_card_itself_is_never_written_over(tmp_path: Path) -> None:
    card = tmp_path / "card.pdf"
    card.write_bytes((CARDS / "typed.pdf").read_bytes())
    assert main(["overlay", str(card), "-e", "6500 ft", "-o", str(card)]) == 2
    assert card.read_bytes() == (CARDS / "typed.pdf").read_bytes()


def test_the_specimens_are_those_their_script_makes() -> None:
    """The two set cards word for word; the photograph pixel for pixel, as near as a JPEG of another library comes."""
    import io

    import numpy as np
    from PIL import Image

    from corpus.specimens import specimens

    made = specimens()
    assert set(made) == {path.name for path in CARDS.iterdir()}
    for name in ("typed.pdf", "two-columns.pdf"):
        again = pypdfium2.PdfDocument(made[name])[0].get_textpage().get_text_range()
        assert pypdfium2.PdfDocument(CARDS / name)[0].get_textpage().get_text_range() == again
    one, other = (np.asarray(Image.open(io.BytesIO(data))).astype(int) for data in (
        made["photographed.jpg"], (CARDS / "photographed.jpg").read_bytes(),
    ))  # fmt: skip
    assert one.shape == other.shape
    assert abs(one - other).mean() < 2
