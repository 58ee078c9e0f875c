"""What opens the block, what to watch for, and the cautions: sentences from notes.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Note, Recipe

TABLE = Path(__file__).parent.parent / "notes.toml"
FIRST_AS_WRITTEN_FT = 3500


@lru_cache(maxsize=1)
def rows() -> tuple[dict[str, Any], ...]:
    """The table's sentences, in its order."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))["note"]
    sets = ("kinds", "raised", "facts", "times", "keys", "without")
    return tuple({k: set(v) if k in sets else v for k, v in {"without": (), **row}.items()} for row in table)


@for_recipe("watch")
def watch(case: Case) -> Iterator[Finding]:
    """Every sentence of the table whose conditions this recipe and kitchen meet."""
    recipe, kitchen = case.recipe, case.kitchen
    facts = {fact.kind for fact in recipe.facts}
    has = {
        "kinds": {part.kind for part in recipe.parts} | {recipe.kind},
        "raised": {batch.kind for batch in case.batches},
        "facts": facts,
        "times": {time.of for time in recipe.times},
        "keys": {one.key for one in recipe.ingredients},
    }
    feet = kitchen.here.elevation_ft
    yield from advice(recipe)
    for row in rows():
        met = all(has[what] & row[what] for what in has if what in row)
        here = row.get("from_ft", 0) <= feet < row.get("to_ft", 99_999)
        if met and here and not facts & row["without"]:
            yield Note(row["kind"], row["text"], row.get("source", ""))
    if feet > kitchen.guide.hold_ft:
        end = f"{int(kitchen.guide.hold_ft):,} ft"
        yield Note("guide", f"This guide ends at {end}: above it its last figures are held.", kitchen.guide.source)


def advice(recipe: Recipe) -> Iterator[Note]:
    """The recipe's own words on altitude: its author may have tested them."""
    for fact in recipe.facts:
        if fact.kind == "altitude-note":
            says = f"{fact.text.rstrip('.')} (its author may have tested this)."
            yield Note("advice", says, "", fact.start, fact.end)
