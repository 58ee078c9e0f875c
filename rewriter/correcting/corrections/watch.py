"""What opens the block, what to watch for, and the cautions: sentences from notes.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Note, Recipe

TABLE = Path(__file__).parent.parent / "notes.toml"
FIRST_AS_WRITTEN_FT = 3500
CONDITIONS = ("facts", "times", "keys")
Names = frozenset[str]


@dataclass(frozen=True, slots=True)
class Row:
    """One sentence of the table: what it asks of a recipe, what silences it, and the elevations it is for (feet).

    kinds, raised: the kinds of bake it is for, None for any. asks: names of which the recipe must have one.
    """

    kinds: Names | None
    raised: Names | None
    asks: tuple[tuple[str, Names], ...]
    without: Names
    from_ft: int
    to_ft: int
    note: Note


@lru_cache(maxsize=1)
def rows() -> tuple[Row, ...]:
    """The table's sentences, in its order."""
    return tuple(map(_row, tomllib.loads(TABLE.read_text(encoding="utf-8"))["note"]))


def _row(table: dict[str, Any]) -> Row:
    return Row(
        kinds=frozenset(table["kinds"]) if "kinds" in table else None,
        raised=frozenset(table["raised"]) if "raised" in table else None,
        asks=tuple((what, frozenset(table[what])) for what in CONDITIONS if what in table),
        without=frozenset(table.get("without", ())),
        from_ft=table.get("from_ft", 0),
        to_ft=table.get("to_ft", 99_999),
        note=Note(table["kind"], table["text"], table.get("source", "")),
    )


@lru_cache(maxsize=1024)
def rows_for(kinds: Names, raised: Names, feet: Fraction) -> tuple[Row, ...]:
    """The sentences for some kinds of bake at an elevation; raised: the kinds whose batter may change."""
    return tuple(
        row
        for row in rows()
        if row.from_ft <= feet < row.to_ft
        and not (row.kinds is not None and row.kinds.isdisjoint(kinds))
        and not (row.raised is not None and row.raised.isdisjoint(raised))
    )


@for_recipe("watch")
def watch(case: Case) -> Iterator[Finding]:
    """Every sentence of the table whose conditions this recipe and kitchen meet."""
    recipe, kitchen = case.recipe, case.kitchen
    kinds = frozenset([recipe.kind, *(part.kind for part in recipe.parts)])
    raised = frozenset([batch.kind for batch in case.batches])
    feet = kitchen.here.elevation_ft
    yield from advice(recipe)
    names = _names(recipe)
    for row in rows_for(kinds, raised, feet):
        if row.without.isdisjoint(names["facts"]) and not any(wanted.isdisjoint(names[of]) for of, wanted in row.asks):
            yield row.note
    if feet > kitchen.guide.hold_ft:
        end = f"{int(kitchen.guide.hold_ft):,} ft"
        yield Note("guide", f"This guide ends at {end}: above it its last figures are held.", kitchen.guide.source)


def _names(recipe: Recipe) -> dict[str, set[str | None]]:
    """The recipe's names by condition."""
    return {
        "facts": {fact.kind for fact in recipe.facts},
        "times": {time.of for time in recipe.times},
        "keys": {one.key for one in recipe.ingredients},
    }


def advice(recipe: Recipe) -> Iterator[Note]:
    """The recipe's own words on altitude: its author may have tested them."""
    for fact in recipe.facts:
        if fact.kind == "altitude-note":
            says = f"{fact.text.rstrip('.')} (its author may have tested this)."
            yield Note("advice", says, "", fact.start, fact.end)
