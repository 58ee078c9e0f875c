"""The shapes of the API's bodies, as JSON Schema (draft 2020-12)."""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
COUNT: Schema = {"type": "integer", "minimum": 0}
NUMBER: Schema = {"type": "number"}
YES: Schema = {"type": "boolean"}


def ref(name: str) -> Schema:
    """A reference to a shape by name."""
    return {"$ref": f"#/components/schemas/{name}"}


def several(of: Schema) -> Schema:
    """A list."""
    return {"type": "array", "items": of}


def maybe(shape: Schema) -> Schema:
    """The shape, or null."""
    return {"anyOf": [shape, {"type": "null"}]}


def record(needed: Schema, optional: Schema | None = None, text: str = "") -> Schema:
    """An object with these members and no others."""
    made: Schema = {
        "type": "object",
        "properties": {**needed, **(optional or {})},
        "required": list(needed),
        "additionalProperties": False,
    }
    return {**made, "description": text} if text else made


def by_name(of: Schema) -> Schema:
    """An object whose members all have one shape."""
    return {"type": "object", "additionalProperties": of}


def words(text: str, *choices: str) -> Schema:
    """Text with what it means, one of the choices where there are any."""
    return {"type": "string", "description": text, **({"enum": list(choices)} if choices else {})}


SPAN = {"start": COUNT, "end": COUNT}
NAMED = record({"name": TEXT, "text": TEXT})
SHAPES: dict[str, Schema] = {
    "Ask": record(
        {"text": words("The paste.")},
        {
            "elevation": words('Where the kitchen is: "8200 ft" or "2499 m".'),
            "barometer": words('Its barometer\'s station pressure: "747.7 hPa".'),
            "boils_at": words('Where plain water boils there: "197 F".'),
            "written_for": words('The elevation the recipe was written for; "0 ft" where it is not said.'),
            "guide": words("The table to correct by."),
            "strength": words("gentle, middle or full."),
            "style": words(
                "For /api/file: the style to save in; kept is a card that the page opens again, with its answers."
            ),
            "explain": words("Length of the block of notes.", "short", "full"),
            "fault": words("For /api/next: what came of the bake."),
            "answers": several(ref("Answer")),
        },
        "A recipe and a kitchen. One of elevation, barometer and boils_at is needed.",
    ),
    "Answer": record(
        {"query": TEXT, "value": TEXT},
        text=(
            "An answer to a question by its id, or the overruling of a reading: kind@, role@, part@, unit@, "
            "quantity@, heat@, written-for@, skip@, each with an offset."
        ),
    ),
    "Error": record({"error": record({"what": TEXT, "mend": TEXT})}, text="What is wrong, and how to mend it."),
    "Figure": record({"exact": words('A fraction: "9/8".'), "unit": TEXT, "words": TEXT}, text="An exact figure."),
    "Question": record({"id": TEXT, **SPAN, "text": TEXT, "question": TEXT, "choices": several(TEXT)}),
    "Change": record(
        {
            **SPAN,
            "old": TEXT,
            "new": TEXT,
            "direction": words("Which way it goes.", "up", "down", "insert", "note"),
            "step": words("now, or an offer beside the original.", "now", "offer"),
            "addition": words("What is added beside, or nothing."),
            "about": words("The ingredient, or the oven, syrup, oil ..."),
            "few": words("Why, in five words."),
            "why": TEXT,
            "source": TEXT,
            "rule": TEXT,
            "exact": maybe(ref("Figure")),
            "exact_max": maybe(ref("Figure")),
            "unguarded": maybe(ref("Figure")),
            "sure": YES,
        },
        text="One measured change; an insertion has start == end.",
    ),
    "Part": record({"name": TEXT, "kind": TEXT, "start": COUNT, "why": TEXT, "sure": YES}),
    "Ingredient": record(
        {
            **SPAN,
            "name": TEXT,
            "role": TEXT,
            "part": TEXT,
            "sure": YES,
            "amounts": several(record({**SPAN, "text": TEXT, "read": TEXT})),
        }
    ),
    "Heat": record({**SPAN, "text": TEXT, "fahrenheit": maybe(NUMBER), "place": TEXT, "purpose": TEXT}),
    "Notes": record(
        dict.fromkeys(("opening", "early", "watch", "kept", "later", "cautions"), several(TEXT)),
        text="What the block after the recipe says.",
    ),
    "Card": record(
        {
            "title": TEXT,
            "kind": TEXT,
            **SPAN,
            "guide": TEXT,
            "strength": TEXT,
            "changes": several(ref("Change")),
            "notes": ref("Notes"),
            "questions": several(ref("Question")),
            "parts": several(ref("Part")),
            "ingredients": several(ref("Ingredient")),
            "heats": several(ref("Heat")),
        },
        text="One recipe of the paste.",
    ),
    "Air": record(
        {
            **dict.fromkeys(("elevation_ft", "elevation_m", "pressure_hpa", "boiling_f", "boiling_c"), NUMBER),
            **dict.fromkeys(("place", "boiling", "origin"), TEXT),
        }
    ),
    "Annotated": record(
        {
            "source": words("The text that every offset counts in."),
            "text": words("The paste with its annotations, in the inline style."),
            "air": ref("Air"),
            "cards": several(ref("Card")),
            "questions": several(ref("Question")),
            "notes": several(TEXT),
        }
    ),
    "Guide": record({"name": TEXT, "title": TEXT, "source": TEXT}),
    "Compared": record(
        {
            "guides": several(ref("Guide")),
            "cards": several(
                record(
                    {
                        "start": COUNT,
                        "places": several(
                            record({**SPAN, "old": TEXT, "about": TEXT, "by": by_name(maybe(ref("Theirs")))})
                        ),
                        "start_from": several(record({"kind": TEXT, "guide": TEXT, "why": TEXT})),
                        "published": record({"text": TEXT, "source": TEXT}),
                    }
                )
            ),
        }
    ),
    "Theirs": record({"new": TEXT, "exact": maybe(ref("Figure")), "why": TEXT, "source": TEXT}),
    "Curves": record(
        {
            "feet": several(NUMBER),
            "here_ft": NUMBER,
            "guides": several(ref("Guide")),
            "cards": several(record({"start": COUNT, "lines": several(ref("Line"))})),
        }
    ),
    "Line": record(
        {
            "name": TEXT,
            "title": TEXT,
            "unit": TEXT,
            "rest": {**NUMBER, "description": "The figure that means: as written."},
            "by": by_name(record({"line": several(NUMBER), "here": NUMBER})),
        }
    ),
    "Formulas": record(
        {
            "meaning": TEXT,
            "cards": several(
                record(
                    {
                        "start": COUNT,
                        "batters": several(
                            record(
                                {
                                    "kind": TEXT,
                                    "flour_g": several(maybe(NUMBER)),
                                    "hydration": several(maybe(NUMBER)),
                                    "rows": several(
                                        record(
                                            {"role": TEXT, "names": several(TEXT), "percent": several(maybe(NUMBER))}
                                        )
                                    ),
                                    "unweighed": several(TEXT),
                                }
                            )
                        ),
                    }
                )
            ),
        }
    ),
    "Following": record(
        {
            "fault": TEXT,
            "cause": TEXT,
            "cards": several(
                record(
                    {
                        "start": COUNT,
                        "steps": several(record({"text": TEXT, "source": TEXT, "card": ref("Card")})),
                    }
                )
            ),
        },
        text="The steps against a fault, one change at a time; each card holds the steps before it too.",
    ),
    "Taken": record(
        {"text": TEXT, "kind": TEXT, "warnings": several(TEXT), "asked": maybe({"type": "object"})},
        text="asked: for a card kept by the page, all that was asked then.",
    ),
    "Choices": record(
        {
            "guides": several(record({"name": TEXT, "title": TEXT, "source": TEXT, "text": TEXT})),
            "strengths": several(TEXT),
            "styles": several(record({"name": TEXT, "text": TEXT, "suffix": TEXT, "missing": TEXT})),
            "kinds": several(NAMED),
            "roles": several(NAMED),
            "parts": several(NAMED),
            "faults": several(NAMED),
            "most": record({"text": COUNT, "upload": COUNT}),
            "files": several(TEXT),
        }
    ),
}
