"""The file box.sqlite: opened, brought up to date, read, and written in transactions that are kept whole or not at all.

SQLite in write-ahead mode with full synchronisation (https://www.sqlite.org/wal.html): readers never wait, writers wait
for one another, and a process killed at any moment leaves the last finished transaction.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from rewriter.errors import Unusable

APPLICATION = int.from_bytes(b"RcBx", "big")  # PRAGMA application_id of every box
WAIT = 60.0  # seconds a writer waits for another
_MAGIC = b"SQLite format 3\0"
_BROKEN = ("malformed", "not a database", "corrupt", "disk image", "unsupported file format", "disk i/o")


class Damaged(Unusable):
    """A box whose file is damaged."""

    def __init__(self, what: str, mend: str = "") -> None:
        """Say what is damaged, and how to save the rest."""
        super().__init__(what, mend or "save what can be saved: rewriter box salvage SAVED.sqlite")


class Store:
    """An open box. Use one in one thread; open another in another.

    Raises Unusable where the file is no box or cannot be opened, Damaged where it is damaged.
    """

    def __init__(self, path: str | Path, create: bool = True) -> None:
        """Open a box, or make an empty one."""
        self.path = Path(path)
        if not create and not self.path.exists():
            raise Unusable(f"there is no box at {self.path}", "make one with rewriter box add, or name it with --box")
        with self._explained():
            _header(self.path)
            self._db = sqlite3.connect(self.path, timeout=WAIT, isolation_level=None, check_same_thread=False)
            self._db.row_factory = sqlite3.Row
            try:
                self._prepare()
            except BaseException:
                self._db.close()
                raise

    def rows(self, sql: str, *values: object) -> list[sqlite3.Row]:
        """All rows of a query."""
        with self._explained():
            return self._db.execute(sql, values).fetchall()

    def each(self, sql: str, *values: object) -> Iterator[sqlite3.Row]:
        """Rows of a query, one at a time."""
        with self._explained():
            yield from self._db.execute(sql, values)

    def one(self, sql: str, *values: object) -> sqlite3.Row | None:
        """The first row of a query, or None."""
        with self._explained():
            row: sqlite3.Row | None = self._db.execute(sql, values).fetchone()
            return row

    def value(self, sql: str, *values: object) -> Any:
        """The first value of the first row, or None."""
        row = self.one(sql, *values)
        return None if row is None else row[0]

    def run(self, sql: str, *values: object) -> int:
        """Carry out a statement inside :meth:`write`; the id of an inserted row."""
        with self._explained():
            return self._db.execute(sql, values).lastrowid or 0

    @contextmanager
    def write(self) -> Iterator[None]:
        """A transaction: all that is run in it is kept, or, where an error ends it, none. Nested ones join."""
        if self._writing():
            yield
            return
        with self._explained():
            self._db.execute("BEGIN IMMEDIATE")
            try:
                yield
                self._db.execute("COMMIT")
            except BaseException:
                if self._writing():
                    self._db.execute("ROLLBACK")
                raise

    def _writing(self) -> bool:
        return self._db.in_transaction

    def copy_to(self, path: Path) -> None:
        """Copy the whole box to a new file while it is in use."""
        with self._explained():
            target = sqlite3.connect(path)
            try:
                self._db.backup(target)
                target.execute("PRAGMA journal_mode = DELETE")
            finally:
                target.close()

    def close(self) -> None:
        """Close the file."""
        self._db.close()

    def _prepare(self) -> None:
        db = self._db
        db.execute(f"PRAGMA busy_timeout = {int(WAIT * 1000)}")
        for pragma in ("foreign_keys = ON", "synchronous = FULL", "trusted_schema = OFF", "cell_size_check = ON"):
            db.execute(f"PRAGMA {pragma}")
        tables = db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
        if tables and db.execute("PRAGMA application_id").fetchone()[0] != APPLICATION:
            raise Unusable(f"{self.path} is a database, but no recipe box", "name another file with --box")
        if db.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
            _patiently(lambda: db.execute("PRAGMA journal_mode = WAL"))
        self._migrate()

    def _migrate(self) -> None:
        steps = migrations()
        if self._version() == len(steps):
            return
        with self.write():
            version = self._version()
            if version > len(steps):
                raise Unusable(f"{self.path} was made by a newer version of rewriter", "bring rewriter up to date")
            for number, script in enumerate(steps[version:], version + 1):
                for statement in _statements(script):
                    self._db.execute(statement)
                self._db.execute(f"PRAGMA user_version = {number}")
            self._db.execute(f"PRAGMA application_id = {APPLICATION}")

    def _version(self) -> int:
        return int(self._db.execute("PRAGMA user_version").fetchone()[0])

    @contextmanager
    def _explained(self) -> Iterator[None]:
        """Database errors in words a person can use."""
        try:
            yield
        except sqlite3.DatabaseError as error:
            told = str(error)
            if any(word in told.lower() for word in _BROKEN):
                raise Damaged(f"the box {self.path} is damaged ({told})") from error
            if "locked" in told or "busy" in told:
                raise Unusable(f"{self.path} is in use by another program", "try again when that is done") from error
            if isinstance(error, sqlite3.OperationalError) and ("unable to open" in told or "readonly" in told):
                raise Unusable(
                    f"{self.path} cannot be opened ({told})", "check the folder and who may write"
                ) from error
            if "full" in told:
                raise Unusable(
                    f"the disk of {self.path} is full", "make room; nothing that was kept is lost"
                ) from error
            raise


def now() -> str:
    """The present moment, as the box writes it."""
    return datetime.now(UTC).isoformat(timespec="seconds")


@cache
def migrations() -> tuple[str, ...]:
    """The scripts that bring a box from each version to the next, in order.

    >>> [script.lstrip()[:2] for script in migrations()][:1]
    ['--']
    """
    folder = files("rewriter.collection") / "migrations"
    found = sorted((one for one in folder.iterdir() if one.name.endswith(".sql")), key=lambda one: one.name)
    return tuple(one.read_text(encoding="utf-8") for one in found)


def _statements(script: str) -> Iterator[str]:
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _header(path: Path) -> None:
    """Refuse what is no database before SQLite touches it."""
    if not path.exists() or not path.stat().st_size:
        return
    if not path.is_file():
        raise Unusable(f"{path} is no file", "name the box with --box")
    with path.open("rb") as opened:
        start = opened.read(100)
    if not start.startswith(_MAGIC):
        if path.stat().st_size % 512 == 0 and (start.count(0) > 60 or start[68:72] == APPLICATION.to_bytes(4, "big")):
            raise Damaged(f"the first page of the box {path} is damaged")
        raise Unusable(f"{path} is no recipe box", "name another file with --box")


def _patiently(do: Any) -> None:
    """Going over to write-ahead mode needs the file alone for a moment, and SQLite does not wait for it by itself."""
    end = time.monotonic() + WAIT
    while True:
        try:
            do()
            return
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() > end:
                raise
            time.sleep(0.02)
