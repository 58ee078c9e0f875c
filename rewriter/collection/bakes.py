"""Bakes: what was baked where, what was changed, what came of it; and what to do next, as a new revision."""

from __future__ import annotations

import json
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from rewriter.collection import fitting, lineage
from rewriter.collection.index import index
from rewriter.collection.reading import has_jars, reading
from rewriter.collection.records import Bake, Revision
from rewriter.collection.search import NEAR_M
from rewriter.collection.store import Store, now
from rewriter.collection.ways import ELSEWHERE, Way
from rewriter.correcting.faults import fault
from rewriter.errors import Unusable
from rewriter.intake.limits import LIMITS, check
from rewriter.intake.sniff import sniff
from rewriter.model import Air

GOOD = 3  # the least rating of a bake that worked, where no fault is named


@dataclass(frozen=True, slots=True)
class Outcome:
    """A bake as kept, the next revision where its faults lead to one, and what to say about it."""

    bake: Bake
    next: Revision | None
    words: tuple[str, ...]


def bake(
    store: Store,
    recipe: int,
    elevation: str | float | Air | None = None,
    *,
    barometer: str | None = None,
    boils_at: str | None = None,
    day: str = "",
    changed: str = "",
    faults: Sequence[str] = (),
    rating: int | None = None,
    outcome: str = "",
    note: str = "",
    photo: str | Path | bytes | None = None,
    revision: int | str | None = None,
    guide: str = "practice",
    written_for: str = "0 ft",
) -> Outcome:
    """Write a bake down. Without ``revision`` it is of the newest one for this elevation, made by the guide if need be.

    changed: what was done otherwise ("baking powder 1 1/2 tsp; oven 365 F"): a revision of its own. faults: in words.
    rating: 1 to 5. outcome: worked or failed, where rating and faults do not tell. photo: a path or the picture.
    Raises Unusable for a card that is not there or is for jars, a rating or date that is none, words that are no fault.
    """
    here = fitting.place_of(elevation, barometer, boils_at)
    named = tuple(dict.fromkeys(fault(said).name for said in faults))
    picture = _photo(photo)
    came = _came(named, rating, outcome)
    _checked(rating, day)
    with store.write():
        base = lineage.base(store, recipe)
        if has_jars(reading(base.text)):
            raise Unusable("a card for jars or processing is not baked by", "follow tested directions exactly")
        used = _used(store, recipe, here, revision, Way(guide, written_for))
        words: list[str] = []
        if changed.strip():
            used, words = _by_hand(store, recipe, base, used, here, changed)
        store.run("UPDATE revisions SET trial = 'tried' WHERE recipe = ? AND number = ?", recipe, used.number)
        kept = Bake(
            recipe, used.number, day or date.today().isoformat(), here.elevation_m, here.pressure_hpa, changed.strip(),
            named, rating, came, note, picture, used.formula,
        )  # fmt: skip
        _insert(store, kept)
        following, told = _next(store, recipe, base, used, here, named)
        index(store, recipe)
    return Outcome(kept, following, (*words, *told))


def bakes(store: Store, recipe: int | None = None) -> list[Bake]:
    """Every bake of a recipe, or of the box, from the first."""
    where = "" if recipe is None else "WHERE recipe = ?"
    values = () if recipe is None else (recipe,)
    return [_bake(row) for row in store.rows(f"SELECT * FROM bakes {where} ORDER BY day, id", *values)]


def carry(store: Store, recipe: int, origin: str, to: str, *, guide: str = "") -> Revision:
    """What worked at one elevation, for another by the guides: a revision marked as carried, not tried.

    The steps that bakes led to and what was changed by hand go along. Raises Unusable where nothing worked there yet.
    """
    there, here = fitting.place_of(origin), fitting.place_of(to)
    with store.write():
        worked = [
            one
            for one in bakes(store, recipe)
            if one.outcome == "worked" and abs(one.elevation_m - there.elevation_m) < NEAR_M
        ]
        if not worked:
            raise Unusable(f"no bake of it has worked at {lineage.feet(there.elevation_m)}", "write a bake down first")
        best = max(worked, key=lambda one: (one.rating or GOOD, one.day))
        used = lineage.revision(store, recipe, best.revision)
        way = Way.of(used.formula)
        way.guide = guide or way.guide
        fitted = fitting.fit(lineage.base(store, recipe).text, here, way)
        note = f"carried by the guides from {lineage.feet(there.elevation_m)} (revision {used.number}), not tried here"
        number = lineage.revise(
            store,
            recipe,
            fitted.text,
            "carried",
            used.number,
            here.elevation_m,
            "carried",
            note,
            way.kept(fitted.roles),
        )
    return lineage.revision(store, recipe, number)


def _used(store: Store, recipe: int, here: Air, which: int | str | None, way: Way) -> Revision:
    if which is not None:
        return lineage.revision(store, recipe, which)
    found = lineage.at(store, recipe, here.elevation_m)
    if found is not None:
        return found
    base = lineage.base(store, recipe)
    fitted = fitting.fit(base.text, here, way)
    number = lineage.revise(
        store, recipe, fitted.text, "fitted", base.number, here.elevation_m, formula=way.kept(fitted.roles)
    )
    return lineage.revision(store, recipe, number)


def _by_hand(
    store: Store, recipe: int, base: Revision, used: Revision, here: Air, changed: str
) -> tuple[Revision, list[str]]:
    """A revision with what the baker changed, where it is understood; it is kept in words in any case."""
    way, unclear = fitting.by_hand(base.text, changed, here, Way.of(used.formula))
    words = [f'"{piece}" is kept in words, but not as a figure' for piece in unclear]
    if way.own == Way.of(used.formula).own:
        return used, words
    fitted = fitting.fit(base.text, here, way)
    number = lineage.revise(
        store,
        recipe,
        fitted.text,
        "by hand",
        used.number,
        here.elevation_m,
        note=changed,
        formula=way.kept(fitted.roles),
    )
    return lineage.revision(store, recipe, number), words


def _next(
    store: Store, recipe: int, base: Revision, used: Revision, here: Air, named: tuple[str, ...]
) -> tuple[Revision | None, list[str]]:
    """A revision with one step against the first fault that has one left: one change at a time."""
    words = []
    for said in named:
        found = fitting.next_step(base.text, here, Way.of(used.formula), said)
        if found is None:
            words.append(f"{said}: no further step is known, or the recipe is not one that altitude changes")
            continue
        way, told = found
        fitted = fitting.fit(base.text, here, way)
        number = lineage.revise(
            store, recipe, fitted.text, "next step", used.number, here.elevation_m, note=f"{said}: {told}",
            formula=way.kept(fitted.roles),
        )  # fmt: skip
        words += [ELSEWHERE] if ELSEWHERE in fitted.words else []
        return lineage.revision(store, recipe, number), [*words, f"next, against {said}: {told}"]
    return None, words


def _came(named: tuple[str, ...], rating: int | None, outcome: str) -> str:
    if outcome:
        if outcome not in ("worked", "failed", "unsaid"):
            raise Unusable(f'a bake cannot have "{outcome}"', "say worked or failed")
        return outcome
    if named or (rating is not None and rating < GOOD):
        return "failed"
    return "unsaid" if rating is None else "worked"


def _checked(rating: int | None, day: str) -> None:
    if rating is not None and not 1 <= rating <= 5:
        raise Unusable(f"a rating of {rating} is none", "give 1 to 5")
    try:
        date.fromisoformat(day or "2000-01-01")
    except ValueError:
        raise Unusable(f'"{day}" is no date', "write it as 2026-03-31") from None


def _photo(photo: str | Path | bytes | None) -> bytes | None:
    if photo is None:
        return None
    try:
        data = photo if isinstance(photo, bytes) else Path(photo).read_bytes()
    except OSError as error:
        raise Unusable(f"{photo!s} cannot be read: {error.strerror}", "check its name") from None
    check("the photo", len(data), LIMITS.file)
    if sniff(data) != "photo":
        raise Unusable("this is no photo", "give a JPEG or PNG")
    return data


def _insert(store: Store, kept: Bake) -> None:
    uid = store.value("SELECT uid FROM recipes WHERE id = ?", kept.recipe)
    store.run(
        "INSERT INTO bakes (uid, recipe, recipe_uid, number, day, elevation_m, pressure_hpa, changed, faults, rating, "
        "outcome, formula, note, photo, made) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        *(uuid.uuid4().hex, kept.recipe, uid, kept.revision, kept.day, kept.elevation_m, kept.pressure_hpa),
        *(kept.changed, json.dumps(list(kept.faults)), kept.rating, kept.outcome, json.dumps(kept.formula)),
        *(kept.note, kept.photo, now()),
    )


def _bake(row: Any) -> Bake:
    return Bake(
        row["recipe"], row["number"], row["day"], row["elevation_m"], row["pressure_hpa"], row["changed"],
        tuple(json.loads(row["faults"])), row["rating"], row["outcome"], row["note"], row["photo"],
        json.loads(row["formula"]),
    )  # fmt: skip
