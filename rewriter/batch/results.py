"""Where the outcomes of a batch go: JSON Lines, CSV, Parquet or a folder, written from the journal at the end.

What is set aside never goes there, but into a JSON Lines of its own, with its error and its text.
"""

from __future__ import annotations

import csv
import itertools
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Protocol

from rewriter.batch.sources import KINDS
from rewriter.codec import Form, encode
from rewriter.errors import Unusable

COLUMNS = ("row", "id", "titles", "kinds", "text", "changes", "review", "notes")


class Sink(Protocol):
    """Takes outcomes one by one, in order."""

    def add(self, outcome: dict[str, Any], line: bytes) -> None:
        """Write one outcome; ``line`` is the same as JSON."""

    def close(self) -> None:
        """Finish."""


class LinesSink:
    """JSON Lines: an outcome a line, whole."""

    def __init__(self, path: Path) -> None:
        self._file = path.open("wb")

    def add(self, outcome: dict[str, Any], line: bytes) -> None:
        """Write one line."""
        self._file.write(line + b"\n")

    def close(self) -> None:
        """Close the file."""
        self._file.close()


class CsvSink:
    """CSV with a header; what has parts (titles, changes, questions ...) is JSON in its field."""

    def __init__(self, path: Path, columns: tuple[str, ...]) -> None:
        self._file = path.open("w", encoding="utf-8", errors="backslashreplace", newline="")
        self._writer = csv.writer(self._file)
        self._writer.writerow(columns)
        self._columns = columns

    def add(self, outcome: dict[str, Any], line: bytes) -> None:
        """Write one record."""
        flat = flattened(outcome)
        self._writer.writerow([flat.get(column, "") for column in self._columns])

    def close(self) -> None:
        """Close the file."""
        self._file.close()


class ParquetSink:
    """Parquet, with the columns of the CSV."""

    def __init__(self, path: Path) -> None:
        from rewriter.batch.columns import ParquetOut

        self._out = ParquetOut(path)

    def add(self, outcome: dict[str, Any], line: bytes) -> None:
        """Write one row."""
        self._out.add({key: _clean(value) for key, value in flattened(outcome).items()})

    def close(self) -> None:
        """Close the file."""
        self._out.close()


class FolderSink:
    """A folder of annotated files, each under the name and in the encoding of the file it came from.

    What was no plain text comes back as text, in UTF-8, with ".txt" added to its name.
    """

    def __init__(self, path: Path, suffix: str = "") -> None:
        path.mkdir()
        self._path, self._suffix = path, suffix

    def add(self, outcome: dict[str, Any], line: bytes) -> None:
        """Write one file."""
        name = outcome["id"] + (self._suffix or outcome.get("suffix", ""))
        path = next(path for path in _names(self._path / name) if not path.exists())
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(encode(outcome["text"], Form(outcome["encoding"], bytes.fromhex(outcome["mark"]))))

    def close(self) -> None:
        """Nothing is left open."""


def kind_of(out: Path, of_folder: bool) -> str:
    """How an output is written: "jsonl", "csv", "parquet" or "folder". Raises Unusable where that cannot be.

    >>> kind_of(Path("annotated.parquet"), of_folder=False), kind_of(Path("annotated"), of_folder=True)
    ('parquet', 'folder')
    """
    kind = KINDS.get(out.suffix.lower(), "")
    if kind and out.suffix.lower() != ".tsv":
        return kind
    if out.suffix and out.suffix.lower() in (".tsv", ".json", ".txt", ".md"):
        raise Unusable(f"{out} names no form a batch can be written in", "name a folder, .jsonl, .csv or .parquet")
    if not of_folder:
        raise Unusable(f"{out} has no ending that says its form", "name it .jsonl, .csv or .parquet")
    return "folder"


def opener(kind: str, suffix: str, whole: bool) -> Callable[[Path], Sink]:
    """What opens a sink of a kind at a path. suffix: added to the names of files in a folder."""
    columns = (*COLUMNS, "whole") if whole else COLUMNS
    openers: dict[str, Callable[[Path], Sink]] = {
        "jsonl": LinesSink,
        "csv": lambda path: CsvSink(path, columns),
        "parquet": ParquetSink,
        "folder": lambda path: FolderSink(path, suffix),
    }
    return openers[kind]


def flattened(outcome: dict[str, Any]) -> dict[str, Any]:
    """An outcome for one record: what has parts as JSON.

    >>> flattened({"row": 1, "id": "a", "kinds": ["cookie"]})
    {'row': 1, 'id': 'a', 'kinds': '["cookie"]'}
    """
    return {
        key: json.dumps(value, ensure_ascii=False) if isinstance(value, (list, dict)) else value
        for key, value in outcome.items()
    }


def _names(path: Path) -> Iterator[Path]:
    """A path, and others beside it for when it is taken: where "card.docx" and "card.docx.txt" lie in one folder."""
    yield path
    for count in itertools.count(2):
        yield path.with_name(f"{path.stem} ({count}){path.suffix}")


def _clean(value: Any) -> Any:
    """Text that every form can hold: broken characters as escapes."""
    return value.encode("utf-8", "backslashreplace").decode() if isinstance(value, str) else value
