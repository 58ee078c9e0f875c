"""The jobs of the API by name: each takes what was asked and gives plain values."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from rewriter.web import bakes, cards, files, formula, guides
from rewriter.web.ask import Ask


def annotate(asked: Ask) -> dict[str, Any]:
    """Every recipe in the paste for this kitchen, with reasons and questions."""
    return cards.answer(asked.rewrite())


def compare(asked: Ask) -> dict[str, Any]:
    """What every guide would write at each place."""
    return guides.compare(asked.rewrite(), asked.written_for, asked.answers)


def curves(asked: Ask) -> dict[str, Any]:
    """The guides against elevation, for this recipe."""
    return guides.curves(asked.rewrite(), asked.written_for, asked.answers)


def balance(asked: Ask) -> dict[str, Any]:
    """The formula before and after, by role, in baker's percent."""
    return formula.formula(asked.rewrite())


def following(asked: Ask) -> dict[str, Any]:
    """What to change next after a bake with a fault."""
    return bakes.following(asked)


JOBS: dict[str, Callable[[Ask], dict[str, Any]]] = {
    "annotate": annotate,
    "compare": compare,
    "curves": curves,
    "formula": balance,
    "next": following,
}


def done(name: str, asked: Ask) -> bytes:
    """A job's answer as JSON in plain ASCII, so that any character a paste holds survives. Raises Unusable."""
    return json.dumps(JOBS[name](asked), separators=(",", ":")).encode("ascii")


def saved(asked: Ask) -> tuple[str, str, bytes]:
    """A file in the style asked for: its name, media type and bytes. Raises Unusable."""
    return files.file(asked.rewrite(), asked)


def warm() -> None:
    """Load what the first answer needs, so that it comes as fast as the second."""
    annotate(Ask("2 cups flour\n1 tsp baking powder\n1 cup milk\n\nBake at 350 F for 20 minutes.", "8200 ft"))
