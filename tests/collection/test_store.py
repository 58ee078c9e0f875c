"""The file: versions, what is no box, transactions. Pragmas as https://www.sqlite.org/pragma.html has them."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from rewriter.collection import Box
from rewriter.collection.store import APPLICATION, Store, migrations
from rewriter.errors import Unusable

from .conftest import CAKE


def test_a_new_box_is_in_write_ahead_mode_at_the_newest_version(tmp_path: Path) -> None:
    Store(tmp_path / "b.sqlite").close()
    db = sqlite3.connect(tmp_path / "b.sqlite")
    assert db.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    assert db.execute("PRAGMA user_version").fetchone() == (len(migrations()),)
    assert db.execute("PRAGMA application_id").fetchone() == (APPLICATION,)
    assert "USING fts5" in db.execute("SELECT sql FROM sqlite_master WHERE name = 'words'").fetchone()[0]
    db.close()


def test_an_older_box_is_brought_up_to_date_and_keeps_its_cards(tmp_path: Path) -> None:
    with Box(tmp_path / "b.sqlite") as box:
        box.add_text(CAKE)
        box.store.run("DROP TABLE gaps")
        box.store.run("PRAGMA user_version = 1")
    with Box(tmp_path / "b.sqlite") as box:
        assert box.card(1).text == CAKE
        box.apply(1, box.tidy(1))
        assert box.store.value("PRAGMA user_version") == len(migrations())


def test_a_box_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    with Store(tmp_path / "b.sqlite")._explained():
        pass
    db = sqlite3.connect(tmp_path / "b.sqlite")
    db.execute("PRAGMA user_version = 99")
    db.close()
    with pytest.raises(Unusable, match="newer version"):
        Store(tmp_path / "b.sqlite")


@pytest.mark.parametrize("data", [b"2 cups flour, and so on, a text and no database at all", b"%PDF-1.4 " * 400])
def test_another_file_is_not_taken_for_a_box(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "b.sqlite"
    path.write_bytes(data)
    with pytest.raises(Unusable, match="no recipe box"):
        Store(path)
    assert path.read_bytes() == data


def test_another_database_is_not_taken_for_a_box(tmp_path: Path) -> None:
    db = sqlite3.connect(tmp_path / "b.sqlite")
    db.execute("CREATE TABLE birds (name)")
    db.close()
    before = (tmp_path / "b.sqlite").read_bytes()
    with pytest.raises(Unusable, match="no recipe box"):
        Store(tmp_path / "b.sqlite")
    assert (tmp_path / "b.sqlite").read_bytes() == before


def test_a_box_that_is_not_there_is_made_only_where_asked(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match="there is no box"):
        Store(tmp_path / "b.sqlite", create=False)
    assert not (tmp_path / "b.sqlite").exists()


def test_a_transaction_that_fails_leaves_nothing(tmp_path: Path) -> None:
    store = Store(tmp_path / "b.sqlite")

    def fail() -> None:
        with store.write():
            store.run("INSERT INTO settings (name, value, changed) VALUES ('a', 'b', 'c')")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert store.value("SELECT count(*) FROM settings") == 0
    store.close()
