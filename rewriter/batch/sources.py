"""Where the rows of a batch come from: a folder, JSON Lines, CSV or Parquet, read as a stream.

Each source numbers its rows from 1 without a gap, in an order that is the same every time. What cannot be read of a
row is the row's error; only what leaves nothing to read (a missing file, a table without the column) is Unusable.
"""

from __future__ import annotations

import hashlib
from abc import ABC, abstractmethod
from collections.abc import Iterator
from pathlib import Path

from rewriter import paste
from rewriter.batch.job import Row
from rewriter.codec import decode
from rewriter.errors import Unusable

KINDS = {".jsonl": "jsonl", ".ndjson": "jsonl", ".csv": "csv", ".tsv": "csv", ".parquet": "parquet"}
PAGES = (".html", ".htm", ".xhtml", ".json", ".jsonld")  # text, but not as people read it
FORMS = "a folder, .jsonl, .csv or .parquet"


class Source(ABC):
    """A stream of rows.

    total: how many rows there are. digest: of the content, so that a changed input is not taken for the same.
    """

    def __init__(self, path: Path) -> None:
        self.path = path

    @property
    @abstractmethod
    def total(self) -> int:
        """How many rows."""

    @abstractmethod
    def rows(self, after: int = 0) -> Iterator[Row]:
        """Every row with a number above ``after``, in order."""

    def digest(self) -> str:
        """SHA-256 of the file."""
        with self.path.open("rb") as opened:
            return hashlib.file_digest(opened, "sha256").hexdigest()


class Folder(Source):
    """Every file in a folder and its folders, by name; the id is the path inside the folder. Hidden ones are left.

    Plain text is read here; a web page, a document, a PDF or a photo by whoever works on the row.
    """

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        found = (one for one in path.rglob("*") if one.is_file() and not _hidden(one.relative_to(path)))
        self.names = sorted(one.relative_to(path).as_posix() for one in found)

    @property
    def total(self) -> int:
        """How many files."""
        return len(self.names)

    def rows(self, after: int = 0) -> Iterator[Row]:
        """A row for every file; one that cannot be read bears the error."""
        for number, name in enumerate(self.names[after:], after + 1):
            yield self._row(number, name)

    def _row(self, number: int, name: str) -> Row:
        try:
            with (self.path / name).open("rb") as opened:
                data = opened.read(4 * paste.LIMIT + 1)
            if Path(name).suffix.lower() in PAGES or len(data) > 4 * paste.LIMIT:
                return Row(number, name, file=str((self.path / name).resolve()))
            text, form = decode(data)
        except OSError as error:
            return Row(number, name, error=f"{name} cannot be read: {error.strerror}")
        except Unusable:  # a document, a PDF, a photo
            return Row(number, name, file=str((self.path / name).resolve()))
        return Row(number, name, text, encoding=form.encoding, mark=form.mark.hex())

    def digest(self) -> str:
        """SHA-256 over the names and contents of all files."""
        whole = hashlib.sha256()
        for name in self.names:
            whole.update(name.encode("utf-8", "surrogateescape") + b"\0")
            try:
                with (self.path / name).open("rb") as opened:
                    whole.update(hashlib.file_digest(opened, "sha256").digest())
            except OSError:
                whole.update(b"unreadable")
        return whole.hexdigest()


def source(path: Path, text_field: str = "text", id_field: str = "id") -> Source:
    """The source a path holds. Raises Unusable where there is none, or none of a known kind.

    >>> source(Path("no-such-folder"))
    Traceback (most recent call last):
    rewriter.errors.Unusable: no-such-folder does not exist; give a folder, .jsonl, .csv or .parquet
    """
    if not path.exists():
        raise Unusable(f"{path} does not exist", f"give {FORMS}")
    if path.is_dir():
        return Folder(path)
    kind = KINDS.get(path.suffix.lower(), "")
    if kind == "parquet":
        from rewriter.batch.columns import Parquet

        return Parquet(path, text_field, id_field)
    if not kind:
        raise Unusable(f"{path} is no collection of recipes", f"give {FORMS}; one recipe is for rewriter annotate")
    from rewriter.batch import tables

    return (tables.JsonLines if kind == "jsonl" else tables.Csv)(path, text_field, id_field)


def _hidden(name: Path) -> bool:
    return any(part.startswith(".") for part in name.parts)
