"""What a recipe says of altitude: that its amounts are for one already, or a note of its own for one.

>>> text = "Odalys's loaf, our 7,000 ft version."
>>> [(fact.kind, fact.value) for fact in find(text, text.lower())]
[('altitude-version', '7,000 ft')]
>>> text = "Cool. High altitude: add 2 Tbsp flour. Bake at 375. Serve."
>>> [(fact.kind, fact.text) for fact in find(text, text.lower())]
[('altitude-note', 'High altitude: add 2 Tbsp flour. Bake at 375.')]
"""

from __future__ import annotations

import re
from functools import lru_cache

from rewriter.model import Fact
from rewriter.reading.clauses import led, patterns, windows

_ROW = patterns("facts")["altitude"]
NEAR: tuple[str, ...] = tuple(_ROW["near"])
"""One of these stands in every text that tells one of these facts."""
_STOP = re.compile(
    r"[.!?](?=\s|$)(?<!\bft\.)(?<!\b[tT]sp\.)(?<!\b[tT]bsp\.)(?<!\boz\.)(?<!\bmin\.)(?<!\bdeg\.)(?<!\b[ctT]\.)"
    r"|(?<=\bft)\.(?=\s+[A-Z])|\n"
)
_FIRST_WORD = re.compile(r"[\s(]*([a-z]+)")
_GOES_ON = frozenset(
    "add increase reduce decrease use bake raise lower subtract omit adjust also and then cut stir beat no do you"
    " cook set for heat preheat oven leave mix temperature lower".split()
)


@lru_cache(maxsize=8)
def _pattern(name: str) -> re.Pattern[str]:
    return re.compile(led(_ROW[name].replace("ELEV", _ROW["elevation"])))


@lru_cache(maxsize=1)
def _versions() -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(led(pattern.replace("ELEV", _ROW["elevation"]))) for pattern in _ROW["versions"])


def _sentence(text: str, start: int, end: int) -> tuple[int, int]:
    """The sentence around a place, trimmed."""
    left = max(0, start - 300)
    for match in _STOP.finditer(text, left, start):
        left = match.end()
    stop = _STOP.search(text, end, end + 500)
    right = len(text) if not stop and end + 500 > len(text) else stop.end() if stop else end + 500
    while left < start and not text[left].isalnum():
        left += 1
    return left, right - (right > 0 and text[right - 1] == "\n")


def _version(text: str, low: str) -> Fact | None:
    near = windows(low, NEAR, 110, 90)
    for pattern in _versions():
        for match in (m for start, end in near for m in pattern.finditer(low, start, end)):
            left, right = _sentence(text, match.start() + (match[0][:1] == "\n"), match.end())
            if _pattern("version_unless").search(low, left, right):
                continue
            told = _pattern("elevation").search(low, left, right) or _pattern("elevation").search(low, 0, 400)
            value = text[told.start() : told.end()].strip() if told else ""
            start = match.start() + len(match[0]) - len(match[0].lstrip())
            return Fact("altitude-version", start, match.end(), text[start : match.end()], value)
    return None


def _advice_end(low: str, right: int) -> int:
    """Where advice that starts before ``right`` ends: with the last sentence of its line that still advises."""
    while right < len(low) and low[right] != "\n":
        stop = _STOP.search(low, right, right + 400)
        end = stop.end() if stop else min(len(low), right + 400)
        if stop and stop[0] == "\n":
            end -= 1
        word = _FIRST_WORD.match(low, right, end)
        if not word or word[1] not in _GOES_ON or not _pattern("advice").search(low, right, end):
            break
        right = end
    return right


def _headed(low: str, end: int) -> int:
    """The paragraph under a heading that ends at ``end``: to the next blank line, 700 characters at most."""
    blank = re.compile(r"\n[^\S\n]*\n").search(low, end + 1, end + 700)
    return blank.start() if blank else min(len(low.rstrip()), end + 700)


def _notes(text: str, low: str, version: Fact | None) -> list[Fact]:
    notes: list[Fact] = []
    reached = 0
    near = windows(low, NEAR, 40, 60)
    for match in (m for start, end in near for m in _pattern("note").finditer(low, start, end)):
        if match.start() < reached:
            continue
        left, right = _sentence(text, match.start(), match.end())
        if (version and left <= version.start < right) or _pattern("note_unless").search(low, left, right):
            continue
        heading = _pattern("heading").match(low, left - 1 if left else 0)
        if heading and (heading.end() >= right - 1 or not _pattern("advice").search(low, left, right)):
            right = _headed(low, right)
        if not _pattern("advice").search(low, left, right):
            continue
        if not heading:
            right = _advice_end(low, right)
        reached = right
        notes.append(Fact("altitude-note", left, right, text[left:right]))
    return notes


def find(text: str, low: str) -> list[Fact]:
    """The altitude facts of a text. low: the text in small letters, character for character."""
    if not any(word in low for word in NEAR):
        return []
    version = _version(text, low)
    return ([version] if version else []) + _notes(text, low, version)
