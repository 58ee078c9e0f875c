"""How far a batch is, on standard error: a bar on a terminal, a line now and then elsewhere.

>>> counted(1200, 4800, 60.0)
'1,200 of 4,800 recipes (25 %), 20.0 a second, 3 minutes to go'
"""

from __future__ import annotations

import sys
import time
from types import TracebackType

EVERY = 10.0  # seconds between lines where standard error is no terminal


def counted(done: int, total: int, seconds: float, before: int = 0) -> str:
    """How far, how fast and how long yet. before: rows that an earlier run had done already."""
    pace = (done - before) / seconds if seconds > 0 else 0.0
    share = f"{done:,} of {total:,} recipes ({100 * done // max(total, 1)} %)"
    return f"{share}, {pace:.1f} a second, {_left((total - done) / pace)} to go" if pace else share


def _left(seconds: float) -> str:
    count, unit = (round(seconds), "second") if seconds < 90 else (round(seconds / 60), "minute")
    return f"{count} {unit}" if count == 1 else f"{count} {unit}s"


class Progress:
    """Shown while it is open; does nothing where it is not wanted."""

    def __init__(self, total: int, before: int = 0, wanted: bool = True) -> None:
        self.total, self.before, self.wanted = total, before, wanted
        self.done, self._first = before, before + 1
        self._bar = wanted and sys.stderr.isatty()

    def __enter__(self) -> Progress:
        """Begin to show."""
        self._start = self._told = time.monotonic()
        if self._bar:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, TaskProgressColumn, TimeRemainingColumn
            from rich.progress import Progress as Bar

            columns = BarColumn(), TaskProgressColumn(), MofNCompleteColumn(), TimeRemainingColumn()
            self._rich = Bar(*columns, console=Console(stderr=True))
            self._rich.start()
            self._task = self._rich.add_task("recipes", total=self.total, completed=self.before)
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Leave the terminal as it was."""
        if self._bar:
            self._rich.update(self._task, completed=self.done)
            self._rich.stop()

    def step(self) -> None:
        """One more row is done; the pace is counted from the first, when the workers are ready."""
        self.done += 1
        if self.done == self._first:
            self._start, self.before = time.monotonic(), self.done
        if self._bar:
            if self.done % 16 == 0:
                self._rich.update(self._task, completed=self.done)
        elif self.wanted and time.monotonic() - self._told > EVERY:
            self._told = time.monotonic()
            print(counted(self.done, self.total, self._told - self._start, self.before), file=sys.stderr)  # noqa: T201
