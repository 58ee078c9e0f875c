"""The tables as one structure: read from shelf.json while that is fresh, else from the tables themselves.

The TOML tables and units.txt are what a baker reads and mends. ``python -m rewriter.pantry.build`` gathers them
into shelf.json, which loads in a few milliseconds and carries the digest of the tables it was made from. A table
mended since then is read itself, so a correction counts at once.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

ROOM = Path(__file__).parent
SHELF = ROOM / "shelf.json"
TABLES = ("oven_words", "measures", "kinds", "roles", "sources")

Table = dict[str, Any]


def _digest(paths: list[Path]) -> str:
    total = hashlib.sha256()
    for path in paths:
        total.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n") + b"\0")
    return total.hexdigest()


def table_paths() -> list[Path]:
    """Every TOML table of the pantry, in a fixed order."""
    return sorted((ROOM / "ingredients").glob("*.toml")) + [ROOM / f"{name}.toml" for name in TABLES]


def _toml(path: Path) -> Table:
    with path.open("rb") as file:
        try:
            return tomllib.load(file)
        except tomllib.TOMLDecodeError as error:
            raise ValueError(f"pantry table {path.name}: {error}") from error


def gather_tables() -> Table:
    """Read the tables: ``entries`` (key to row, defaults of the aisle filled in) and each named table.

    Raises ValueError where a key stands twice or a table is not TOML.
    """
    tables: Table = {name: _toml(ROOM / f"{name}.toml") for name in TABLES}
    sources = tables["sources"]
    entries: dict[str, Table] = {}
    for path in sorted((ROOM / "ingredients").glob("*.toml")):
        aisle = _toml(path)
        defaults = aisle.get("defaults", {})
        for key, row in aisle["rows"].items():
            if key in entries:
                raise ValueError(f"pantry: {key} stands in {path.stem} and in {entries[key]['aisle']}")
            full = {"aisle": path.stem, **defaults, **row}
            if full["source"] not in sources:
                raise ValueError(f"pantry: {key} in {path.stem} names an unknown source {full['source']!r}")
            full["source"] = sources[full["source"]]["text"]
            entries[key] = full
    return {"entries": entries, **tables}


def gather_units() -> Table:
    """Read units.txt with pint: unit to [exact factor in mL, g or pieces, dimension]."""
    from rewriter.pantry.unitfile import read_units

    return {name: [str(factor), dimension] for name, (factor, dimension) in read_units(ROOM / "units.txt").items()}


def gather() -> Table:
    """The whole shelf, with the digests it was made from."""
    return {
        "tables_digest": _digest(table_paths()),
        "units_digest": _digest([ROOM / "units.txt"]),
        "tables": gather_tables(),
        "units": gather_units(),
    }


@cache
def _stored() -> Table:
    if not SHELF.exists():
        return {}
    stored: Table = json.loads(SHELF.read_bytes())
    return stored


@cache
def tables() -> Table:
    """The gathered tables; from shelf.json where no table has changed since it was made."""
    stored = _stored()
    if stored.get("tables_digest") == _digest(table_paths()):
        found: Table = stored["tables"]
        return found
    return gather_tables()


@cache
def units() -> Table:
    """The gathered units; from shelf.json where units.txt has not changed since it was made."""
    stored = _stored()
    if stored.get("units_digest") == _digest([ROOM / "units.txt"]):
        found: Table = stored["units"]
        return found
    return gather_units()


def is_fresh() -> bool:
    """Whether shelf.json was made from the tables as they stand."""
    stored = _stored()
    return stored.get("tables_digest") == _digest(table_paths()) and stored.get("units_digest") == _digest(
        [ROOM / "units.txt"]
    )
