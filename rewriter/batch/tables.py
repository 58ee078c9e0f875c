"""JSON Lines and CSV as sources: a line or a record at a time, each of a bounded size, in the encoding it has."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterator
from functools import cached_property
from pathlib import Path
from typing import Any, BinaryIO

from rewriter import paste
from rewriter.batch.job import Row
from rewriter.batch.sources import Source
from rewriter.codec import decode
from rewriter.errors import Unusable

LONGEST = 8 * paste.LIMIT  # bytes of a line of JSON: every letter of the longest recipe as an escape, and room
START = 1 << 18  # bytes of a file that tell its encoding


class Table(Source):
    """A file of records with a field for the text and, where it has one, a field for the id and for answers."""

    def __init__(self, path: Path, text_field: str = "text", id_field: str = "id") -> None:
        super().__init__(path)
        self.text_field, self.id_field = text_field, id_field

    def row(self, number: int, where: str, record: dict[str, Any]) -> Row:
        """A row from a record; the error says where it stands.

        >>> Csv(Path("cards.csv")).row(7, "line 9", {"id": 12, "text": None}).error
        'line 9: the field "text" is empty or no text'
        """
        name = record.get(self.id_field)
        own = str(number) if name is None or name == "" else str(name)
        text = record.get(self.text_field)
        if not isinstance(text, str) or not text:
            lacks = "is missing" if self.text_field not in record else "is empty or no text"
            return Row(number, own, error=f'{where}: the field "{self.text_field}" {lacks}')
        try:
            return Row(number, own, text, answers=_answers(record.get("answers")))
        except ValueError:
            return Row(number, own, text, error=f"{where}: answers must be an object of id and value")


class JsonLines(Table):
    """A recipe a line: an object with a field for its text, or the text alone as a string."""

    @cached_property
    def total(self) -> int:
        """How many lines that are not blank."""
        return sum(1 for _ in self._lines())

    def rows(self, after: int = 0) -> Iterator[Row]:
        """A row for every line that is not blank."""
        for number, (line_number, line) in enumerate(self._lines(), 1):
            if number > after:
                yield self._row(number, f"line {line_number}", line)

    def _row(self, number: int, where: str, line: bytes | None) -> Row:
        if line is None:
            return Row(number, str(number), error=f"{where} is longer than {LONGEST // 1_000_000} MB")
        try:
            record = json.loads(decode(line)[0])
        except (ValueError, RecursionError) as error:  # Unusable is a ValueError
            return Row(number, str(number), error=f"{where} is no JSON: {error}")
        if isinstance(record, str):
            record = {self.text_field: record}
        if not isinstance(record, dict):
            return Row(number, str(number), error=f'{where} is neither an object with "{self.text_field}" nor a string')
        return self.row(number, where, record)

    def _lines(self) -> Iterator[tuple[int, bytes | None]]:
        """Every line that is not blank with its number; None for one that is too long."""
        with self.path.open("rb") as opened:
            for number, line in enumerate(_bounded(opened), 1):
                if line is None or line.strip():
                    yield number, line


class Csv(Table):
    """A recipe a record, with a header line; commas, semicolons or tabs between the fields."""

    @cached_property
    def total(self) -> int:
        """How many records."""
        return sum(1 for _ in self._records()) - 1

    def rows(self, after: int = 0) -> Iterator[Row]:
        """A row for every record. Raises Unusable where there is no header with the field of the text."""
        records = self._records()
        header = self._header(next(records, (0, [])))
        for number, (line, fields) in enumerate(records, 1):
            if number <= after:
                continue
            if fields is None:
                yield Row(number, str(number), error=f"line {line}: a field is longer than the longest recipe")
            elif len(fields) != len(header):
                yield self._uneven(number, line, header, fields)
            else:
                yield self.row(number, f"line {line}", dict(zip(header, map(_mended, fields), strict=True)))

    def _header(self, record: tuple[int, list[str] | None]) -> list[str]:
        header = [field.strip() for field in record[1] or []]
        if self.text_field not in header:
            raise Unusable(
                f'{self.path} has no column "{self.text_field}"; it has {", ".join(header) or "none"}',
                "name the column that holds the recipes with --text-field",
            )
        return header

    def _uneven(self, number: int, line: int, header: list[str], fields: list[str]) -> Row:
        kept = dict(zip(header, map(_mended, fields), strict=False))
        error = f"line {line} has {len(fields)} fields, and the header {len(header)}"
        return Row(number, str(kept.get(self.id_field) or number), kept.get(self.text_field) or "", error=error)

    def _records(self) -> Iterator[tuple[int, list[str] | None]]:
        """Every record that is not blank, the header first, with the line it ends on; None for one that is too long."""
        with self.path.open("rb") as opened:
            start = opened.read(START)
        csv.field_size_limit(4 * paste.LIMIT)
        with self.path.open(encoding=_encoding(start), errors="surrogateescape", newline="") as opened_text:
            reader = csv.reader(opened_text, delimiter=self._delimiter(start.splitlines()[:1]))
            while True:
                try:
                    fields = next(reader)
                except StopIteration:
                    return
                except csv.Error:
                    yield reader.line_num, None
                    continue
                if fields:
                    yield reader.line_num, fields

    def _delimiter(self, first: list[bytes]) -> str:
        if self.path.suffix.lower() == ".tsv":
            return "\t"
        line = (first or [b""])[0].replace(b"\0", b"")
        return max(",;\t", key=lambda sign: line.count(sign.encode()))


def _bounded(opened: BinaryIO) -> Iterator[bytes | None]:
    """Lines of a file; None for one that is longer than the longest recipe can be."""
    while line := opened.readline(LONGEST):
        if len(line) < LONGEST or line.endswith(b"\n"):
            yield line
            continue
        while (line := opened.readline(LONGEST)) and not line.endswith(b"\n"):
            pass
        yield None


def _encoding(start: bytes) -> str:
    r"""The encoding of a file by its first bytes, its byte-order mark taken off.

    >>> _encoding(b"id,text\n"), _encoding("1½".encode("utf-16"))
    ('utf-8', 'utf-16')
    """
    wide = b"\0" in start[:4]  # then a line's end has more than one byte
    form = decode(start if wide or b"\n" not in start else start[: start.rfind(b"\n") + 1])[1]
    if not form.mark:
        return form.encoding
    return "utf-8-sig" if form.encoding == "utf-8" else form.encoding[:6]


def _mended(field: str) -> str:
    """A field whose bytes were not in the encoding of the file, by the encoding they are in."""
    if field.isascii():
        return field
    try:
        field.encode()
    except UnicodeEncodeError:
        try:
            return decode(field.encode("utf-8", "surrogateescape"))[0]
        except ValueError:
            return field
    return field


def _answers(value: Any) -> tuple[tuple[str, str], ...]:
    """Answers from an object, or an object written as text. Raises ValueError where it is none."""
    if not value:
        return ()
    given = json.loads(value) if isinstance(value, str) else value
    if not isinstance(given, dict):
        raise ValueError("answers must be an object")
    return tuple((str(query), str(answer)) for query, answer in given.items())
