"""The recipe box's part of the API description: the shapes of its bodies, and its paths, in OpenAPI 3.1."""

from __future__ import annotations

from functools import cache
from typing import Any

from rewriter.web.boxout import FORMS
from rewriter.web.openapi import ERRORS, description
from rewriter.web.shapes import COUNT, NUMBER, TEXT, YES, Schema, maybe, record, ref, several, words

WHERE = {name: words(f"As in Ask: {name}.") for name in ("elevation", "barometer", "boils_at")}
CARD = {"card": {**COUNT, "description": "The card's number."}}
BRIEF = {"number": COUNT, "title": TEXT, "kind": TEXT, "jars": YES}
LINES = several(ref("BoxLine"))
SHAPES: dict[str, Schema] = {
    "BoxBrief": record(BRIEF, text="A card in short. jars: it is for jars or processing, and never changed."),
    "BoxRevision": record(
        {
            "number": COUNT,
            "parent": maybe(COUNT),
            "why": words("as found, tidied, fitted, next step, carried, by hand."),
            "name": TEXT,
            "elevation": words('"" where it is for no kitchen in particular.'),
            "trial": words("Whether it was baked.", "untried", "tried", "carried"),
            "note": TEXT,
            "made": TEXT,
            "called": words("All of it in words."),
            "text": TEXT,
        }
    ),
    "BoxBake": record(
        {
            **{"revision": COUNT, "day": TEXT, "elevation": TEXT, "changed": TEXT, "faults": several(TEXT)},
            "rating": maybe({"type": "integer", "minimum": 1, "maximum": 5}),
            "outcome": words("What came of it.", "worked", "failed", "unsaid"),
            **{"note": TEXT, "photo": YES},
        }
    ),
    "BoxLine": record({"way": words("What becomes of the line.", "gone", "new", "same", "cut"), "text": TEXT}),
    "BoxSearch": record(
        {},
        {
            "phrase": words('Words, or a phrase: "yeast breads with honey that worked".'),
            **dict.fromkeys(("ingredients", "without", "kinds", "roles"), several(TEXT)),
            "elevation": words("Baked within 500 ft of it."),
            "outcome": words("worked, failed or unsaid."),
            "fault": words("What went wrong."),
            "after": {**COUNT, "description": "How many of the cards found to pass over."},
        },
        "What to find; all of it must hold. Without anything, every card.",
    ),
    "BoxFound": record(
        {
            "found": COUNT,
            "after": COUNT,
            "cards": several(record({**BRIEF, "bakes": COUNT, "worked": COUNT, "last": TEXT})),
        }
    ),
    "BoxWhich": record(CARD),
    "BoxCard": record(
        {
            **BRIEF,
            "text": words("Its present text, for no kitchen in particular."),
            "seen": words("Stands for just this text; give it back to change it."),
            "origins": several(TEXT),
            "stands_behind": maybe(COUNT),
            "behind": several(ref("BoxBrief")),
            "gaps": several(TEXT),
            "revisions": several(ref("BoxRevision")),
            "bakes": several(ref("BoxBake")),
            "answered": {**YES, "description": "Whether a revision rests on answers or a strength given on the page."},
        }
    ),
    "BoxTidied": record(
        {
            "changed": YES,
            "seen": words("Stands for just this change; give it back to apply it."),
            "lines": LINES,
            "whys": several(TEXT),
            "gaps": several(TEXT),
            "left": words("Why it was left alone, or nothing."),
        }
    ),
    "BoxApply": record({**CARD, "seen": TEXT}),
    "BoxApplied": record({"revision": maybe(COUNT)}),
    "BoxBaked": record(
        CARD,
        {
            **WHERE,
            "day": words("As 2026-03-31; today where it is not said."),
            "changed": words('What was done otherwise: "oven 365 F".'),
            "faults": several(TEXT),
            "rating": {"type": "integer", "minimum": 1, "maximum": 5},
            "outcome": words("worked or failed, where rating and faults do not tell."),
            "note": TEXT,
            "photo": {"type": "string", "contentEncoding": "base64", "description": "A JPEG or PNG."},
            "revision": {**COUNT, "description": "Which was baked; the newest for this elevation if not said."},
            "guide": TEXT,
            "written_for": TEXT,
        },
        "A bake. One of elevation, barometer and boils_at is needed.",
    ),
    "BoxOutcome": record({"bake": ref("BoxBake"), "next": maybe(ref("BoxRevision")), "words": several(TEXT)}),
    "BoxName": record({**CARD, "revision": COUNT, "words": TEXT}),
    "BoxPair": record({**CARD, "one": COUNT, "other": COUNT}),
    "BoxDiff": record({"lines": LINES}),
    "BoxCarry": record({**CARD, "origin": TEXT, "to": TEXT}),
    "BoxEdit": record({**CARD, "text": TEXT, "seen": words('The card\'s "seen", as it was given.')}, {"note": TEXT}),
    "BoxHere": record({}, {"elevation": words("Only bakes within 500 ft of it.")}),
    "BoxHabits": record({"habits": several(TEXT)}),
    "BoxNothing": record({}),
    "BoxTwins": record(
        {
            "groups": several(
                record(
                    {
                        "cards": several(ref("BoxBrief")),
                        "likeness": NUMBER,
                        "differences": several(several(TEXT)),
                        "rows": several(record({"name": TEXT, "amounts": several(maybe(TEXT)), "differs": YES})),
                    }
                )
            )
        },
        text="differences: for each card after the first. rows: an ingredient each, its amount on each card.",
    ),
    "BoxMerge": record({"keep": COUNT, "others": several(COUNT)}),
    "BoxKept": record(
        {"cards": several(ref("BoxBrief")), "again": YES, "revision": maybe(COUNT), "own_line": YES},
        text="again: the box had it already. own_line: the card has its own line for this kitchen, which stays.",
    ),
    "BoxOut": record(
        {"form": words("What to take out.", *FORMS)},
        {**WHERE, "card": COUNT, "revision": COUNT, "bake": COUNT},
        "folder and booklet take a kitchen; text, original and photo take a card.",
    ),
}
# path: summary, shape sent, shape answered, what the answer is
PATHS = {
    "search": ("Find cards", "BoxSearch", "BoxFound", "The cards, a hundred at a time."),
    "card": ("See one card", "BoxWhich", "BoxCard", "Its text, revisions and bakes."),
    "keep": ("Keep a paste in the box", "Ask", "BoxKept", "The cards it became, or those that had it already."),
    "tidy": ("See what tidying would change", "BoxWhich", "BoxTidied", "The change by lines; nothing is done yet."),
    "apply": ("Apply a tidying that was seen", "BoxApply", "BoxApplied", "The new revision's number."),
    "bake": ("Write a bake down", "BoxBaked", "BoxOutcome", "The bake, and the next step as a new revision."),
    "name": ("Name a revision", "BoxName", "BoxRevision", "The revision."),
    "differ": ("Compare two revisions", "BoxPair", "BoxDiff", "What changes, line by line."),
    "carry": ("Carry what worked to another elevation", "BoxCarry", "BoxRevision", "A revision, not tried there."),
    "edit": ("Set a card's words right", "BoxEdit", "BoxApplied", "The new revision's number, none if it is the same."),
    "habits": ("See how a kitchen bakes", "BoxHere", "BoxHabits", "What works there otherwise than by the guide."),
    "twins": ("Find near-duplicates", "BoxNothing", "BoxTwins", "Groups, side by side."),
    "merge": ("Let twins stand behind one card", "BoxMerge", "BoxWhich", "The card that is kept."),
    "part": ("Take a card out from behind its twin", "BoxWhich", "BoxWhich", "The card."),
}
STATUSES = ("401", "403", "413", "415", "421", "422", "501", "503")


@cache
def described() -> dict[str, Any]:
    """The whole description with the box's part in it."""
    plain = description()
    paths = {f"/api/box/{name}": {"post": _post(name, *told)} for name, told in PATHS.items()}
    out = _post("out", "Take out of the box", "BoxOut", "Error", "The file, its name in Content-Disposition.")
    out["responses"]["200"]["content"] = {"application/octet-stream": {}, "text/plain": {}, "application/zip": {}}
    paths["/api/box/out"] = {"post": out}
    components = {**plain["components"], "schemas": {**plain["components"]["schemas"], **SHAPES}}
    said = plain["info"]["description"].replace("Nothing is stored,", "Only the recipe box is written to,")
    info = {**plain["info"], "description": said}
    return {**plain, "info": info, "paths": {**plain["paths"], **paths}, "components": components}


def _post(name: str, summary: str, sent: str, shape: str, text: str) -> dict[str, Any]:
    errors = {
        status: {"description": ERRORS[status], "content": {"application/json": {"schema": ref("Error")}}}
        for status in STATUSES
    }
    done = {"description": text, "content": {"application/json": {"schema": ref(shape)}}}
    return {
        "operationId": f"box-{name}",
        "summary": summary,
        "requestBody": {"required": True, "content": {"application/json": {"schema": ref(sent)}}},
        "responses": {"200": done, **errors},
    }
