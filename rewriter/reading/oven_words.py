"""Ovens told in words: "a moderate oven", "rather quick oven", "not too hot an oven", "oven moderately hot".

>>> text = "bake in a rather quick oven"
>>> [(text[f.start:f.end], str(f.low)) for f in scan(text, [])]
[('rather quick oven', '375')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from rewriter.pantry.oven import oven_word
from rewriter.reading.clauses import patterns
from rewriter.reading.clauses import words as words_in
from rewriter.reading.degrees import Figure

_ROWS = patterns("heats")["words"]
_DEGREE = "|".join(_ROWS["degree"])
_HEAT = "|".join(sorted(_ROWS["heat"], key=len, reverse=True))
_ADJ = rf"(?:not[\s]+(?:too|so|very)[\s]+|too[\s]+)?(?:(?:{_DEGREE})[\s-]+){{0,2}}(?:{_HEAT})"
_BEFORE = re.compile(
    rf"(?<![a-z-])(?P<a>{_ADJ})(?:(?:\s*,\s*|\s+(?:or|to|and)\s+|-to-)(?:an?\s+)?(?P<b>{_ADJ}))?"
    r"(?:\s+(?:an?|heated|preheated|dutch))?[\s,]*\(?\s*$"
)
_NEXT = frozenset([*_ROWS["heat"], "a", "an", "heated", "preheated", "dutch"])
"""The words of which one stands next before an oven whose heat is told before it."""
_AFTER = re.compile(
    r"\s*(?:,|:|\bshould be|\bmust be|\bought to be|\bto be|\bbe|\bto|\bat|\bkept|\bheated)?\s*"
    rf"(?:an?\s+)?(?P<a>{_ADJ})(?:\s+(?:heat|temperature))?(?![a-z-])"
)
_HEATED = re.compile(
    rf"bak(?<!\wbak)(?:e|ed|ing)\b[^.;\n]{{0,45}}?\b(?:in|at|with|over|under)\s+(?:an?\s+)?"
    rf"(?P<p>(?P<a>{_ADJ})\s+(?:heat|temperature|fire))\b"
)
_SECOND = re.compile(rf"\b(?:in|into|be|to|with|or)\s+an?\s+(?P<a>{_ADJ})\s+one\b")
_LONE_AFTER = frozenset({"slow", "moderate", "hot", "medium", "quick"})
_NOT = re.compile(r"not\s+(?:too|so|very)\s+|too\s+")


@lru_cache(maxsize=128)
def degrees(phrase: str) -> tuple[int, int, bool] | None:
    """Lowest and highest degrees F of an oven word by the pantry's table, and whether the table has it as it stands."""
    words = re.split(r"[\s-]+", phrase.strip())
    row = oven_word(" ".join(words))
    if row:
        return (int(row.fahrenheit), int(row.fahrenheit), not row.check)
    mended = _NOT.sub("", phrase)
    if mended != phrase:
        inner = degrees(mended)
        return (inner[0] - 25, inner[1] - 25, False) if inner else None
    while len(words) > 1:
        words = words[1:]
        if row := oven_word(" ".join(words)):
            return (int(row.fahrenheit), int(row.fahrenheit), False)
    return None


def _figure(start: int, end: int, phrases: Sequence[str]) -> Figure | None:
    known = [row for row in map(degrees, phrases) if row]
    if not known:
        return None
    low, high = min(row[0] for row in known), max(row[1] for row in known)
    sure = all(row[2] for row in known)
    return Figure(start, end, low, high if high > low else None, "word", "word", not sure)


def _before(low: str, at: int, ends: dict[int, int]) -> Figure | None:
    """The words before an oven, passing over a figure in between ("a moderate (350 F) oven")."""
    edge, end = at, at + (5 if low.startswith("ovens", at) else 4)
    while edge > 0 and low[edge - 1] in " )\n-":
        edge -= 1
    if edge in ends:
        at = end = edge = ends[edge]
        while end > 0 and low[end - 1] in " (\n":
            end -= 1
    if _NEXT.isdisjoint(words_in(low, max(0, at - 60), at)[-1:]):
        return None
    match = _BEFORE.search(low, max(0, at - 60), at)
    if not match or low[max(0, match.start() - 12) : match.start()].rstrip().endswith(("from", "from the", "from a")):
        return None
    return _figure(match.start("a"), end, [match["a"], *([match["b"]] if match["b"] else [])])


def _after(low: str, at: int) -> Figure | None:
    end = at + 4
    match = _AFTER.match(low, end)
    if not match or low[max(0, at - 12) : at].rstrip().endswith(("from the", "from", "of the", "the hot")):
        return None
    words = re.split(r"[\s-]+", match["a"])
    bare = not low[end : match.start("a")].strip()
    if len(words) == 1 and (
        words[0] not in _LONE_AFTER or ("," in low[end : match.start("a")] and words[0] in ("hot", "quick"))
    ):
        return None
    return None if bare and low[end : end + 1] == "\n" else _figure(at, match.end(), [match["a"]])


def _standing(low: str, figure: Figure, numbers: Sequence[Figure]) -> bool:
    """Not "the hot oven" of a recipe that has set its oven in degrees before."""
    if low[figure.start : figure.end].split()[0] not in ("hot", "warm", "cool") or not any(
        f.start < figure.start for f in numbers
    ):
        return True
    return any(0 <= f.start - figure.end <= 4 for f in numbers)


def scan(low: str, numbers: Sequence[Figure]) -> list[Figure]:
    """Every oven told in words, in reading order. low: the text in small letters; numbers: figures already found."""
    found: list[Figure] = []
    ends = {figure.end: figure.start for figure in numbers if figure.kind != "gas"}
    at = low.find("oven")
    while at >= 0:
        if not low[at - 1 : at].isalpha() or at == 0:
            figure = _before(low, at, ends) or _after(low, at)
            if figure and _standing(low, figure, numbers):
                found.append(figure)
        at = low.find("oven", at + 4)
    if "bak" in low and (" heat" in low or " fire" in low or "temperature" in low):
        for match in _HEATED.finditer(low):
            figure = _figure(match.start("p"), match.end("p"), [match["a"]])
            if figure and not any(f.start <= figure.start < f.end + 15 for f in found):
                found.append(figure)
    if found and " one" in low:
        for match in _SECOND.finditer(low):  # "in a quick oven at first, then in a moderate one"
            figure = _figure(match.start("a"), match.end(), [match["a"]])
            if figure and match.start() > found[0].start:
                found.append(figure)
    return sorted(found, key=lambda figure: figure.start)
