"""Everything comes out again, and another box reads it back whole."""

from __future__ import annotations

import hashlib
import json
import zipfile
from pathlib import Path

import pytest

from rewriter import api, writing
from rewriter.collection import Box, Card
from rewriter.collection.takeout import slug
from rewriter.errors import Unusable
from rewriter.writing.registry import find

from .conftest import AUNT, CARDS, JARS

UP_HERE = "8200 ft"


@pytest.fixture
def lived_in(box: Box) -> Box:
    """The box with a twin merged, a card tidied, bakes, names, and a file that was refused."""
    twin = box.add_text(AUNT, "aunt.txt").cards[0]
    box.merge(3, [twin])
    box.apply(4, box.tidy(4))
    box.bake(3, UP_HERE, faults=["sank"], photo=b"\x89PNG\r\n\x1a\n....")
    box.bake(3, UP_HERE, rating=5, note="better")
    box.name(3, 2, "our 8,200 ft version")
    box.carry(3, UP_HERE, "6500 ft")
    box.manner(units="long")
    return box


def test_a_dump_is_read_back_whole(lived_in: Box, tmp_path: Path) -> None:
    lived_in.dump(tmp_path / "one.jsonl")
    with Box(tmp_path / "other.sqlite") as other:
        done = other.load(tmp_path / "one.jsonl")
        assert (done.originals, done.recipes, done.bakes) == (5, 5, 2)
        assert other.check() == []
        assert other.cards(merged=True) == lived_in.cards(merged=True)
        assert other.bakes() == lived_in.bakes()
        assert other.revisions(3) == lived_in.revisions(3)
        assert sorted(card.number for card in other.search("with butter")) == [3, 4]
        other.dump(tmp_path / "two.jsonl")
    assert (tmp_path / "two.jsonl").read_bytes() == (tmp_path / "one.jsonl").read_bytes()


def test_a_dump_read_twice_adds_nothing(lived_in: Box, tmp_path: Path) -> None:
    lived_in.dump(tmp_path / "one.jsonl")
    done = lived_in.load(tmp_path / "one.jsonl")
    assert (done.originals, done.recipes, done.revisions, done.bakes) == (0, 0, 0, 0)


def test_two_boxes_that_grew_apart_become_one(box: Box, tmp_path: Path) -> None:
    box.dump(tmp_path / "start.jsonl")
    with Box(tmp_path / "other.sqlite") as other:
        other.load(tmp_path / "start.jsonl")
        other.bake(3, UP_HERE, rating=5, note="theirs")
        other.add_text(AUNT)
        other.dump(tmp_path / "theirs.jsonl")
    box.bake(3, "5280 ft", rating=2, note="ours")
    box.load(tmp_path / "theirs.jsonl")
    assert {one.note for one in box.bakes(3)} == {"ours", "theirs"}
    assert [one.number for one in box.revisions(3)] == [0, 1, 2]
    theirs = next(one for one in box.bakes(3) if one.note == "theirs")
    assert box.revisions(3)[theirs.revision].elevation_m == pytest.approx(theirs.elevation_m)
    assert len(box.cards()) == 5
    assert box.check() == []


@pytest.mark.parametrize("spoil", ["cut", "line", "no json", "other", "newer"])
def test_a_dump_that_is_not_whole_is_refused_and_nothing_of_it_taken(box: Box, tmp_path: Path, spoil: str) -> None:
    path = tmp_path / "one.jsonl"
    box.dump(path)
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    spoiled = {
        "cut": lines[:-3],
        "line": [*lines[:2], *lines[3:]],
        "no json": [lines[0], "{oops\n"],
        "other": ['{"name": "somebody"}\n'],
        "newer": ['{"type": "box", "format": 99}\n', *lines[1:]],
    }[spoil]
    path.write_text("".join(spoiled), encoding="utf-8")
    with Box(tmp_path / "other.sqlite") as other:
        with pytest.raises(Unusable):
            other.load(path)
        assert other.cards() == []
        assert other.check() == []


def test_an_altered_original_in_a_dump_is_refused(box: Box, tmp_path: Path) -> None:
    path = tmp_path / "one.jsonl"
    box.dump(path)
    records = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    next(one for one in records if one["type"] == "originals")["data"]["base64"] = "c2FsdA=="
    body = "".join(json.dumps(one, ensure_ascii=False, sort_keys=True) + "\n" for one in records[:-1])
    end = {"type": "end", "lines": len(records) - 1, "sha256": hashlib.sha256(body.encode()).hexdigest()}
    path.write_text(body + json.dumps(end) + "\n", encoding="utf-8")
    with Box(tmp_path / "other.sqlite") as other, pytest.raises(Unusable, match="do not fit their hash"):
        other.load(path)


def test_take_out_holds_every_card_in_every_style_and_every_original(lived_in: Box, tmp_path: Path) -> None:
    done = lived_in.take_out(tmp_path / "out", UP_HERE)
    found = lived_in.cards(merged=True)
    assert done.cards == len(found) == 5
    for card in found:
        assert (tmp_path / "out" / "cards" / f"{slug(card)}.txt").read_text(encoding="utf-8") == card.text
        for name in writing.styles():
            path = tmp_path / "out" / name / f"{slug(card)}{find(name).suffix}"
            assert path.stat().st_size > 0
            if name in ("inline", "markdown", "criticmarkup"):
                assert api.strip(path.read_text(encoding="utf-8")) == card.text
            if name == "docx":
                assert zipfile.is_zipfile(path)
    kept = {hashlib.sha256(path.read_bytes()).hexdigest() for path in (tmp_path / "out" / "originals").iterdir()}
    assert kept == {hashlib.sha256(text.encode()).hexdigest() for text in (*CARDS.values(), AUNT)}
    with Box(tmp_path / "again.sqlite") as again:
        again.load(tmp_path / "out" / "box.jsonl")
        assert again.cards(merged=True) == found


def test_the_family_s_own_revision_is_what_is_taken_out(box: Box, tmp_path: Path) -> None:
    box.bake(3, UP_HERE, changed="baking powder 1 1/2 tsp", rating=5)
    box.take_out(tmp_path / "out", UP_HERE, ["inline"])
    card = box.card(3)
    text = (tmp_path / "out" / "inline" / f"{slug(card)}.txt").read_text(encoding="utf-8")
    assert "→ 1 1/2 tsp] baking powder" in text


def test_a_card_for_jars_comes_out_with_nothing_changed_in_any_style(box: Box, tmp_path: Path) -> None:
    box.take_out(tmp_path / "out", UP_HERE, ["inline", "clean"])
    for name in ("inline", "clean"):
        text = (tmp_path / "out" / name / f"{slug(box.card(1))}.txt").read_text(encoding="utf-8")
        assert all(line in text for line in JARS.splitlines())
        assert "→" not in text.split("===")[0]


def test_nothing_is_written_into_a_folder_that_holds_something(box: Box, folder: Path) -> None:
    with pytest.raises(Unusable, match="not empty"):
        box.take_out(folder)


@pytest.mark.parametrize(
    "title", ["../../etc/passwd", "C:\\rusk", "con", "a/b", "\0", ".", "Édith’s ½ cake", "x" * 300]
)
def test_no_title_leads_out_of_the_folder(title: str) -> None:
    name = slug(Card(7, "", title, "cookie", ""))
    assert name.endswith("-7")
    assert len(name) < 80
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")


def test_a_backup_is_made_while_another_writes(box: Box, tmp_path: Path) -> None:
    with box.store.write():
        box.store.run("INSERT INTO settings (name, value, changed) VALUES ('half', 'done', '')")
        with Box(box.store.path) as other:
            other.backup(tmp_path / "copy.sqlite")
    with Box(tmp_path / "copy.sqlite") as copy:
        assert copy.cards() == box.cards()
        assert copy.store.value("SELECT count(*) FROM settings WHERE name = 'half'") == 0
        assert copy.check() == []


def test_a_backup_is_not_the_box_itself(box: Box) -> None:
    with pytest.raises(Unusable, match="the box itself"):
        box.backup(box.store.path)


def test_a_booklet_is_a_pdf_of_the_cards(box: Box, tmp_path: Path) -> None:
    pytest.importorskip("typst")
    pytest.importorskip("pypdf")
    import pypdfium2

    assert box.booklet(tmp_path / "book.pdf", UP_HERE, title="Cinder Pass") == 4
    document = pypdfium2.PdfDocument(tmp_path / "book.pdf")
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    assert all(card.title in text for card in box.cards())
