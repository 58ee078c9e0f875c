"""A damaged box is found out, explained, and what can be saved is saved.

Pages are overwritten as a failing disk would. A leaf page of a table begins with 0x0D, by the published file format:
https://www.sqlite.org/fileformat2.html, section 1.6.
"""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path

import pytest

from rewriter.collection import Box, Damaged, salvage
from rewriter.collection.carve import carve
from rewriter.collection.mend import check
from rewriter.collection.store import Store
from rewriter.errors import Unusable

PAGE = 4096


@pytest.fixture(scope="module")
def pattern(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A box of 60 cards with a bake each, closed; some originals are larger than a page."""
    path = tmp_path_factory.mktemp("pattern") / "full.sqlite"
    with Box(path) as box:
        for number in range(60):
            more = f"Note {number}: " + "snow " * (2000 if number % 10 == 0 else 20)
            box.add_text(
                f"Gems No. {number}\n\n{number + 1} cups graham flour\n1 tsp baking soda\n1 cup buttermilk\n\n{more}\n",
                f"{number}.txt",
            )
            box.bake(number + 1, "8200 ft", rating=4, note=f"bake {number}")
        box.name(7, 1, "our 8,200 ft version")
    return path.read_bytes()


@pytest.fixture
def full(tmp_path: Path, pattern: bytes) -> Path:
    """A copy of that box, to be damaged."""
    path = tmp_path / "full.sqlite"
    path.write_bytes(pattern)
    return path


def _leaves(path: Path) -> list[int]:
    """Numbers of the leaf pages of tables."""
    data = path.read_bytes()
    return [number for number in range(2, len(data) // PAGE + 1) if data[(number - 1) * PAGE] == 0x0D]


def overwrite(path: Path, page: int, data: bytes = b"\xa5" * PAGE, at: int = 0) -> None:
    """Damage a page."""
    with path.open("r+b") as opened:
        opened.seek((page - 1) * PAGE + at)
        opened.write(data)


def test_a_sound_box_is_sound(full: Path) -> None:
    with Box(full) as box:
        assert box.check() == []


@pytest.mark.parametrize("which", [3, 10, 20, 40])
def test_a_damaged_page_is_found_out_and_the_other_cards_are_saved(full: Path, tmp_path: Path, which: int) -> None:
    leaves = _leaves(full)
    overwrite(full, leaves[len(leaves) * which // 60])
    with _closing(full) as store:
        assert check(store) != []
    saved = tmp_path / "saved.sqlite"
    done = salvage(full, saved)
    with Box(saved) as box:
        assert box.check() == []
        assert len(box.cards()) >= 50
        assert {card.title for card in box.cards()} <= {f"Gems No. {number}" for number in range(60)}
        assert done.saved["recipes"] == len(box.cards())
        assert len(box.search("graham")) == len(box.cards())


def test_with_its_first_page_gone_nearly_everything_is_saved(full: Path, tmp_path: Path) -> None:
    overwrite(full, 1)
    with pytest.raises((Damaged, Unusable)):
        Box(full)
    done = salvage(full, tmp_path / "saved.sqlite")
    with Box(tmp_path / "saved.sqlite") as box:
        assert {card.title for card in box.cards()} == {f"Gems No. {number}" for number in range(60)}
        assert {one.note for one in box.bakes()} == {f"bake {number}" for number in range(60)}
        assert any(one.name == "our 8,200 ft version" for one in box.revisions("Gems No. 6"))
        assert "Note 50: snow" in box.card("Gems No. 50").text
        assert box.check() == []
    assert done.lost


def test_zeros_in_place_of_the_header_are_explained(full: Path) -> None:
    overwrite(full, 1, bytes(100))
    with pytest.raises(Damaged, match=r"first page .* damaged; save what can be saved"):
        Box(full)


def test_bytes_changed_within_an_original_are_found_by_its_hash(full: Path, tmp_path: Path, pattern: bytes) -> None:
    places = [match.start() for match in re.finditer(rb"Gems No. 31\n", pattern)]
    told = []
    for number, at in enumerate(places):
        full.write_bytes(pattern[:at] + b"J" + pattern[at + 1 :])
        with _closing(full) as store:
            wrong = check(store)
        if any("bytes of original" in words for words in wrong):
            told.append(at)
            done = salvage(full, tmp_path / f"saved{number}.sqlite")
            assert any("the text read in it is kept" in words for words in done.lost)
            with Box(tmp_path / f"saved{number}.sqlite") as box:
                assert box.check() == []
                assert len(box.cards()) == 60
                assert box.card("Gems No. 31").text.startswith("Gems No. 31\n")
    assert len(told) == 1  # of the copies of those words in the file, one is the original's bytes


def test_a_box_cut_short_is_explained_and_saved_in_part(full: Path, tmp_path: Path) -> None:
    data = full.read_bytes()
    full.write_bytes(data[: len(data) * 2 // 3 // PAGE * PAGE])
    with pytest.raises(Damaged), Box(full) as box:
        raise Damaged("x") if box.check() else AssertionError("it seems sound")
    salvage(full, tmp_path / "saved.sqlite")
    with Box(tmp_path / "saved.sqlite") as box:
        assert len(box.cards()) >= 20
        assert box.check() == []


def test_a_damaged_box_makes_no_backup_over_a_good_one(full: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite"
    with Box(full) as box:
        box.backup(copy)
    good = copy.read_bytes()
    leaves = _leaves(full)
    overwrite(full, leaves[len(leaves) // 2])
    with _closing(full) as store:
        box.store = store
        with pytest.raises(Unusable, match="damaged"):
            box.backup(copy)
    assert copy.read_bytes() == good


def test_a_salvage_leaves_both_files_as_they_are(full: Path, tmp_path: Path) -> None:
    before = full.read_bytes()
    (tmp_path / "there.sqlite").write_bytes(b"mine")
    with pytest.raises(Unusable, match="there already"):
        salvage(full, tmp_path / "there.sqlite")
    salvage(full, tmp_path / "new.sqlite")
    assert full.read_bytes() == before


def test_a_sound_box_is_saved_whole(full: Path, tmp_path: Path) -> None:
    with Box(full) as box:
        box.dump(tmp_path / "before.jsonl")
    done = salvage(full, tmp_path / "saved.sqlite")
    assert done.lost == ()
    with Box(tmp_path / "saved.sqlite") as box:
        box.dump(tmp_path / "after.jsonl")
    assert (tmp_path / "after.jsonl").read_bytes() == (tmp_path / "before.jsonl").read_bytes()


def test_what_stands_only_in_the_log_is_saved_too(full: Path, tmp_path: Path) -> None:
    crashed = tmp_path / "crashed.sqlite"
    with Box(full) as box:
        box.add_text("Pell Oat Rounds\n\n1 cup flour\n1 cup oats\n1 egg\n")
        box.bake(5, "8200 ft", rating=5, note="only in the log")
        for end in ("", "-wal"):  # as a machine that lost its power leaves them
            crashed.with_name(crashed.name + end).write_bytes(full.with_name(full.name + end).read_bytes())
    overwrite(crashed, 1)
    salvage(crashed, tmp_path / "saved.sqlite")
    with Box(tmp_path / "saved.sqlite") as box:
        assert len(box.cards()) == 61
        assert box.search("Pell Oat Rounds")
        assert "only in the log" in {one.note for one in box.bakes()}
        assert box.check() == []


def test_bare_pages_give_the_rows_that_sqlite_gives(full: Path) -> None:
    db = sqlite3.connect(full)
    expected = {row[0]: row[1:] for row in db.execute("SELECT id, uid, note, made FROM bakes")}
    db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    db.close()
    found = {row.rowid: row.values for row in carve(full.read_bytes()) if len(row.values) == 16}
    assert {number: (row[1], row[13], row[15]) for number, row in found.items()} == expected


def _closing(path: Path):  # type: ignore[no-untyped-def]
    from contextlib import closing

    return closing(Store(path))
