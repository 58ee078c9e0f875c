"""What a person asks of the recipe box: the body of each request, checked before the box is opened.

>>> told("name", {"card": 3, "revision": 2, "words": " our  version "})
{'card': 3, 'revision': 2, 'words': 'our  version'}
"""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Callable
from typing import Any

from rewriter.errors import Unusable

MOST_WORDS = 400  # characters of a short field
MOST_NOTE = 20_000
MOST_LISTED = 40
MOST_NUMBER = 2**31
_UNFIT = re.compile("[\0-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff]")  # half characters and controls: no database takes them

Check = Callable[[str, object], Any]


def number(name: str, value: object) -> int:
    """A number of a card, a revision or a bake."""
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value < MOST_NUMBER:
        raise Unusable(f"{name} is no number", f"send {name} as a whole number")
    return value


def numbers(name: str, value: object) -> tuple[int, ...]:
    """Several numbers."""
    return tuple(number(name, one) for one in _listed(name, value))


def words(name: str, value: object) -> str:
    """A short text."""
    return _text(name, value, MOST_WORDS).strip()


def note(name: str, value: object) -> str:
    """A text of some length."""
    return _text(name, value, MOST_NOTE).strip()


def whole(name: str, value: object) -> str:
    """The text of a card, kept as it stands."""
    return _text(name, value, MOST_NOTE)


def several(name: str, value: object) -> tuple[str, ...]:
    """Several short texts; empty ones are left out."""
    return tuple(one for one in (words(name, said) for said in _listed(name, value)) if one)


def picture(name: str, value: object) -> bytes | None:
    """A photo in base64."""
    if value == "":
        return None
    try:
        return base64.b64decode(value if isinstance(value, str) else "?", validate=True)
    except (binascii.Error, ValueError):
        raise Unusable(f"{name} is no base64", "send the bytes of a JPEG or PNG in base64") from None


def _text(name: str, value: object, most: int) -> str:
    if not isinstance(value, str) or len(value) > most:
        raise Unusable(f"{name} is no text of that size", f"send {name} as text of at most {most:,} characters")
    if _UNFIT.search(value):
        raise Unusable(f"{name} holds characters that cannot be kept", "type it anew, in letters and figures")
    return value


def _listed(name: str, value: object) -> list[object]:
    if not isinstance(value, list) or len(value) > MOST_LISTED:
        raise Unusable(f"{name} is no list", f"send at most {MOST_LISTED} of them as a list")
    return value


PLACE: dict[str, Check] = dict.fromkeys(("elevation", "barometer", "boils_at"), words)
# job: (what must be sent, what may be)
FIELDS: dict[str, tuple[dict[str, Check], dict[str, Check]]] = {
    "search": (
        {},
        {
            **dict.fromkeys(("phrase", "elevation", "outcome", "fault"), words),
            **dict.fromkeys(("ingredients", "without", "kinds", "roles"), several),
            "after": number,
        },
    ),
    "card": ({"card": number}, {}),
    "tidy": ({"card": number}, {}),
    "apply": ({"card": number, "seen": words}, {}),
    "bake": (
        {"card": number},
        {
            **PLACE,
            **dict.fromkeys(("day", "changed", "outcome", "guide", "written_for"), words),
            **{"faults": several, "rating": number, "note": note, "photo": picture, "revision": number},
        },
    ),
    "name": ({"card": number, "revision": number, "words": words}, {}),
    "differ": ({"card": number, "one": number, "other": number}, {}),
    "carry": ({"card": number, "origin": words, "to": words}, {}),
    "edit": ({"card": number, "text": whole, "seen": words}, {"note": words}),
    "habits": ({}, {"elevation": words}),
    "twins": ({}, {}),
    "merge": ({"keep": number, "others": numbers}, {}),
    "part": ({"card": number}, {}),
    "out": ({"form": words}, {**PLACE, "card": number, "revision": number, "bake": number}),
}


def told(job: str, body: Any) -> dict[str, Any]:
    """The fields of a request for one job. Raises Unusable where one lacks, is unknown, or is not what it should be."""
    needed, optional = FIELDS[job]
    known = {**needed, **optional}
    if not isinstance(body, dict):
        raise Unusable("the body is no JSON object", f"send {{{', '.join(known)}}}")
    unknown = sorted(body.keys() - known.keys())
    if unknown:
        raise Unusable(f"there is no field {unknown[0][:40]!r}", f"the fields are {', '.join(known) or 'none'}")
    lacking = [name for name in needed if body.get(name) is None]
    if lacking:
        raise Unusable(f"{lacking[0]} is lacking", f"send {', '.join(needed)}")
    return {name: known[name](name, value) for name, value in body.items() if value is not None}
