"""Names of ingredients: the pantry's phrases found over the words, the longest kept.

>>> [(name.text, name.key) for name in NameFinder().find("2 cups all-purpose flour")]
[('all-purpose flour', 'all-purpose-flour')]

A table of first words, looked up word by word, does what :class:`spacy.matcher.PhraseMatcher` over the same tokens does
(a test holds the two side by side) in a third of its time, and needs no Doc built for each of the pantry's thousands of
phrases when the program starts.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import accumulate

from rewriter import pantry

_WORD = (
    r"\d+|(?:cups?|tablespoons?|teaspoons?|tbsp|tsp)(?=[a-z]{4})(?!cake|full|fuls|board|soon)"
    r"|[^\W\d_]+(?:['’](?:s|t|ll)\b)?|[^\w\s-]|_|\n"
)
_GAP = r"[ \t\r\x0b\x0c\x1c-\x1f\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000-]*"
_PIECE = re.compile(rf"({_GAP})({_WORD})")
"""A word, a number, a mark or a line's end; blanks and hyphens only part words ("baking-powder" is "baking powder")."""
_BLANK = " \t\r\x0b\x0c\x1c\x1d\x1e\x1f\x85\xa0\u1680\u2028\u2029\u202f\u205f\u3000-" + "".join(
    map(chr, range(0x2000, 0x200B))
)
_WRAP = re.compile(r"(?<=[a-z])\n(?=[a-z]{3})|(?<=[A-Z])\n(?=[A-Z]{3})")
"""A line broken only by the width of a card; a line that opens with a capital is a new one."""


@dataclass(frozen=True, slots=True)
class Name:
    """A pantry name found in the text; ``key`` is its row."""

    start: int
    end: int
    key: str
    text: str


def _lower(text: str) -> str:
    """The text in small letters, character for character, so that offsets hold."""
    low = text.lower()
    return low if len(low) == len(text) else "".join(c.lower() if len(c.lower()) == 1 else c for c in text)


class NameFinder:
    """Finds the pantry's names in a text."""

    def __init__(self) -> None:
        self._by_first: dict[str, list[tuple[list[str], str]]] = {}
        for phrase, key in pantry.phrases():
            words = [word for _, word in _PIECE.findall(phrase.lower())]
            self._by_first.setdefault(words[0], []).append((words[1:], key))
        for rows in self._by_first.values():
            rows.sort(key=lambda row: -len(row[0]))

    def find(self, text: str) -> list[Name]:
        """The names in the text in order; where they overlap the longest (then the last: the head) stays."""
        pieces = _PIECE.findall(_lower(_WRAP.sub(" ", text)).rstrip(_BLANK))
        words = [word for _, word in pieces]
        by_first = self._by_first
        matches: list[tuple[int, int, str]] = []
        for at in [k for k, word in enumerate(words) if word in by_first]:
            for rest, key in by_first[words[at]]:
                if not rest or words[at + 1 : at + 1 + len(rest)] == rest:
                    matches.append((-1 - len(rest), -at, key))
        ends = list(accumulate(len(gap) + len(word) for gap, word in pieces))
        matches.sort()
        taken: set[int] = set()
        names: list[Name] = []
        for length, start, key in matches:
            span = range(-start, -start - length)
            if taken.isdisjoint(span):
                taken.update(span)
                begin, end = ends[span.start] - len(words[span.start]), ends[span.stop - 1]
                names.append(Name(begin, end, key, text[begin:end]))
        names.sort(key=lambda name: name.start)
        return names
