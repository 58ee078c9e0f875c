"""The whole box as JSON Lines, and back: every original (base64), recipe, revision, bake and setting.

The last line counts the lines before it and holds their SHA-256, so that a dump cut short is not taken for a whole one.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from rewriter.collection.index import index
from rewriter.collection.store import Store
from rewriter.errors import Unusable

FORMAT = 1
LONGEST = 200_000_000  # characters of one line: the largest original in base64, and room
# table: its columns as dumped, in an order that does not depend on the box's own numbers
TABLES = {
    "settings": ("name, value, changed", "name"),
    "originals": ("sha256, kind, state, why, text, warnings, added, data", "sha256"),
    "arrivals": ("sha256, origin, seen", "sha256, origin"),
    "refusals": ("origin, sha256, why, size, seen", "origin"),
    "recipes": ("id AS card, uid, sha256, start, stop, title, kind, jars, merged_into, added", "id"),
    "gaps": ("(SELECT uid FROM recipes WHERE id = recipe) AS recipe_uid, words", "recipe_uid, id"),
    "revisions": (
        "uid, recipe_uid, number, parent, why, name, elevation_m, trial, formula, note, text, made",
        "recipe_uid, number",
    ),
    "bakes": (
        "uid, recipe_uid, number, day, elevation_m, pressure_hpa, changed, faults, rating, outcome, formula, note, "
        "photo, made",
        "id",
    ),
}


@dataclass(frozen=True, slots=True)
class Loaded:
    """What a load brought that the box had not: numbers of originals, recipes, revisions and bakes."""

    originals: int = 0
    recipes: int = 0
    revisions: int = 0
    bakes: int = 0


def records(store: Store) -> Iterator[dict[str, Any]]:
    """Everything in the box as plain records, as it stood at one moment."""
    yield {"type": "box", "format": FORMAT}
    store.run("BEGIN")
    try:
        for table, (columns, order) in TABLES.items():
            names = [part.split(" AS ")[-1].strip() for part in columns.split(",")]
            for row in store.each(f"SELECT {columns} FROM {table} ORDER BY {order}"):
                yield {
                    "type": table,
                    **{name: _plain(row[name]) for name in names},
                }
    finally:
        store.run("COMMIT")


def dump(store: Store, path: str | Path) -> int:
    """Write the box to a file, whole or not at all; how many lines."""
    path = Path(path)
    beside = path.with_name(path.name + ".part")
    count, digest = 0, hashlib.sha256()
    with beside.open("wb") as opened:
        for record in records(store):
            line = (json.dumps(record, ensure_ascii=False, sort_keys=True) + "\n").encode()
            opened.write(line)
            digest.update(line)
            count += 1
        opened.write((json.dumps({"type": "end", "lines": count, "sha256": digest.hexdigest()}) + "\n").encode())
    beside.replace(path)
    return count


def load(store: Store, path: str | Path) -> Loaded:
    """Read a dump back: what the box has already stays as it is, all else comes in. All of it or nothing.

    Raises Unusable where the file is no dump, was cut short or altered, or is of a newer format.
    """
    try:
        with store.write():
            return take_in(store, _lines(Path(path)))
    except (KeyError, TypeError, AttributeError) as error:
        raise Unusable(f"{path} is no whole dump of a box ({error!r})", "dump it again") from None


def take_in(store: Store, found: Iterable[dict[str, Any]]) -> Loaded:
    """Bring records into the box. Inside a transaction."""
    before = _counts(store)
    renumbered: dict[tuple[str, int], int] = {}
    touched: set[int] = set()
    for record in found:
        kind = record.get("type")
        if kind == "revisions":
            _revision(store, record, renumbered, touched)
        elif kind == "bakes":
            _bake(store, record, renumbered, touched)
        elif kind == "recipes":
            _recipe(store, record, touched)
        elif kind in _SIMPLE:
            _SIMPLE[kind](store, record)
    for recipe in sorted(touched):
        if store.value("SELECT count(*) FROM revisions WHERE recipe = ?", recipe):
            index(store, recipe)
    after = _counts(store)
    return Loaded(*(now - then for now, then in zip(after, before, strict=True)))


def _counts(store: Store) -> tuple[int, ...]:
    names = ("originals", "recipes", "revisions", "bakes")
    return tuple(store.value(f"SELECT count(*) FROM {name}") for name in names)


def _lines(path: Path) -> Iterator[dict[str, Any]]:
    """Each record; complains at the end where the last line does not fit the others."""
    count, digest, ended = 0, hashlib.sha256(), False
    try:
        with path.open("rb") as opened:
            while line := opened.readline(LONGEST):
                record = _record(line, path, count)
                if record.get("type") == "end":
                    ended = record.get("lines") == count and record.get("sha256") == digest.hexdigest()
                    break
                digest.update(line)
                count += 1
                yield record
    except OSError as error:
        raise Unusable(f"{path} cannot be read: {error.strerror}", "check its name") from None
    if not ended:
        raise Unusable(f"{path} was cut short or altered", "dump it again; nothing of it was taken")


def _record(line: bytes, path: Path, count: int) -> dict[str, Any]:
    try:
        record = json.loads(line)
    except (ValueError, RecursionError):
        raise Unusable(f"line {count + 1} of {path} is no JSON", "dump it again; nothing of it was taken") from None
    if not isinstance(record, dict) or (count == 0 and record.get("type") != "box"):
        raise Unusable(f"{path} is no dump of a box", "make one with rewriter box dump")
    if count == 0 and record.get("format") != FORMAT:
        raise Unusable(f"{path} was made by a newer version of rewriter", "bring rewriter up to date")
    return record


def _plain(value: object) -> object:
    return {"base64": base64.b64encode(value).decode("ascii")} if isinstance(value, bytes) else value


def _bytes(value: object) -> bytes | None:
    return base64.b64decode(value["base64"], validate=True) if isinstance(value, dict) else None


def _setting(store: Store, one: dict[str, Any]) -> None:
    store.run(
        "INSERT INTO settings (name, value, changed) VALUES (?, ?, ?) ON CONFLICT (name) DO UPDATE SET "
        "value = excluded.value, changed = excluded.changed WHERE excluded.changed > settings.changed",
        *(one["name"], one["value"], one["changed"]),
    )


def _original(store: Store, one: dict[str, Any]) -> None:
    data = _bytes(one["data"]) or b""
    if hashlib.sha256(data).hexdigest() != one["sha256"]:
        raise Unusable(f"the bytes of an original do not fit their hash ({one['sha256'][:12]})", "dump it again")
    store.run(
        "INSERT OR IGNORE INTO originals (sha256, kind, state, why, text, warnings, added, data) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        *(one["sha256"], one["kind"], one["state"], one["why"], one["text"], one["warnings"], one["added"], data),
    )


def _arrival(store: Store, one: dict[str, Any]) -> None:
    store.run(
        "INSERT OR IGNORE INTO arrivals (original, sha256, origin, seen) SELECT id, sha256, ?, ? FROM originals "
        "WHERE sha256 = ?",
        *(one["origin"], one["seen"], one["sha256"]),
    )


def _refusal(store: Store, one: dict[str, Any]) -> None:
    store.run(
        "INSERT OR IGNORE INTO refusals (origin, sha256, why, size, seen) VALUES (?, ?, ?, ?, ?)",
        *(one["origin"], one["sha256"], one["why"], one["size"], one["seen"]),
    )


def _gap(store: Store, one: dict[str, Any]) -> None:
    store.run(
        "INSERT INTO gaps (recipe, words) SELECT id, ? FROM recipes WHERE uid = ? "
        "AND NOT EXISTS (SELECT 1 FROM gaps WHERE recipe = recipes.id AND words = ?)",
        *(one["words"], one["recipe_uid"], one["words"]),
    )


_SIMPLE = {
    "settings": _setting,
    "originals": _original,
    "arrivals": _arrival,
    "refusals": _refusal,
    "gaps": _gap,
}


def _recipe(store: Store, one: dict[str, Any], touched: set[int]) -> None:
    number = one.get("card") or one.get("id")
    if number is not None and store.value("SELECT 1 FROM recipes WHERE id = ?", number):
        number = None  # another card's: it gets the next
    store.run(
        "INSERT INTO recipes (id, uid, original, sha256, start, stop, title, kind, jars, merged_into, added) "
        "SELECT ?, ?, id, sha256, ?, ?, ?, ?, ?, ?, ? FROM originals WHERE sha256 = ? ON CONFLICT (uid) DO NOTHING",
        *(number, one["uid"], one["start"], one["stop"], one["title"], one["kind"], one["jars"], one["merged_into"]),
        *(one["added"], one["sha256"]),
    )
    found = store.value("SELECT id FROM recipes WHERE uid = ?", one["uid"])
    if found is not None:
        touched.add(found)


def _revision(store: Store, one: dict[str, Any], renumbered: dict[tuple[str, int], int], touched: set[int]) -> None:
    """A revision the box has not; where its number is another's, it gets the next."""
    recipe = store.value("SELECT id FROM recipes WHERE uid = ?", one["recipe_uid"])
    uid, number = one["recipe_uid"], int(one["number"])
    known = store.value("SELECT number FROM revisions WHERE uid = ?", one["uid"])
    if recipe is None or known is not None:
        renumbered[uid, number] = number if known is None else known
        return
    if store.value("SELECT 1 FROM revisions WHERE recipe = ? AND number = ?", recipe, number):
        number = int(store.value("SELECT max(number) + 1 FROM revisions WHERE recipe = ?", recipe))
    renumbered[uid, int(one["number"])] = number
    parent = one["parent"]
    store.run(
        "INSERT INTO revisions (uid, recipe, recipe_uid, number, parent, why, name, elevation_m, trial, formula, note, "
        "text, made) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        *(one["uid"], recipe, uid, number, None if parent is None else renumbered.get((uid, parent), parent)),
        *(one["why"], one["name"], one["elevation_m"], one["trial"], one["formula"], one["note"], one["text"]),
        one["made"],
    )
    touched.add(recipe)


def _bake(store: Store, one: dict[str, Any], renumbered: dict[tuple[str, int], int], touched: set[int]) -> None:
    recipe = store.value("SELECT id FROM recipes WHERE uid = ?", one["recipe_uid"])
    if recipe is None:
        return
    number = renumbered.get((one["recipe_uid"], one["number"]), one["number"])
    store.run(
        "INSERT OR IGNORE INTO bakes (uid, recipe, recipe_uid, number, day, elevation_m, pressure_hpa, changed, "
        "faults, rating, outcome, formula, note, photo, made) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        *(one["uid"], recipe, one["recipe_uid"], number, one["day"], one["elevation_m"], one["pressure_hpa"]),
        *(one["changed"], one["faults"], one["rating"], one["outcome"], one["formula"], one["note"]),
        *(_bytes(one["photo"]), one["made"]),
    )
    touched.add(recipe)
