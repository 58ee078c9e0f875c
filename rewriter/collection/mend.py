"""Is the box sound? And where it is not: what can be saved, in a new box."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from rewriter.collection.carve import carve, with_log
from rewriter.collection.dump import TABLES, take_in
from rewriter.collection.store import Damaged, Store, migrations
from rewriter.errors import Unusable

# table: how its rows are known by, in the order a new box takes them in
_KEYS = {
    "settings": "name",
    "originals": "sha256",
    "arrivals": "sha256 origin",
    "refusals": "origin",
    "recipes": "uid",
    "revisions": "uid",
    "bakes": "uid",
}
_PROBE = 10_000  # row ids tried beyond the last one that could be read


@dataclass(frozen=True, slots=True)
class Salvaged:
    """What was saved (table -> rows), and in words what was not."""

    saved: dict[str, int]
    lost: tuple[str, ...]


def check(store: Store) -> list[str]:
    """What is wrong with a box, in words; nothing where it is sound.

    Every page and index is read, every reference followed, every original set against its hash.
    """
    wrong: list[str] = []
    try:
        told = [row[0] for row in store.rows("PRAGMA integrity_check(20)")]
        wrong += [f"its file: {line}" for line in told if line != "ok"]
        broken = store.rows("PRAGMA foreign_key_check")
        wrong += [f"a row of {row[0]} belongs to nothing" for row in broken[:20]]
        for row in store.each("SELECT sha256, data FROM originals"):
            if hashlib.sha256(row["data"]).hexdigest() != row["sha256"]:
                wrong.append(f"the bytes of original {row['sha256'][:12]} are not those that came in")
        unread = store.value("SELECT count(*) FROM recipes WHERE id NOT IN (SELECT recipe FROM revisions)")
        wrong += [f"{unread} recipes have no text"] if unread else []
    except Damaged as error:
        wrong.append(error.what)
    return wrong


def salvage(path: str | Path, into: str | Path) -> Salvaged:
    """Save what can be saved of a damaged box in a new one; the damaged one is left as it is.

    First row by row through SQLite, then from the bare pages. Originals whose bytes are damaged keep what was read in
    them. Raises Unusable where there is no such file, or the new one is there already.
    """
    path, into = Path(path), Path(into)
    if not path.is_file():
        raise Unusable(f"there is no box at {path}", "name it with --box")
    if into.exists():
        raise Unusable(f"{into} is there already", "name a new file")
    found: dict[str, dict[str, dict[str, Any]]] = {table: {} for table in _KEYS}
    lost: list[str] = []
    with tempfile.TemporaryDirectory(prefix="rewriter-") as room:
        copy = Path(room) / "box.sqlite"
        for end in ("", "-wal"):
            if path.with_name(path.name + end).exists():
                shutil.copyfile(path.with_name(path.name + end), copy.with_name(copy.name + end))
        log = copy.with_name(copy.name + "-wal")
        pages = with_log(copy.read_bytes(), log.read_bytes() if log.exists() else b"")
        whole = _by_rows(copy, found, lost)
        if not whole:
            _by_pages(pages, found)
    found["originals"] = dict(_sound(found["originals"], lost))
    saved = _new_box(into, found, lost)
    return Salvaged(saved, tuple(lost))


def _by_rows(copy: Path, found: dict[str, dict[str, dict[str, Any]]], lost: list[str]) -> bool:
    """Every row SQLite can still read; whether it read all of them."""
    whole = True
    try:
        with closing(sqlite3.connect(copy)) as db:
            db.row_factory = sqlite3.Row
            db.text_factory = lambda raw: raw.decode("utf-8", "replace")
            for table in _KEYS:
                for row in _rows(db, table):
                    if row is None:
                        whole = False
                        continue
                    _note(found, table, dict(row))
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            whole = whole and db.execute("PRAGMA integrity_check(1)").fetchone()[0] == "ok"
    except sqlite3.DatabaseError as error:
        lost.append(f"SQLite reads it no further ({error}): rows were taken from its bare pages")
        return False
    return whole


def _rows(db: sqlite3.Connection, table: str) -> Iterator[sqlite3.Row | None]:
    """Rows one by one in the order of their ids; None where one or a stretch of them cannot be read."""
    last, failed = 0, 0
    while failed < _PROBE:
        try:
            row = db.execute(f"SELECT * FROM {table} WHERE id > ? ORDER BY id LIMIT 1", (last,)).fetchone()
        except sqlite3.DatabaseError as error:
            if "no such table" in str(error) or "not a database" in str(error):
                raise
            yield None
            row = _without_data(db, last) if table == "originals" else None
            if row is None:
                last, failed = last + 1, failed + 1
                continue
        if row is None:
            return
        last, failed = row["id"], 0
        yield row


def _without_data(db: sqlite3.Connection, last: int) -> sqlite3.Row | None:
    """The next original without its bytes, where only they are damaged."""
    names = ", ".join(name for name in _names("originals") if name != "data")
    try:
        sql = f"SELECT {names}, NULL AS data FROM originals WHERE id > ? ORDER BY id LIMIT 1"
        row: sqlite3.Row | None = db.execute(sql, (last,)).fetchone()
    except sqlite3.DatabaseError:
        return None
    return row


def _by_pages(data: bytes, found: dict[str, dict[str, dict[str, Any]]]) -> None:
    """Rows of the bare pages that are not found yet; a table is told by its number of columns."""
    columns = _columns()
    for row in carve(data):
        table = columns.get(len(row.values))
        if table is not None and row.values[0] is None:
            record = dict(zip(_names(table), (row.rowid, *row.values[1:]), strict=True))
            if _fits(table, record):
                _note(found, table, record)


def _note(found: dict[str, dict[str, dict[str, Any]]], table: str, record: dict[str, Any]) -> None:
    key = "\0".join(str(record.get(name)) for name in _KEYS[table].split())
    found[table].setdefault(key, record)


def _fits(table: str, record: dict[str, Any]) -> bool:
    """Whether a row found on a bare page can be one of the table's."""
    texts = {"settings": "name value changed", "arrivals": "sha256 origin seen", "refusals": "origin why seen"}
    more = {"recipes": "uid sha256 title", "revisions": "uid recipe_uid text", "bakes": "uid recipe_uid day"}
    wanted = {**texts, **more, "originals": "sha256 state text"}[table].split()
    return all(isinstance(record[name], str) for name in wanted)


def _sound(found: dict[str, dict[str, Any]], lost: list[str]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Originals whose bytes fit their hash; of the others the text, as an original of its own."""
    for sha, record in found.items():
        data = record["data"]
        if isinstance(data, bytes) and hashlib.sha256(data).hexdigest() == sha:
            yield sha, record
            continue
        lost.append(f"the bytes of original {sha[:12]} are damaged: the text read in it is kept in their place")
        yield sha, {**record, "data": str(record["text"]).encode("utf-8", "replace"), "damaged": True}


def _new_box(into: Path, found: dict[str, dict[str, dict[str, Any]]], lost: list[str]) -> dict[str, int]:
    _adopt(found, lost)
    with closing(Store(into)) as store:
        with store.write():
            take_in(store, _records(found))
        tables = [*TABLES]
        return {table: int(store.value(f"SELECT count(*) FROM {table}")) for table in tables}


def _adopt(found: dict[str, dict[str, dict[str, Any]]], lost: list[str]) -> None:
    """Give rows whose owner is lost an owner made of what they hold themselves."""
    changed: dict[str, str] = {}
    for sha, record in list(found["originals"].items()):
        if record.pop("damaged", False):
            changed[sha] = hashlib.sha256(record["data"]).hexdigest()
            found["originals"][changed[sha]] = {**record, "sha256": changed[sha], "kind": "text"}
            del found["originals"][sha]
    for table in ("arrivals", "recipes"):
        for record in found[table].values():
            record["sha256"] = changed.get(record["sha256"], record["sha256"])
    first: dict[str, dict[str, Any]] = {}
    for record in sorted(found["revisions"].values(), key=lambda one: int(one["number"])):
        first.setdefault(record["recipe_uid"], record)
    for uid, record in first.items():
        if uid not in found["recipes"]:
            lost.append(f"the entry of a recipe is lost ({uid}): it is made again from its text")
            found["recipes"][uid] = _entry(uid, record)
    for record in list(found["recipes"].values()):
        _rooted(found, record, first.get(record["uid"]), lost)


def _rooted(
    found: dict[str, dict[str, dict[str, Any]]], record: dict[str, Any], first: dict[str, Any] | None, lost: list[str]
) -> None:
    """Give a recipe an original and a first text, each from the other; without either it is lost."""
    original = found["originals"].get(record["sha256"])
    if first is None and original is None:
        lost.append(f'"{record["title"]}" is lost')
        del found["recipes"][record["uid"]]
    elif original is None and first is not None:
        lost.append(f'the original of "{record["title"]}" is lost: its text is kept in its place')
        made = _made(first["text"], str(record["added"]))
        found["originals"].setdefault(made["sha256"], made)
        record["sha256"] = made["sha256"]
    if original is not None and (first is None or first["number"] != 0):
        lost.append(f'the first text of "{record["title"]}" is lost: it is taken from its original')
        text = str(original["text"])[record["start"] : record["stop"]]
        made = _first(record, text)
        found["revisions"][made["uid"]] = made


def _first(record: dict[str, Any], text: str) -> dict[str, Any]:
    uid = record["uid"]
    return {
        "uid": f"{uid}-0", "recipe_uid": uid, "number": 0, "parent": None, "why": "as found", "name": "",
        "elevation_m": None, "trial": "untried", "formula": "{}", "note": "", "text": text, "made": record["added"],
    }  # fmt: skip


def _entry(uid: str, record: dict[str, Any]) -> dict[str, Any]:
    text = record["text"]
    return {
        "uid": uid, "sha256": "", "start": 0, "stop": len(text), "title": text.strip().split("\n")[0][:120],
        "kind": "uncooked", "jars": 0, "merged_into": "", "added": record["made"],
    }  # fmt: skip


def _made(text: str, added: str) -> dict[str, Any]:
    data = text.encode("utf-8", "replace")
    told = "the original was lost with a damaged box"
    return {
        "sha256": hashlib.sha256(data).hexdigest(), "kind": "text", "state": "read", "why": told, "text": text,
        "warnings": "[]", "added": added, "data": data,
    }  # fmt: skip


def _records(found: dict[str, dict[str, dict[str, Any]]]) -> Iterator[dict[str, Any]]:
    """Records as a dump has them, each table in its order."""
    import base64

    for table in _KEYS:
        rows = list(found[table].values())
        if table == "revisions":
            rows.sort(key=lambda row: (row["recipe_uid"], row["number"]))
        for row in rows:
            plain = {
                name: {"base64": base64.b64encode(value).decode()} if isinstance(value, bytes) else value
                for name, value in row.items()
            }
            yield {"type": table, **plain}


def _columns() -> dict[int, str]:
    """Number of columns -> table."""
    return {len(_names(table)): table for table in _KEYS}


@cache
def _names(table: str) -> tuple[str, ...]:
    """A table's columns, in order."""
    with closing(sqlite3.connect(":memory:")) as db:
        for script in migrations():
            db.executescript(script)
        return tuple(row[1] for row in db.execute(f"PRAGMA table_info({table})"))
