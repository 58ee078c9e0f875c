"""What a person asks of the page: the body of a request, checked before any work is done.

>>> ask({"text": "2 cups flour", "elevation": "8200 ft", "answers": [{"query": "kind@0", "value": "cookie"}]}).answers
(Answer(query='kind@0', value='cookie'),)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from rewriter.api import Result, rewrite
from rewriter.errors import Unusable
from rewriter.model import Answer

MOST_ANSWERS = 1000
MOST_WORDS = 400  # characters of any field but the text
FIELDS = ("elevation", "barometer", "boils_at", "written_for", "guide", "strength", "style", "explain", "fault")


@dataclass(frozen=True, slots=True)
class Ask:
    """A paste, a kitchen and the answers given; "" stands for what was not said."""

    text: str
    elevation: str = ""
    barometer: str = ""
    boils_at: str = ""
    written_for: str = "0 ft"
    guide: str = "practice"
    strength: str = "middle"
    style: str = "inline"
    explain: str = "short"
    fault: str = ""
    answers: tuple[Answer, ...] = ()

    def rewrite(self, style: str = "inline") -> Result:
        """The recipe for the kitchen. Raises Unusable where that cannot be done."""
        return rewrite(
            self.text,
            self.elevation or None,
            self.written_for or "0 ft",
            self.guide,
            self.strength,
            style,
            self.answers,
            explain=self.explain,
            barometer=self.barometer or None,
            boils_at=self.boils_at or None,
        )


def ask(body: Any) -> Ask:
    """A request's body as an Ask. Raises Unusable where a field is unknown, or not what it should be."""
    if not isinstance(body, dict):
        raise Unusable("the body is no JSON object", 'send {"text": ..., "elevation": "8200 ft"}')
    unknown = body.keys() - {"text", "answers", *FIELDS}
    if unknown:
        raise Unusable(f"there is no field {min(unknown)[:40]!r}", f"the fields are text, answers, {', '.join(FIELDS)}")
    if not isinstance(body.get("text"), str):
        raise Unusable("the text is lacking", "send the recipe as text")
    words = {name: _words(name, body[name]) for name in FIELDS if body.get(name) is not None}
    return Ask(body["text"], answers=_answers(body.get("answers") or []), **words)


def _words(name: str, value: object) -> str:
    if not isinstance(value, str) or len(value) > MOST_WORDS:
        raise Unusable(f"{name} is no short text", f"send {name} as text of at most {MOST_WORDS} characters")
    return value.strip()


def _answers(given: object) -> tuple[Answer, ...]:
    if not isinstance(given, list) or len(given) > MOST_ANSWERS:
        raise Unusable("the answers are no list", f"send at most {MOST_ANSWERS} of them as a list")
    for one in given:
        fit = isinstance(one, dict) and isinstance(one.get("query"), str) and isinstance(one.get("value"), str)
        if not fit or len(one["query"]) + len(one["value"]) > MOST_WORDS:
            raise Unusable("an answer has no query or no value", 'send {"query": "kind@0", "value": "cookie"}')
    return tuple(Answer(one["query"], one["value"]) for one in given)
