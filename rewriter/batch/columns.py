"""Parquet, in and out, by pyarrow (the extra ``batch``): a few hundred rows in memory at a time."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pyarrow
import pyarrow.parquet

from rewriter.batch.job import Row
from rewriter.batch.tables import Table
from rewriter.errors import Unusable

BATCH = 256
SCHEMA = pyarrow.schema(
    [
        ("row", pyarrow.int64()),
        ("id", pyarrow.string()),
        ("titles", pyarrow.string()),
        ("kinds", pyarrow.string()),
        ("text", pyarrow.string()),
        ("changes", pyarrow.string()),
        ("review", pyarrow.string()),
        ("notes", pyarrow.string()),
        ("whole", pyarrow.string()),
    ]
)


class Parquet(Table):
    """A recipe a row, in a column of text."""

    def __init__(self, path: Path, text_field: str = "text", id_field: str = "id") -> None:
        super().__init__(path, text_field, id_field)
        try:
            with pyarrow.parquet.ParquetFile(path) as file:
                self._total, names = file.metadata.num_rows, list(file.schema_arrow.names)
        except (pyarrow.ArrowException, OSError) as error:
            raise Unusable(f"{path} is no Parquet that can be read: {error}", "write it again") from None
        if text_field not in names:
            have = ", ".join(names) or "none"
            raise Unusable(f'{path} has no column "{text_field}"; it has {have}', "name it with --text-field")
        self._columns = [name for name in dict.fromkeys((text_field, id_field, "answers")) if name in names]

    @property
    def total(self) -> int:
        """How many rows."""
        return int(self._total)

    def rows(self, after: int = 0) -> Iterator[Row]:
        """A row for every row. Raises Unusable where the file is damaged further on."""
        number = 0
        try:
            with pyarrow.parquet.ParquetFile(self.path, pre_buffer=False) as file:
                for batch in file.iter_batches(BATCH, columns=self._columns):
                    if number + batch.num_rows > after:
                        for place, record in enumerate(batch.to_pylist(), number + 1):
                            if place > after:
                                yield self.row(place, f"row {place}", record)
                    number += batch.num_rows
        except (pyarrow.ArrowException, OSError) as error:
            raise Unusable(f"{self.path} is damaged after row {number}: {error}", "write it again") from None


class ParquetOut:
    """Writes outcomes as Parquet; what has parts is a string of JSON."""

    def __init__(self, path: Path) -> None:
        self._writer = pyarrow.parquet.ParquetWriter(path, SCHEMA)
        self._held: list[dict[str, Any]] = []

    def add(self, record: dict[str, Any]) -> None:
        """Add one row, keys as in the schema."""
        self._held.append(record)
        if len(self._held) >= BATCH:
            self._flush()

    def close(self) -> None:
        """Finish the file."""
        self._flush()
        self._writer.close()

    def _flush(self) -> None:
        self._writer.write_table(pyarrow.Table.from_pylist(self._held, schema=SCHEMA))
        self._held = []
