"""Every command has its twin in Python: the same figures, the same words."""

from __future__ import annotations

import io
import json
from pathlib import Path

import click
import pypdfium2
import pytest

import rewriter
from rewriter import Answer, Unusable, asjson, cli, further

ROOT = Path(__file__).parent.parent
CARD = ROOT / "corpus" / "examples" / "ninebark-butter-cake.txt"
CAKE = CARD.read_text("utf-8")
TWINS = {
    "annotate": "rewrite",
    "batch": "batch",
    "box": "Box",
    "compare": "compare",
    "formula": "formula",
    "next": "next_step",
    "overlay": "overlay_page",
    "print": "print_book",
    "read": "read",
    "strip": "strip",
}


def printed(capfdbinary: pytest.CaptureFixture[bytes], *arguments: str) -> str:
    assert cli.main(arguments) == 0
    return capfdbinary.readouterr().out.decode()


def test_every_command_but_the_page_has_a_twin() -> None:
    assert set(TWINS) == set(cli.COMMANDS) - {"serve"}
    assert set(TWINS.values()) <= set(rewriter.__all__)
    assert all(hasattr(rewriter, name) for name in TWINS.values())


def test_every_command_of_the_box_has_a_twin() -> None:
    group = cli.cli.get_command(click.Context(cli.cli), "box")
    assert isinstance(group, click.Group)
    names = {name.replace("-", "_") for name in group.commands} - {"show", "salvage"}
    assert {name for name in names if not hasattr(rewriter.Box, name)} == set()


def test_compare_gives_what_its_command_prints(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    shown = json.loads(printed(capfdbinary, "compare", str(CARD), "-e", "6500 ft", "--format", "json"))
    (made,) = rewriter.compare(CAKE, "6500 ft")
    for row, twin in zip(shown[0]["rows"], made.rows, strict=True):
        assert row["what"] == twin.label
        for guide, edit in twin.by.items():
            assert (edit is None) == (row["by"][guide] is None)
            assert edit is None or asjson.plain(edit.exact) == row["by"][guide]["exact"]


def test_compare_draws(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib")
    picture = tmp_path / "guides.svg"
    rewriter.compare(CAKE, "6500 ft", plot=picture)
    assert "<svg" in picture.read_text("utf-8")


@pytest.mark.parametrize("where", [[], ["-e", "6500 ft"]])
def test_formula_gives_what_its_command_prints(where: list[str], capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    shown = json.loads(printed(capfdbinary, "formula", str(CARD), *where, "--format", "json"))
    assert json.loads(asjson.dumps(rewriter.formula(CAKE, *where[1:]))) == shown


def test_next_step_is_what_its_command_prints(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    arguments = ("next", str(CARD), "-e", "6500 ft", "--fault", "sank in the middle", "--step", "2")
    result = rewriter.next_step(CAKE, "6500 ft", "sank in the middle", step=2)
    assert result.text == printed(capfdbinary, *arguments)
    assert rewriter.strip(result.text) == CAKE
    assert result.changes


@pytest.mark.parametrize("call", [rewriter.compare, rewriter.formula, rewriter.next_step])
def test_an_unknown_strength_is_refused(call: object) -> None:
    with pytest.raises(Unusable, match="strength"):
        call(CAKE, "6500 ft", strength="bold")  # type: ignore[operator]


def test_next_step_knows_its_faults() -> None:
    with pytest.raises(Unusable):
        rewriter.next_step(CAKE, "6500 ft", "delicious")
    with pytest.raises(Unusable, match="nothing in this recipe"):
        rewriter.next_step(CAKE, "0 ft", "sank")


def test_print_book_sets_every_recipe() -> None:
    pytest.importorskip("typst")
    results = [rewriter.rewrite(CAKE, "6500 ft"), rewriter.rewrite(CAKE.replace("Cake", "Slab"), "6500 ft")]
    pdf = pypdfium2.PdfDocument(io.BytesIO(rewriter.print_book(results, "a4")))
    words = "".join(page.get_textpage().get_text_range() for page in pdf)
    assert "Cake" in words
    assert "Slab" in words
    with pytest.raises(Unusable, match="paper"):
        rewriter.print_book(results, "papyrus")


def test_overlay_page_takes_the_word_of_a_person() -> None:
    pytest.importorskip("typst")
    card = ROOT / "corpus" / "specimens" / "typed.pdf"
    page = rewriter.overlay_page(card, "6500 ft")
    assert pypdfium2.PdfDocument(io.BytesIO(page.pdf))[0]
    with pytest.raises(Unusable, match="no line"):
        rewriter.overlay_page(card, "6500 ft", answers=[Answer("card@999", "1 cup butter")])
    with pytest.raises(Unusable, match="no printed page"):
        further.overlay_page(CARD, "6500 ft")
