"""How a revision came to be, and can be made again: what the corrections were worked out from.

>>> Way.of({"guide": "extension", "steps": [["dry", 0]]}).kept({})["steps"]
[('dry', 0)]
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field, replace
from typing import Any

from rewriter.model import Answer, Strength

Taken = tuple[str, int]  # a fault and which step against it, from 0
ELSEWHERE = (
    "What was answered on the page was said of another text of this card and is not used here: look at its questions."
)


@dataclass(slots=True)
class Way:
    """How a revision came to be: its guide, the steps taken, what a baker set by hand (role -> ratio to the guide).

    answers: what a person said of the reading, true of one text only: ``answered`` is that text's SHA-256.
    """

    guide: str = "practice"
    written_for: str = "0 ft"
    steps: list[Taken] = field(default_factory=list)
    own: dict[str, str] = field(default_factory=dict)
    strength: Strength = "middle"
    answers: tuple[Answer, ...] = ()
    answered: str = ""

    @classmethod
    def of(cls, formula: dict[str, Any]) -> Way:
        """From what a revision keeps."""
        return cls(
            formula.get("guide", "practice"),
            formula.get("written_for", "0 ft"),
            [(str(said), int(count)) for said, count in formula.get("steps", ())],
            dict(formula.get("own", {})),
            formula.get("strength", "middle"),
            tuple(Answer(str(query), str(value)) for query, value in formula.get("answers", ())),
            formula.get("answered", ""),
        )

    def kept(self, roles: dict[str, tuple[float, float]]) -> dict[str, Any]:
        """As a revision keeps it."""
        told: dict[str, Any] = {
            "guide": self.guide,
            "written_for": self.written_for,
            "steps": self.steps,
            "own": self.own,
            "roles": {role: list(pair) for role, pair in roles.items()},
        }
        if self.strength != "middle":
            told["strength"] = self.strength
        if self.answers:
            told["answers"] = [[one.query, one.value] for one in self.answers]
            told["answered"] = self.answered
        return told

    def further(self, said: str, number: int) -> Way:
        """The way with one more step against a fault."""
        return replace(self, steps=[*self.steps, (said, number)])

    def told(self, text: str) -> tuple[Answer, ...]:
        """What a person said of this text; nothing where it was said of another.

        >>> way = Way(answers=(Answer("kind@0", "cookie"),), answered=digest("2 cups flour"))
        >>> len(way.told("2 cups flour")), way.told("3 cups flour")
        (1, ())
        """
        return self.answers if self.answers and self.answered == digest(text) else ()


def digest(text: str) -> str:
    """The SHA-256 of a card's text: which text answers were given for."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
