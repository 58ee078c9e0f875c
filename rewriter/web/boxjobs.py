"""The jobs of the recipe box by name: each takes an open box and what was asked, and gives plain values."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import replace
from typing import Any, cast

from rewriter import correcting
from rewriter.api import Result
from rewriter.collection import Box, Revision, fitting, lineage
from rewriter.collection.search import asked as phrased
from rewriter.collection.tidy import Tidied
from rewriter.collection.ways import Way, digest
from rewriter.errors import Unusable
from rewriter.model import Strength
from rewriter.web.ask import Ask
from rewriter.web.boxshow import bake, brief, group, lines, revision

AT_ONCE = 100  # cards of one answer to a search
Told = dict[str, Any]


def search(box: Box, told: Told) -> Told:
    """The cards a phrase and further conditions find, a hundred at a time, with what came of their bakes."""
    query = phrased(told.get("phrase", ""))
    found = box.search(
        replace(
            query,
            ingredients=(*query.ingredients, *told.get("ingredients", ())),
            without=(*query.without, *told.get("without", ())),
            kinds=told.get("kinds") or query.kinds,
            roles=told.get("roles", ()),
            elevation=told.get("elevation") or query.elevation,
            outcome=told.get("outcome") or query.outcome,
            fault=_fault(told.get("fault", "")) or query.fault,
        )
    )
    after = told.get("after", 0)
    bakes = _baked(box)
    shown = [{**brief(one), **bakes.get(one.number, UNBAKED)} for one in found[after : after + AT_ONCE]]
    return {"found": len(found), "after": after, "cards": shown}


def card(box: Box, told: Told) -> Told:
    """All there is about one card."""
    one = box.card(told["card"])
    every = [box.card(row["id"]) for row in box.store.rows("SELECT id FROM recipes WHERE merged_into = ?", one.uid)]
    head = box.store.value("SELECT id FROM recipes WHERE uid = ?", one.merged_into) if one.merged_into else None
    line = box.revisions(one.number)
    return {
        **brief(one),
        "text": one.text,
        "seen": digest(one.text),
        "origins": list(one.origins),
        "stands_behind": head,
        "behind": [brief(other) for other in every],
        "gaps": list(box.gaps(one.number)),
        "revisions": [revision(each) for each in line],
        "bakes": [bake(each) for each in box.bakes(one.number)],
        "answered": any(one.formula.get("answers") or "strength" in one.formula for one in line),
    }


def tidy(box: Box, told: Told) -> Told:
    """What tidying would change on a card; ``seen`` stands for just this change, and is given back to apply it."""
    done = box.tidy(told["card"])
    return {
        "changed": done.changed,
        "seen": _seen(done),
        "lines": list(lines(done.diff())),
        "whys": list(done.whys),
        "gaps": list(done.gaps),
        "left": done.left,
    }


def apply(box: Box, told: Told) -> Told:
    """Put the tidied text that was seen on the card's line. Raises Unusable where it would be another by now."""
    done = box.tidy(told["card"])
    if _seen(done) != told["seen"]:
        raise Unusable("the card or the box's manner was changed since you saw this", "look at it again")
    return {"revision": box.apply(told["card"], done)}


def baked(box: Box, told: Told) -> Told:
    """Write a bake down; the next step, where the faults lead to one, is a new revision."""
    given = {name: value for name, value in told.items() if name not in ("card", "elevation")}
    said = {name: value for name, value in given.items() if value not in ("", ())}
    made = box.bake(told["card"], told.get("elevation") or None, **said)
    return {"bake": bake(made.bake), "next": revision(made.next) if made.next else None, "words": list(made.words)}


def name(box: Box, told: Told) -> Told:
    """Give a revision a name; "" takes it away."""
    return revision(box.name(told["card"], told["revision"], told["words"]))


def differ(box: Box, told: Told) -> Told:
    """What changes from one revision to another."""
    return {"lines": list(lines(box.compare(told["card"], told["one"], told["other"])))}


def carry(box: Box, told: Told) -> Told:
    """What worked at one elevation, for another, marked as carried."""
    return revision(box.carry(told["card"], told["origin"], told["to"]))


def edit(box: Box, told: Told) -> Told:
    """Put words written by hand on a card, if it still says what was seen."""
    before = box.card(told["card"]).text
    if digest(before) != told["seen"]:
        raise Unusable("the card was changed since you saw it", "look at it again")
    return {"revision": box.edit(told["card"], told["text"], told.get("note", ""), seen=before)}


def habits(box: Box, told: Told) -> Told:
    """What this kitchen's bakes that worked did otherwise than the guide, in words."""
    return {"habits": [habit.words for habit in box.kitchen(told.get("elevation") or None)]}


def twins(box: Box, _: Told) -> Told:
    """Groups of near-duplicates, their ingredients side by side, and what differs in words."""
    return {"groups": [group(box, one) for one in box.twins()]}


def merge(box: Box, told: Told) -> Told:
    """Let twins stand behind one card."""
    if not told["others"]:
        raise Unusable("no twins are named", "send the numbers of the cards that shall stand behind")
    box.merge(told["keep"], told["others"])
    return {"card": told["keep"]}


def part(box: Box, told: Told) -> Told:
    """Take a card out from behind its twin."""
    box.part(told["card"])
    return {"card": told["card"]}


JOBS: dict[str, Callable[[Box, Told], Told]] = {
    "search": search,
    "card": card,
    "tidy": tidy,
    "apply": apply,
    "bake": baked,
    "name": name,
    "differ": differ,
    "carry": carry,
    "edit": edit,
    "habits": habits,
    "twins": twins,
    "merge": merge,
    "part": part,
}


def done(path: str, job: str, told: Told) -> bytes:
    """A job's answer as JSON in plain ASCII. Raises Unusable, ModuleNotFoundError where an extra is missing."""
    with Box(path, create=False) as box:
        return _json(JOBS[job](box, told))


def kept(path: str, asked: Ask) -> bytes:
    """Keep a paste in the box as it is, and where it is one recipe, beside it what the page made of it for a kitchen.

    Raises Unusable where it holds no recipe, or characters no file can hold.
    """
    result = asked.rewrite()
    try:
        raw = asked.text.encode()
    except UnicodeEncodeError:
        raise Unusable("the paste holds half characters, which no file can keep", "type those places anew") from None
    with Box(path, create=False) as box, box.store.write():
        numbers = list(box.add_text(asked.text, "kept from the page").cards)
        again = not numbers
        if again:
            sql = "SELECT id FROM recipes WHERE original = (SELECT id FROM originals WHERE sha256 = ?) ORDER BY id"
            numbers = [row["id"] for row in box.store.rows(sql, hashlib.sha256(raw).hexdigest())]
        if not numbers:
            raise Unusable("no recipe is found in it that a card could hold", "see how the page reads it")
        made, own = None, False
        if len(numbers) == len(result.recipes) == 1 and not box.card(numbers[0]).jars:
            here = lineage.at(box.store, numbers[0], result.air.elevation_m)
            own = here is not None and "page" not in here.formula  # what bakes have led to is not pushed aside
            made = None if own else _revised(box, numbers[0], asked, result, here)
        cards = [brief(box.card(one)) for one in numbers]
    return _json({"cards": cards, "again": again, "revision": made, "own_line": own})


def _revised(box: Box, card: int, asked: Ask, result: Result, here: Revision | None) -> int:
    """The page's text as a revision for its kitchen, with the answers it rests on; the same twice is one."""
    if here is not None and here.text == result.text:
        return here.number
    parent = lineage.base(box.store, card)
    way = Way(
        asked.guide, asked.written_for or "0 ft", strength=cast("Strength", asked.strength), answers=asked.answers
    )
    way.answered = digest(asked.text)
    home = fitting.place_of(way.written_for)
    base = correcting.plan(result.recipes[0], result.air, home, way.guide, way.strength, way.answers)
    formula = {**way.kept(fitting.roles(result.plans[0], base)), "page": True}
    said = f"; {len(asked.answers)} answered or set right there" if asked.answers else ""
    note = f"kept from the page, {asked.strength} strength{said}"
    return lineage.revise(
        box.store, card, result.text, "fitted", parent.number, result.air.elevation_m, note=note, formula=formula
    )


UNBAKED: Told = {"bakes": 0, "worked": 0, "last": ""}


def _baked(box: Box) -> dict[int, Told]:
    tally = "count(*) AS bakes, sum(outcome = 'worked') AS worked, max(day) AS last"
    sql = f"SELECT recipe, {tally} FROM bakes GROUP BY recipe"
    return {row["recipe"]: {name: row[name] for name in UNBAKED} for row in box.store.rows(sql)}


def _fault(said: str) -> str:
    from rewriter.correcting.faults import fault

    return fault(said).name if said else ""


def _seen(done: Tidied) -> str:
    return hashlib.sha256(_json([done.before, done.after])).hexdigest()


def _json(value: object) -> bytes:
    return json.dumps(value, separators=(",", ":")).encode("ascii")
