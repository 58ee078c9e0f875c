"""Tasks for the engines of a batch that fail in every way a process can."""

from __future__ import annotations

import json
import os
import signal
import threading
import time
from dataclasses import dataclass
from pathlib import Path

from rewriter.batch.job import Row, as_json


@dataclass(frozen=True)
class Faulty:
    """Answers a row with its text in capitals; texts that begin with a word of command do worse.

    "die": the process is killed. "die once": killed, the first time. "hang": never ends. slow: seconds for a row.
    """

    folder: str
    slow: float = 0.0

    def warm(self) -> None:
        """Leave the number of the process where a test finds it."""
        if self.slow:
            (Path(self.folder) / f"pid-{os.getpid()}").touch()

    def __call__(self, row: Row) -> bytes:
        """One line."""
        time.sleep(self.slow)
        told = Path(self.folder) / f"row-{row.number}"
        with told.open("a") as file:
            file.write(f"{os.getpid()}\n")
        if row.text == "die" or (row.text == "die once" and told.read_text().count("\n") == 1):
            os.kill(os.getpid(), signal.SIGKILL)
        if row.text == "hang":
            time.sleep(600)
        if row.text == "thread":
            return as_json({"row": row.number, "id": row.id, "text": threading.current_thread().name})
        return as_json({"row": row.number, "id": row.id, "text": row.text.upper()})


def texts(lines: list[bytes]) -> list[str]:
    """The texts, or errors, of lines."""
    return [found.get("error", found["text"]) for found in map(json.loads, lines)]
