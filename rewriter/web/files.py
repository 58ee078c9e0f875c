"""A result as a file: any style, and the card that this page can open again."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from rewriter import asjson
from rewriter.api import Result
from rewriter.web.ask import Ask
from rewriter.writing.registry import find, styles

KEPT = "kept"  # a style of the page alone: the paste, its answers and its kitchen, to be opened here again
KINDS = {
    ".html": "text/html; charset=utf-8",
    ".md": "text/markdown; charset=utf-8",
    ".docx": "application/vnd.openxmlformats-officedocument.wordprocessingml.document",
    ".jsonld": "application/ld+json",
    ".json": "application/json",
}
_NAME = re.compile(r"[^a-z0-9]+")


def file(result: Result, asked: Ask) -> tuple[str, str, bytes]:
    """Name, media type and bytes of the file for the style asked for. Raises Unusable for an unknown style."""
    if asked.style == KEPT:
        return named(result, ".json"), KINDS[".json"], kept(asked)
    if asked.style not in styles():
        result.restyled(asked.style)  # complains, naming the styles there are
    name = named(result, find(asked.style).suffix, asked.style)
    with tempfile.TemporaryDirectory() as room:
        path = Path(room) / name
        result.save(path, asked.style)
        data = path.read_bytes()
    return name, KINDS.get(path.suffix, "text/plain; charset=utf-8"), data


def named(result: Result, suffix: str, style: str = "") -> str:
    """A file's name: the recipe's title and the elevation, in plain letters."""
    title = _NAME.sub("-", result.recipe.title.casefold()).strip("-")[:60] or "recipe"
    kind = f"-{style}" if suffix == ".txt" and style not in ("", "inline") else ""
    return f"{title}-{float(result.air.elevation_ft):.0f}-ft{kind}{suffix}"


def kept(asked: Ask) -> bytes:
    """The paste with all that was said about it; ``opened`` in uploads takes it back."""
    return (asjson.dumps({"rewriter": 1, "asked": asked}) + "\n").encode("utf-8", "surrogatepass")
