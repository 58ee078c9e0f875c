"""The method cut into sentences: its lines, those joined that only a card's width has broken, and what stands in them.

>>> text = "1) Add 1 tsp. soda. Bake 20 min. more."
>>> [body_of(text[start:end]) for start, end in split(text, 0, len(text))]
['Add 1 tsp. soda', 'Bake 20 min. more']
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_STOP = re.compile(r"[.!?;]+(?=[\s)\"”’]|$)")
_ABBREVIATED = re.compile(
    r"\b(?:min|mins|hr|hrs|tsp|tbsp|tbs|oz|lb|lbs|approx|in|no|deg|c|t|pkg|f|fl|e\.g|i\.e|vs)\.$", re.IGNORECASE
)
_SHORT_ENDS = frozenset("in ns hr rs sp bs oz lb ox no eg kg fl vs".split())
"""The last two letters of the abbreviations that have as many."""
_TIME_UP = re.compile(r"\b(?:[Mm]ins?|[Hh]rs?|[Dd]eg|F)\.\s+[A-Z]")
"""A time or heat at the end of its sentence ("Bake 12 min. Whip the cream"); "1 tsp. Salt" is none."""
_STEP_HEAD = re.compile(r"\W*(?:step\s*)?\d{0,2}[.):]?\s*", re.IGNORECASE)


def split(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """Sentences (and lines) of a stretch of text, as spans."""
    spans, at = [], start
    for stop in _STOP.finditer(text, start, end):
        if _abbreviated(text, start, stop):
            continue
        if text[at : stop.start()].strip():
            spans.append((at, stop.start()))
        at = stop.end()
    if text[at:end].strip():
        spans.append((at, end))
    return spans


def _abbreviated(text: str, start: int, stop: re.Match[str]) -> bool:
    """Whether a stop is that of an abbreviation, with its sentence going on."""
    at = stop.start()
    ending = text[max(0, at - 2) : at]
    if text[at] != "." or (ending[:1].isalpha() and ending.lower() not in _SHORT_ENDS):
        return False
    before = max(start, at - 6)
    return bool(_ABBREVIATED.search(text, before, at + 1)) and not _TIME_UP.search(text, before, stop.end() + 3)


def body_of(sentence: str) -> str:
    """A sentence without the number of its step.

    >>> body_of(" 2) Mix."), body_of("Step 3: Bake"), body_of("sift")
    ('Mix.', 'Bake', 'sift')
    """
    bare = sentence.lstrip()
    if bare[:1].isalpha() and bare[0] not in "sSſ":
        return bare
    step = _STEP_HEAD.match(sentence)
    return sentence[step.end() :] if step else sentence


_PART_LISTED = re.compile(
    r"(?:for\s+)?(?:the\s+)?(?:[a-z]+\s+)?(?:frosting|icing|glaze|topping|filling|streusel|crumble|sauce|syrup|custard)"
    r"[\s:–-]+[\d½¼¾⅓⅔⅛]",
    re.IGNORECASE,
)
"""A line that names a part and lists it, without a colon ("icing 1/2 c butter 3 c icing sugar")."""


def unwrapped(text: str, spans: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
    """The method's lines, those joined that only the width of a card or a scan has broken."""
    out: list[tuple[int, int]] = []
    for start, end in spans:
        if out:
            first, last = out[-1]
            if (
                text[start].islower()
                and text[last - 1] not in ".!?:;"
                and text[last:start].strip() == ""
                and text.count("\n", last, start) == 1
                and not _PART_LISTED.match(text, start)
            ):
                out[-1] = first, end
                continue
        out.append((start, end))
    return out
