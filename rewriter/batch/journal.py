"""The journal of a run: one line of JSON for each row done, in the order of the input, in a folder beside the output.

A line is there whole or not at all: what a crash left torn is cut off when the journal is opened again. So the number
of lines is the number of rows done, and a run goes on from there.
"""

from __future__ import annotations

import json
import os
import time
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from rewriter.errors import Unusable

SAFE = 5.0  # seconds between two orders to the disk to keep what it was given


class Journal:
    """The journal in a folder, made where it is not there; open in one process at a time."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path, self.job = folder / "rows.jsonl", folder / "job.json"

    def __enter__(self) -> Journal:
        """Open it. Raises Unusable where another process has it."""
        self.folder.mkdir(parents=True, exist_ok=True)
        self._file: IO[bytes] = self.path.open("ab+")
        if not _locked(self._file):
            self._file.close()
            raise Unusable(f"another run is writing to {self.folder}", "let it finish, or name another output")
        self._kept = time.monotonic()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Put everything on the disk and let go."""
        self._keep()
        self._file.close()

    def begin(self, job: dict[str, Any], afresh: bool = False) -> int:
        """Rows done already by the same job. Raises Unusable where another job was begun here."""
        known = _load(self.job)
        if afresh or known is None:
            self._file.truncate(0)
            self.job.write_text(json.dumps(job, indent=1), encoding="utf-8")
            return 0
        if known != job:
            differs = ", ".join(key for key in job if known.get(key) != job[key])
            raise Unusable(
                f"a run with another {differs} was begun here and is not finished",
                "give the same again to go on, or --afresh to begin again",
            )
        return self._recover()

    def add(self, line: bytes) -> None:
        """Add the outcome of the next row."""
        self._file.write(line + b"\n")
        if time.monotonic() - self._kept > SAFE:
            self._keep()

    def lines(self) -> Iterator[bytes]:
        """Every line, without its end."""
        self._file.flush()
        with self.path.open("rb") as opened:
            for line in opened:
                yield line[:-1]

    def _recover(self) -> int:
        """Count the whole lines, and cut off what follows them."""
        done, end = 0, 0
        with self.path.open("rb") as opened:
            for line in opened:
                if not _is_row(line, done + 1):
                    break
                done, end = done + 1, end + len(line)
        self._file.truncate(end)
        return done

    def _keep(self) -> None:
        self._file.flush()
        os.fsync(self._file.fileno())
        self._kept = time.monotonic()


def _is_row(line: bytes, number: int) -> bool:
    if not line.endswith(b"\n"):
        return False
    try:
        return bool(json.loads(line)["row"] == number)
    except (ValueError, TypeError, KeyError):
        return False


def _load(path: Path) -> dict[str, Any] | None:
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return found if isinstance(found, dict) else None


def _locked(file: IO[bytes]) -> bool:
    """Lock a file for this process until it is closed; True where nobody else has it."""
    try:
        import fcntl
    except ImportError:  # Windows: two runs at once into one output are not told apart
        return True
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True
