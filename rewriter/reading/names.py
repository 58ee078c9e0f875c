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
from functools import lru_cache
from itertools import accumulate

from rewriter import pantry

_WORD = (
    r"\d+|(?:cups?|tablespoons?|teaspoons?|tbsp|tsp)(?=[a-z]{4})(?!cake|full|fuls|board|soon)"
    r"|[^\W\d_]+(?:['’](?:s|t|ll)\b)?|[^\w\s-]|_"
)
_PLAIN_WORD = r"[abd-su-z][a-z]*+(?![^\W\d_]|['’])"
"""The commonest words, told at once: they cannot be a unit that is run together with the next word."""
_GAP = r"[ \t\r\x0b\x0c\x1c-\x1f\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000-]*"
_PIECE = re.compile(rf" ?(?:{_PLAIN_WORD}|\d+|[.,()])|{_GAP}(?:{_WORD})")
"""A word, a number or a mark, with the blanks and hyphens before it; they only part words ("baking-powder")."""
_BLANK = " \t\r\x0b\x0c\x1c\x1d\x1e\x1f\x85\xa0\u1680\u2028\u2029\u202f\u205f\u3000-" + "".join(
    map(chr, range(0x2000, 0x200B))
)
_WRAP = re.compile(r"\n(?:(?<=[a-z]\n)(?=[a-z]{3})|(?<=[A-Z]\n)(?=[A-Z]{3}))")
"""A line broken only by the width of a card; a line that opens with a capital is a new one."""
_SHORT = 120
"""The longest line that is remembered, for it may come again."""


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
        self._known: dict[str, str] = {}  # the key of each phrase, and none of what a longer one begins with
        for phrase, key in pantry.phrases():
            words = _words(_PIECE.findall(phrase.lower()))
            for beginning in accumulate(words[:-1], _and):
                self._known.setdefault(beginning, "")
            self._known[" ".join(words)] = key
        self._again = lru_cache(maxsize=8192)(self._in_line)

    def find(self, text: str) -> list[Name]:
        """The names in the text in order; where they overlap the longest (then the last: the head) stays."""
        names: list[Name] = []
        at = 0
        for line in _lower(_WRAP.sub(" ", text)).split("\n"):
            for start, end, key in self._again(line) if len(line) <= _SHORT else self._in_line(line):
                names.append(Name(at + start, at + end, key, text[at + start : at + end]))
            at += len(line) + 1
        return names

    def _in_line(self, line: str) -> tuple[tuple[int, int, str], ...]:
        """Where in a line of small letters names stand, and their keys."""
        pieces = _PIECE.findall(line.rstrip(_BLANK))
        words = _words(pieces)
        matches = self._matches(words)
        if not matches:
            return ()
        ends = list(accumulate(map(len, pieces)))
        taken: set[int] = set()
        found = []
        for length, start, key in sorted(matches):
            span = range(-start, -start - length)
            if taken.isdisjoint(span):
                taken.update(span)
                found.append((ends[span.start] - len(words[span.start]), ends[span.stop - 1], key))
        return tuple(sorted(found))

    def _matches(self, words: list[str]) -> list[tuple[int, int, str]]:
        """Every phrase among the words: the less its length in words, the less its place, its key."""
        known = self._known
        matches = []
        for at in [k for k, word in enumerate(words) if word in known]:
            phrase, stop = words[at], at + 1
            while (key := known.get(phrase)) is not None:
                if key:
                    matches.append((at - stop, -at, key))
                if stop == len(words):
                    break
                phrase, stop = f"{phrase} {words[stop]}", stop + 1
        return matches


def _words(pieces: list[str]) -> list[str]:
    return [piece.lstrip(_BLANK) for piece in pieces]


def _and(beginning: str, word: str) -> str:
    return f"{beginning} {word}"
