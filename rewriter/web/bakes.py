"""After the bake: the faults there are, and the next step for one of them."""

from __future__ import annotations

from typing import Any

from rewriter.web.ask import Ask
from rewriter.web.cards import answer


def faults() -> list[dict[str, str]]:
    """Every fault with its words; empty where the table is not there."""
    return []


def following(asked: Ask) -> dict[str, Any]:
    """The steps held back for a second bake, one change at a time."""
    made = answer(asked.rewrite())
    return {"cards": [{"start": card["start"], "steps": card["notes"]["later"]} for card in made["cards"]]}
