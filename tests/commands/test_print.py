"""``rewriter print`` as a person runs it."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pypdfium2
import pytest

from rewriter import intake
from rewriter.cli import main
from rewriter.model import Page, Word

CAKE = """{title}

2 cups all-purpose flour
2 teaspoons baking powder
1/2 cup butter
1 1/2 cups sugar
2 eggs
1 cup milk

Heat the oven to 350 F. Cream the butter and sugar, add the rest. Bake 30 minutes.
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    box = tmp_path / "box"
    (box / "deep").mkdir(parents=True)
    (box / "b.txt").write_text(CAKE.format(title="Brandt Cake"))
    (box / "a.md").write_text(CAKE.format(title="Alder Cake"))
    (box / "deep" / "c.txt").write_text(CAKE.format(title="Cinder Cake"))
    (box / "notes.bin").write_bytes(bytes(range(256)))
    (box / ".hidden.txt").write_text(CAKE.format(title="Hidden Cake"))
    return box


def text_of(path: Path) -> list[str]:
    return [" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(path)]


def test_a_recipe_becomes_a_page(folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "cake.pdf"
    assert main(["print", str(folder / "b.txt"), "--elevation", "6500 ft", "-o", str(out)]) == 0
    [page] = text_of(out)
    assert page.startswith("Brandt Cake For 6,500 ft (1,981 m).")
    assert "350 F 375 F" in page


def test_a_folder_becomes_a_booklet_in_order(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "book.pdf"
    given = ["print", str(folder), "-e", "6500 ft", "--title", "Ninebark Oven", "--guide-page", "-o", str(out)]
    assert main(given) == 0
    contents, *recipes, guide = text_of(out)
    assert contents.startswith("Ninebark Oven")
    assert [page.split(" Cake")[0] for page in recipes] == ["Alder", "Brandt", "Cinder"]
    assert "Hidden" not in contents
    assert guide.startswith("The guide by elevation")
    assert "left out: notes.bin" in capsys.readouterr().err


@pytest.mark.parametrize(("paper", "size"), [("card-4x6", (432, 288)), ("card-5x8", (576, 360))])
def test_cards_are_cards(folder: Path, tmp_path: Path, paper: str, size: tuple[float, float]) -> None:
    out = tmp_path / "card.pdf"
    assert main(["print", str(folder / "b.txt"), "-e", "6500 ft", "--paper", paper, "-o", str(out)]) == 0
    assert pypdfium2.PdfDocument(out)[0].get_size() == pytest.approx(size, abs=0.5)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["b.txt"], "--elevation"),
        (["none.txt", "-e", "6500 ft"], "is not there"),
        (["notes.bin", "-e", "6500 ft"], "no recipe is left to print"),
        (["b.txt", "-e", "6500 ft", "--paper", "papyrus"], "card-4x6"),
        (["b.txt", "-e", "6500 ft", "--guide", "nobody"], "guide"),
    ],
)
def test_what_cannot_be_printed_is_said_in_one_line(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], says: str
) -> None:
    out = tmp_path / "no.pdf"
    assert main(["print", str(folder / arguments[0]), *arguments[1:], "-o", str(out)]) == 2
    assert says in capsys.readouterr().err
    assert not out.exists()


def test_strict_tells_that_something_was_left_out(folder: Path, tmp_path: Path) -> None:
    assert main(["print", str(folder), "-e", "6500 ft", "--strict", "-o", str(tmp_path / "x.pdf")]) == 1


def test_templates_fetch_nothing() -> None:
    """No package, no file: all a template reads is what it is given."""
    found = [one for room in ("rewriter.writing.print", "rewriter.overlay") for one in files(room).iterdir()]
    templates = [one.read_text("utf-8") for one in found if one.name.endswith(".typ")]
    assert len(templates) >= 5
    for template in templates:
        for word in ("@preview", "#import", "#include", "read(", "image("):
            assert word not in template


def test_amounts_a_machine_can_hardly_have_read_right_are_printed_as_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = CAKE.format(title="Brandt Cake").replace("2 teaspoons baking", "212 teaspoons baking")
    words = tuple(
        Word(found[0], 0, 0, 1, 1, 1, found.start(), found.end(), 0.97) for found in re.finditer(r"\S+", text)
    )
    taken = intake.Taken(text, (Page(1, 600, 800, words),), "card.jpg", "photo")
    monkeypatch.setattr(intake, "take_each", lambda path: [taken])
    out = tmp_path / "x.pdf"
    assert main(["print", "card.jpg", "-e", "6500 ft", "-o", str(out)]) == 0
    [page] = text_of(out)
    assert re.search(r"212 teaspoons\s*\?1\s+baking powder 1/2 cup", page)
    assert "350 F 375 F" in page
    assert "card@4 in Brandt Cake" in capsys.readouterr().err
