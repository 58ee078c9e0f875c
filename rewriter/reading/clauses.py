"""Clauses around a place in the text, and the cue words in them.

A clause runs from the last full stop, line end or semicolon to the next; a dot after an abbreviation does not end it.

>>> text = "Mix well. Bake 10 min. at 350 until brown. Cool."
>>> start, end = clause(text, text.index("350"), text.index("350") + 3)
>>> text[start:end].strip()
'Bake 10 min. at 350 until brown'
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

_ENDS = re.compile(r"[.!?\n;•▢□](?:(?<=[\n;•▢□])|[.!?]*(?=[\s)\"”]))")
_ABBREVIATIONS = frozenset(
    "min mins hr hrs sec secs tsp tbsp tbs tb t c oz lb lbs pt qt gal pkg deg f approx ca in no vol st dr".split()
)
_RUNS_ON = re.compile(r"(?:\b(?:to|at|of|in|an?|the|about|and|or|for|with|until|oven)|,)\Z", re.IGNORECASE)
_WORD = re.compile(r"[a-z]+")


def plain(text: str) -> str:
    """The text in small letters, character for character (so that offsets stay true).

    >>> plain("BAKE AT 350°F"), len(plain("İ"))
    ('bake at 350°f', 1)
    """
    low = text.lower()
    return low if len(low) == len(text) else "".join(c.lower() if len(c.lower()) == 1 else c for c in text)


def _ends(text: str, match: re.Match[str]) -> bool:
    """Whether a stop ends its clause: not after an abbreviation with small letters or figures going on."""
    if match[0] == "\n":
        return not _wrapped(text, match.start())
    if match[0] != ".":
        return True
    at = match.start()
    word = at
    while word > 0 and text[word - 1].isalpha() and at - word < 7:
        word -= 1
    if text[word:at].lower() not in _ABBREVIATIONS:
        return True
    if at - word > 1 and text[word:at].isupper():
        return text[at + 1 : at + 2] == "\n"
    following = text[match.end() : match.end() + 3].lstrip()
    return text[at + 1 : at + 2] == "\n" or following[:1].isupper()


def _wrapped(text: str, at: int) -> bool:
    """Whether the line end at ``at`` only breaks a long line: the words run on."""
    before = text[max(0, at - 40) : at]
    words = before.removesuffix("\n").rstrip(" \t\r")
    if _RUNS_ON.search(words, max(0, len(words) - 6)):
        return True
    return "\n" not in before and len(before) == 40 and before[-1:].isalnum() and text[at + 1 : at + 2].islower()


def clause(text: str, start: int, end: int, back: int = 130, ahead: int = 90) -> tuple[int, int]:
    """Where the clause around ``text[start:end]`` starts and ends, looking no further than ``back`` and ``ahead``."""
    left, right = max(0, start - back), min(len(text), end + ahead)
    for match in reversed([*_ENDS.finditer(text, left, start)]):
        if _ends(text, match):
            left = match.end()
            break
    for match in _ENDS.finditer(text, end, right):
        if _ends(text, match):
            return left, match.start()
    return left, right


def windows(low: str, keys: Iterable[str], back: int, ahead: int) -> list[tuple[int, int]]:
    """The stretches around every key word, from ``back`` before its start to ``ahead`` after it, joined.

    >>> windows("a pan, then a very long way to a tin", ["pan", "tin"], 2, 5)
    [(0, 7), (31, 36)]
    """
    hits = []
    for key in keys:
        at = low.find(key)
        while at >= 0:
            hits.append(at)
            at = low.find(key, at + len(key))
    hits.sort()
    found: list[tuple[int, int]] = []
    stop = len(low)
    for at in hits:
        start, end = at - back if at > back else 0, at + ahead if at + ahead < stop else stop
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def words(low: str, start: int, end: int) -> list[str]:
    """The words of ``low[start:end]`` (small letters)."""
    return _WORD.findall(low, start, end)


def cues(found: list[str], table: Mapping[str, str], backwards: bool = False) -> Iterator[str]:
    """What the table says of each word, or pair of words, in order ('backwards': nearest the end first).

    >>> list(cues(["heat", "oil", "in", "dutch", "oven"], {"oil": "oil", "oven": "oven", "dutch oven": "pan"}, True))
    ['pan', 'oil']
    """
    places = range(len(found) - 1, -1, -1) if backwards else range(len(found))
    taken = -1
    for i in places:
        if i == taken:
            continue
        word = found[i]
        other = i - 1 if backwards else i + 1
        if 0 <= other < len(found):
            pair = f"{found[other]} {word}" if backwards else f"{word} {found[other]}"
            if pair in table:
                taken = other
                yield table[pair]
                continue
        if word in table:
            yield table[word]


_LED = re.compile(r"\\b([a-z]{2,})(?![?*+{])")


def led(pattern: str) -> str:
    r"""A pattern that opens with a whole word, so put that the word is sought before its boundary: much quicker.

    >>> led(r"\bjars?\b"), led(r"\b(?:jar|lid)\b")
    ('jar(?<!\\wjar)s?\\b', '\\b(?:jar|lid)\\b')
    """
    word = _LED.match(pattern)
    return rf"{word[1]}(?<!\w{word[1]}){pattern[word.end() :]}" if word else pattern


@lru_cache(maxsize=16)
def patterns(name: str) -> dict[str, Any]:
    """The rows of ``patterns/<name>.toml``, read once."""
    return tomllib.loads((Path(__file__).parent / "patterns" / f"{name}.toml").read_text(encoding="utf-8"))


def word_table(rows: Mapping[str, list[str]]) -> dict[str, str]:
    """A table from meaning to words, turned round: from each word to its meaning.

    >>> word_table({"bake": ["bake", "baking"]})
    {'bake': 'bake', 'baking': 'bake'}
    """
    return {word: meaning for meaning, listed in rows.items() for word in listed}
