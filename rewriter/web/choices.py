"""What there is to choose from: guides, strengths, styles, kinds of bake, roles and parts, in words.

>>> "cookie" in [one["name"] for one in choices()["kinds"]]
True
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from rewriter import pantry, paste
from rewriter.correcting import STRENGTHS
from rewriter.extras import missing
from rewriter.web import bakes, uploads
from rewriter.web.guides import guide_titles
from rewriter.writing.registry import find, styles


@cache
def choices() -> dict[str, Any]:
    """All names the API takes, with what they mean."""
    words: dict[str, dict[str, str]] = tomllib.loads((files("rewriter.web") / "words.toml").read_text("utf-8"))
    return {
        "guides": [{**guide, "text": words["guides"].get(guide["name"], "")} for guide in guide_titles()],
        "strengths": list(STRENGTHS),
        "styles": [_style(name, words["styles"].get(name, name)) for name in styles()],
        "kinds": [{"name": name, "text": kind.text} for name, kind in pantry.kinds().items()],
        "roles": [{"name": name, "text": text} for name, text in pantry.roles().items()],
        "parts": [{"name": name, "text": text} for name, text in words["parts"].items()],
        "faults": bakes.faults(),
        "most": {"text": paste.LIMIT, "upload": uploads.MOST},
        "files": uploads.ENDINGS,
    }


def _style(name: str, text: str) -> dict[str, str]:
    """A style; ``missing`` says what to install where its library lacks."""
    try:
        style = find(name)
    except ModuleNotFoundError as error:
        return {"name": name, "text": text, "suffix": "", "missing": missing(error) or str(error)}
    return {"name": name, "text": text, "suffix": style.suffix, "missing": ""}
