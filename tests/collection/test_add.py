"""Bringing in: byte for byte, once, whatever happens on the way."""

from __future__ import annotations

import hashlib
import os
import zipfile
from pathlib import Path

import pytest

from rewriter.collection import Box
from rewriter.errors import Unusable

from .conftest import CAKE, CARDS


def test_each_original_is_kept_byte_for_byte_with_its_hash_and_origin(box: Box, folder: Path) -> None:
    rows = box.store.rows(
        "SELECT originals.sha256, data, origin FROM originals JOIN arrivals ON original = originals.id"
    )
    assert len(rows) == len(CARDS)
    for row in rows:
        assert row["data"] == Path(row["origin"]).read_bytes()
        assert row["sha256"] == hashlib.sha256(row["data"]).hexdigest()


def test_nothing_is_added_twice(box: Box, folder: Path) -> None:
    again = box.add([folder])
    assert (again.cards, len(again.again)) == ((), 4)
    (folder / "copy.txt").write_text(CAKE, encoding="utf-8")
    more = box.add([folder, folder / "cake.txt"])
    assert more.cards == ()
    assert len(box.cards()) == 4
    assert len(box.card("Teague Snow Day Cake").origins) == 2


def test_an_interrupted_run_goes_on_where_it_was(tmp_path: Path, folder: Path) -> None:
    def stop(_: str, count: int, __: int) -> None:
        if count == 2:
            raise KeyboardInterrupt

    with Box(tmp_path / "b.sqlite") as opened:
        with pytest.raises(KeyboardInterrupt):
            opened.add([folder], stop)
        assert len(opened.cards()) == 2
        done = opened.add([folder])
        assert (len(done.cards), len(done.again)) == (2, 2)
        assert opened.check() == []


def test_one_bad_file_is_reported_and_the_rest_go_on(box: Box, folder: Path) -> None:
    (folder / "aa.docx").write_bytes(b"PK\x03\x04 broken")
    (folder / "ab.bin").write_bytes(bytes(range(256)) * 10)
    (folder / "zz.txt").write_text("Rusk\n\n2 cups flour\n1 tsp soda\n1 cup milk\n", encoding="utf-8")
    done = box.add([folder])
    assert len(done.cards) == 1
    assert [Path(name).name for name, _ in done.aside] == ["aa.docx", "ab.bin"]
    assert [Path(name).name for name in done.kept] == ["aa.docx"]
    assert box.store.value("SELECT count(*) FROM refusals") == 1


def test_a_file_without_a_recipe_is_kept_and_said(box: Box, tmp_path: Path) -> None:
    note = tmp_path / "note.txt"
    note.write_text("Call the vet on Thursday about the goat.", encoding="utf-8")
    done = box.add([note])
    assert done.without == (str(note),)
    assert box.store.value("SELECT data FROM originals WHERE state = 'no recipe'") == note.read_bytes()


def test_what_could_not_be_read_is_read_when_it_can_be(
    box: Box, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = tmp_path / "rusk.html"
    page.write_text("<html><h1>Rusk</h1><p>2 cups flour<br>1 tsp soda<p>Bake at 350 F.</html>", encoding="utf-8")

    def lacking(*_: object) -> None:
        raise ModuleNotFoundError("No module named 'inscriptis'", name="inscriptis")

    with monkeypatch.context() as patched:
        patched.setattr("rewriter.intake.webpage.read", lacking)
        assert "inscriptis" in box.add([page]).aside[0][1]
    assert len(box.add([page]).cards) == 1
    assert box.store.value("SELECT count(*) FROM originals WHERE state = 'unread'") == 0


def test_a_fault_in_reading_one_file_does_not_stop_the_others(
    box: Box, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from rewriter.collection import bring

    (folder / "a.txt").write_text("Rusk A\n\n2 cups flour\n1 cup milk\n1 tsp soda\n", encoding="utf-8")
    (folder / "b.txt").write_text("Rusk B\n\n2 cups flour\n1 cup milk\n1 tsp soda\n", encoding="utf-8")
    true = bring.stretches

    def failing(text: str, *rest: object) -> object:
        if "Rusk A" in text:
            raise ZeroDivisionError("oven")
        return true(text, *rest)  # type: ignore[arg-type]

    with monkeypatch.context() as patched:
        patched.setattr(bring, "stretches", failing)
        done = box.add([folder])
    assert len(done.cards) == 1
    assert "ZeroDivisionError" in done.warned[0][1]
    assert len(box.add([folder]).cards) == 1


def test_a_file_of_many_recipes_becomes_as_many_cards_and_no_word_is_lost(box: Box, tmp_path: Path) -> None:
    several = tmp_path / "several.txt"
    several.write_text(
        "\n\n".join((CARDS["cake.txt"], CARDS["cookies.txt"], CARDS["bread.txt"])) + "x", encoding="utf-8"
    )
    done = box.add([several])
    cards = [box.card(number) for number in done.cards]
    assert [card.title for card in cards] == ["Teague Snow Day Cake", "Pell Oat Rounds", "Sundquist Honey Loaf"]
    assert "".join(card.text for card in cards) == several.read_text(encoding="utf-8")


def test_archives_are_read_in_place(box: Box, tmp_path: Path) -> None:
    packed = tmp_path / "old.zip"
    with zipfile.ZipFile(packed, "w") as into:
        into.writestr("in/rusk.txt", "Rusk\n\n2 cups flour\n1 tsp soda\n1 cup milk\n")
        into.writestr("../out.txt", "Out\n\n2 cups flour\n1 tsp soda\n")
    done = box.add([packed])
    assert len(done.cards) == 1
    assert box.card(done.cards[0]).origins == (f"{packed}: in/rusk.txt",)
    assert "leads out" in done.aside[0][1]
    assert not (tmp_path.parent / "out.txt").exists()


def test_links_that_lead_out_and_pipes_are_passed_over(box: Box, folder: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("Secret\n\n2 cups flour\n1 tsp soda\n1 cup milk\n", encoding="utf-8")
    (folder / "link.txt").symlink_to(secret)
    (folder / "loop").symlink_to(folder, target_is_directory=True)
    os.mkfifo(folder / "pipe.txt")
    (folder / ".hidden.txt").write_text(CAKE, encoding="utf-8")
    assert box.add([folder]).files == 4


def test_a_box_in_the_folder_is_not_brought_into_itself(folder: Path) -> None:
    with Box(folder / "box.sqlite") as opened:
        assert opened.add([folder]).files == 4


def test_a_path_that_is_not_there_is_said(box: Box) -> None:
    with pytest.raises(Unusable, match="is not there"):
        box.add(["nowhere.txt"])
