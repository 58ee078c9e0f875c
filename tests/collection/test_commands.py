"""The commands: each has its twin in Python; standard output holds only the result."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from rewriter.cli import main
from rewriter.collection import Box
from rewriter.commands.box import box as group

Capture = pytest.CaptureFixture[str]
NOT_METHODS = {"show", "salvage"}  # these are the card's or the module's


@pytest.fixture
def path(box: Box, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The box with four cards, named by the environment."""
    monkeypatch.setenv("REWRITER_BOX", str(box.store.path))
    return box.store.path


def run(capsys: Capture, *words: object) -> tuple[int, str, str]:
    """Exit status, standard output and standard error of a command."""
    status = main(["box", *map(str, words)])
    told = capsys.readouterr()
    return status, told.out, told.err


def test_every_command_has_its_twin_in_python() -> None:
    names = {name.replace("-", "_") for name in group.commands}
    assert {name for name in names if not hasattr(Box, name)} == NOT_METHODS
    assert all(command.help for command in group.commands.values())


def test_add_reports_and_strict_exits_with_1(path: Path, folder: Path, capsys: Capture) -> None:
    (folder / "broken.docx").write_bytes(b"PK\x03\x04 broken")
    status, out, err = run(capsys, "add", folder)
    assert (status, out) == (
        0,
        "5 files: 0 recipes came in, 4 files were here already, 0 hold no recipe, 1 could not be read\n",
    )
    assert "broken.docx" in err
    assert run(capsys, "add", "--strict", folder)[0] == 1


def test_cards_search_and_show(path: Path, capsys: Capture) -> None:
    assert run(capsys, "cards")[1].splitlines()[2] == "    3  Teague Snow Day Cake  (shortened-cake)"
    assert "Honey Loaf" in run(capsys, "search", "yeast", "breads", "with", "honey")[1]
    [found] = json.loads(run(capsys, "search", "--role", "syrup", "--format", "json")[1])
    assert found["title"] == "Sundquist Honey Loaf"
    assert run(capsys, "show", "honey loaf")[1] == Box(path).card(2).text
    assert run(capsys, "show", "--original", "2")[1].encode() == Box(path).original(2)


def test_edit_takes_a_file_or_the_editor(
    path: Path, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    mended = tmp_path / "mended.txt"
    mended.write_text(Box(path).card(2).text.replace("1/4 cup honey", "1/3 cup honey"), encoding="utf-8")
    assert run(capsys, "edit", "2", mended, "--note", "her spoon")[1] == "revision 1 of card 2\n"
    assert "1/3 cup honey" in Box(path).card(2).text
    assert run(capsys, "edit", "2", mended)[1] == "nothing was changed\n"
    monkeypatch.setattr("click.edit", lambda text, extension: text.replace("1/3 cup honey", "1/2 cup honey"))
    assert run(capsys, "edit", "2")[1] == "revision 2 of card 2\n"
    monkeypatch.setattr("click.edit", lambda text, extension: None)  # closed without saving
    assert run(capsys, "edit", "2")[1] == "nothing was changed\n"
    assert [one.why for one in Box(path).revisions(2)] == ["as found", "by hand", "by hand"]


def test_tidy_shows_first_and_changes_only_on_yes(path: Path, capsys: Capture) -> None:
    before = Box(path).card(1).text
    status, out, err = run(capsys, "tidy", "3", "--units", "long")
    assert status == 0
    assert "-2 tsp baking powder" in out
    assert "+2 teaspoons baking powder" in out
    assert "nothing is changed without --yes" in err
    assert len(Box(path).revisions(3)) == 1
    run(capsys, "tidy", "--yes")
    assert "2 teaspoons baking powder" in Box(path).card(3).text
    assert Box(path).card(1).text == before


def test_bakes_and_revisions(path: Path, capsys: Capture) -> None:
    status, out, _ = run(
        capsys, "bake", "snow day", "-e", "8200 ft", "--fault", "sank in the middle", "--date", "2026-03-31"
    )
    assert status == 0
    assert "kept: revision 1 at 8,200 ft on 2026-03-31, failed" in out
    assert "next, against sank: More flour" in out
    assert "rewriter box show 3 --revision 2" in out
    run(capsys, "bake", "3", "-e", "8200 ft", "--rating", "5")
    assert "not tried there" in run(capsys, "carry", "3", "--from", "8200 ft", "--to", "6500 ft")[1]
    assert "our 8,200 ft version" in run(capsys, "name", "3", "2", "our 8,200 ft version")[1]
    assert len(run(capsys, "revisions", "3")[1].splitlines()) == 4
    assert "flour" in run(capsys, "compare", "3", "1", "2")[1]
    assert len(run(capsys, "bakes")[1].splitlines()) == 2
    assert "1 bake says so" in run(capsys, "kitchen")[1]


def test_twins_and_merge(path: Path, tmp_path: Path, capsys: Capture) -> None:
    aunt = tmp_path / "aunt.txt"
    aunt.write_text(Box(path).card(3).text.replace("1 1/4 cups sugar", "1 cup sugar"), encoding="utf-8")
    run(capsys, "add", aunt)
    assert "1 cup sugar, not 1 1/4 cups" in run(capsys, "twins")[1]
    assert run(capsys, "merge", "3", "5") == (0, "", "")
    assert run(capsys, "twins")[1] == ""
    assert run(capsys, "part", "5")[0] == 0


def test_take_out_dump_load_backup_and_check(path: Path, tmp_path: Path, capsys: Capture) -> None:
    assert run(capsys, "take-out", tmp_path / "out", "-e", "8200 ft", "--style", "inline")[0] == 0
    assert run(capsys, "dump", tmp_path / "d.jsonl")[0] == 0
    assert run(capsys, "--box", tmp_path / "b2.sqlite", "load", tmp_path / "d.jsonl")[0] == 0
    assert run(capsys, "backup", tmp_path / "copy.sqlite")[0] == 0
    assert run(capsys, "--box", tmp_path / "b2.sqlite", "check")[1].startswith("sound: 4 originals, 4 recipes")


def test_a_damaged_box_is_explained_in_a_line_and_saved(path: Path, tmp_path: Path, capsys: Capture) -> None:
    copy = tmp_path / "copy.sqlite"
    Box(path).backup(copy)
    with copy.open("r+b") as opened:
        opened.write(bytes(100))
    status, out, err = run(capsys, "--box", copy, "cards")
    assert (status, out) == (2, "")
    assert "is damaged; save what can be saved: rewriter box salvage SAVED.sqlite" in err
    assert run(capsys, "--box", copy, "check")[0] == 1
    assert run(capsys, "--box", copy, "salvage", tmp_path / "saved.sqlite")[0] == 1
    assert len(Box(tmp_path / "saved.sqlite").cards()) == 4


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (["show", "99"], "there is no card 99"),
        (["show", "a"], "is the title of several cards"),
        (["bake", "3"], "where the kitchen is"),
        (["bake", "3", "-e", "8200 ft", "--fault", "purple"], "names no fault"),
        (["kitchen"], "no bake here has worked otherwise"),
        (["carry", "3", "--from", "1 ft", "--to", "2 ft"], "no bake of it has worked"),
        (["add", "nowhere"], "is not there"),
        (["--box", "nowhere.sqlite", "cards"], "there is no box"),
        (["tidy", "--units", "furlongs"], "furlongs"),
    ],
)
def test_every_complaint_is_one_line_and_status_2(
    path: Path, words: list[str], complaint: str, capsys: Capture
) -> None:
    status, out, err = run(capsys, *words)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert complaint in err
