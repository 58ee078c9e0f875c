"""A recipe's own line: its revisions, compared and named, from the text that was found to what works in a kitchen."""

from __future__ import annotations

import difflib
import json
import re
import uuid
from typing import Any

from rewriter.collection.index import index
from rewriter.collection.records import Revision
from rewriter.collection.search import NEAR_M
from rewriter.collection.store import Store, now
from rewriter.errors import Unusable

_BLOCK = re.compile(r"^=== Altitude notes.*", re.M | re.S)
_NUMBER = re.compile(r"\d+")


def revisions(store: Store, recipe: int) -> list[Revision]:
    """Every revision of a recipe, from the first."""
    rows = store.rows("SELECT * FROM revisions WHERE recipe = ? ORDER BY number", recipe)
    return [_revision(row) for row in rows]


def revision(store: Store, recipe: int, which: int | str) -> Revision:
    """One revision, by its number or its name. Raises Unusable where there is none."""
    found = revisions(store, recipe)
    said = str(which).strip()
    for one in found:
        if said == one.name or (_NUMBER.fullmatch(said) and one.number == int(said)):
            return one
    names = ", ".join(f"{one.number}{f' ({one.name})' if one.name else ''}" for one in found)
    raise Unusable(f'there is no revision "{said}"', f"there are {names}" if names else "there is no such card")


def base(store: Store, recipe: int) -> Revision:
    """The present text for no kitchen in particular. Raises Unusable where there is no such card."""
    found = [one for one in revisions(store, recipe) if one.elevation_m is None]
    if not found:
        raise Unusable(f"there is no card {recipe}", "see rewriter box cards")
    return found[-1]


def at(store: Store, recipe: int, elevation_m: float) -> Revision | None:
    """The newest revision for an elevation (within 500 ft), else None."""
    found = [
        one
        for one in revisions(store, recipe)
        if one.elevation_m is not None and abs(one.elevation_m - elevation_m) < NEAR_M
    ]
    return found[-1] if found else None


def revise(
    store: Store,
    recipe: int,
    text: str,
    why: str,
    parent: int | None,
    elevation_m: float | None = None,
    trial: str = "untried",
    note: str = "",
    formula: dict[str, Any] | None = None,
) -> int:
    """Put a new revision at the end of a recipe's line; its number."""
    with store.write():
        uid = store.value("SELECT uid FROM recipes WHERE id = ?", recipe)
        number = int(store.value("SELECT max(number) + 1 FROM revisions WHERE recipe = ?", recipe))
        store.run(
            "INSERT INTO revisions (uid, recipe, recipe_uid, number, parent, why, name, elevation_m, trial, formula, "
            "note, text, made) VALUES (?, ?, ?, ?, ?, ?, '', ?, ?, ?, ?, ?, ?)",
            *(uuid.uuid4().hex, recipe, uid, number, parent, why, elevation_m, trial),
            *(json.dumps(formula or {}), note, text, now()),
        )
        index(store, recipe)
    return number


def name(store: Store, recipe: int, which: int | str, words: str) -> Revision:
    """Give a revision a name of the family's ("our 8,200 ft version"); "" takes it away.

    Raises Unusable where the name is a number or another revision's.
    """
    words = " ".join(words.split())
    if _NUMBER.fullmatch(words):
        raise Unusable("a name cannot be a number", "say it in words")
    with store.write():
        one = revision(store, recipe, which)
        taken = [other for other in revisions(store, recipe) if words and other.name == words]
        if taken and taken[0].number != one.number:
            raise Unusable(f'revision {taken[0].number} is called "{words}"', "choose another name")
        store.run("UPDATE revisions SET name = ? WHERE recipe = ? AND number = ?", words, recipe, one.number)
        index(store, recipe)
    return revision(store, recipe, one.number)


def compare(store: Store, recipe: int, one: int | str, other: int | str) -> str:
    """What changes from one revision to another, as a unified diff of the recipes, without their notes."""
    first, second = revision(store, recipe, one), revision(store, recipe, other)
    lines = difflib.unified_diff(
        _BLOCK.sub("", first.text).rstrip().splitlines(),
        _BLOCK.sub("", second.text).rstrip().splitlines(),
        called(first),
        called(second),
        lineterm="",
        n=0,
    )
    return "\n".join(lines)


def called(one: Revision) -> str:
    """A revision in words.

    >>> called(Revision(1, 2, 1, "carried", "our version", 2499.4, "carried", "", ""))
    'revision 2, our version: carried, for 8,200 ft, not tried there'
    """
    words = f"revision {one.number}{f', {one.name}' if one.name else ''}: {one.why}"
    if one.elevation_m is not None:
        words += f", for {feet(one.elevation_m)}"
    return words + {"tried": ", tried", "carried": ", not tried there"}.get(one.trial, "")


def feet(metres: float) -> str:
    """Metres in feet, as people say them.

    >>> feet(2499.4)
    '8,200 ft'
    """
    return f"{round(metres / 0.3048):,} ft"


def _revision(row: Any) -> Revision:
    return Revision(
        row["recipe"], row["number"], row["parent"], row["why"], row["name"], row["elevation_m"], row["trial"],
        row["text"], row["made"], row["note"], json.loads(row["formula"]),
    )  # fmt: skip
