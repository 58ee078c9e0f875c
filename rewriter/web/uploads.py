"""A dropped file to the text of its recipe, in a process of its own that is stopped when it takes too long."""

from __future__ import annotations

import json
from pathlib import PurePosixPath
from typing import Any
from urllib.parse import unquote

from rewriter.errors import Unusable
from rewriter.web.ask import ask
from rewriter.web.limits import READING, within

MOST = 25_000_000  # bytes: a photo of a card has a fifth of that
ENDINGS = ".txt .text .md .html .htm .json .jsonld .docx .odt .rtf .pdf .jpg .jpeg .png .webp .tif .tiff".split()


async def take(data: bytes, name: str) -> dict[str, Any]:
    """Text, kind and warnings of a file; for a card kept by this page, all that was asked then.

    Raises Unusable where nothing can be read in it, Slow where it takes too long, ModuleNotFoundError where an extra
    is missing.
    """
    if not data:
        raise Unusable("the file is empty", "choose another")
    again = _kept(data)
    if again is not None:
        return again
    plain = PurePosixPath(unquote(name).replace("\\", "/")).name[:200] or "recipe.txt"
    return await within(taken, data, plain, apart=not _is_text(data), seconds=READING)


def taken(data: bytes, name: str) -> dict[str, Any]:
    """What the intake reads in a file."""
    from rewriter import intake

    found = intake.take(data, name)
    return {"text": found.text, "kind": found.kind, "warnings": list(found.warnings), "asked": None}


def _is_text(data: bytes) -> bool:
    """Whether it is short plain text, which needs no process of its own."""
    return len(data) < 200_000 and not data.startswith((b"%PDF", b"PK\x03\x04", b"\xff\xd8", b"\x89PNG", b"{\\rtf"))


def _kept(data: bytes) -> dict[str, Any] | None:
    """A card this page kept earlier, checked like any request; None where it is none."""
    if data.lstrip()[:1] != b"{" or b'"rewriter"' not in data[:200]:
        return None
    try:
        body = json.loads(data)
        again = ask(body["asked"])
    except (ValueError, KeyError, TypeError, RecursionError):
        return None
    told = {name: getattr(again, name) for name in ("elevation", "barometer", "boils_at", "written_for")}
    told |= {"guide": again.guide, "strength": again.strength}
    answers = [{"query": one.query, "value": one.value} for one in again.answers]
    return {"text": again.text, "kind": "kept card", "warnings": [], "asked": {**told, "answers": answers}}
