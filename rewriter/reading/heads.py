"""The name that heads an ingredient line: "1 cup (226 g) unsalted butter, softened" is about unsalted butter."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rewriter import pantry
from rewriter.reading.names import Name
from rewriter.reading.units import table, words_pattern

_CUT = re.compile(rf"[,;(\[\]:/|.–—]|\s-\s|\b(?:{words_pattern(table('lines')['cut']['words'])})\b", re.IGNORECASE)
_CUT_WORDS = frozenset(table("lines")["cut"]["words"])
_INSIDE = re.compile(r"\([^()]*\)?")


def _uncut(piece: str) -> bool:
    """Whether a stretch holds nothing but words, none of which ends a noun phrase.

    >>> _uncut(" all-purpose flour"), _uncut(" eggs, beaten"), _uncut(" butter or lard")
    (True, False, False)
    """
    spaced = piece.replace("-", " ")
    return spaced.replace(" ", "").isalpha() and " - " not in piece and _CUT_WORDS.isdisjoint(spaced.lower().split())


def _segments(text: str, start: int, end: int, names: Sequence[Name]) -> list[tuple[int, int]]:
    """The noun phrases of a stretch of a line, in order; a name ("b. powder") is never cut."""
    if _uncut(text[start:end]):
        return [(start, end)]
    out, at = [], start
    for cut in _CUT.finditer(text, start, end):
        if any(name.start < cut.start() < name.end for name in names):
            continue
        if text[at : cut.start()].strip():
            out.append((at, cut.start()))
        at = cut.end()
    if text[at:end].strip():
        out.append((at, end))
    return out


_JOINED = re.compile(r"\b(?:and|&|with|\+|of)\b|[&+]")
_EITHER = re.compile(r"\s*(?:or|/)\s*", re.IGNORECASE)
_ASIDE = re.compile(r"\b(?:for|in|with|from|to|such|like|if|about|see|plus|as|that|which|at|until)\b", re.IGNORECASE)


def _phrases(text: str, start: int, end: int, names: Sequence[Name]) -> list[tuple[int, int]]:
    """The noun phrases that can name the ingredient: what stands in brackets or after "for", "in", "with" cannot."""
    bare = text[start:end]
    if "(" in bare:
        bare = _INSIDE.sub(lambda match: " " * len(match[0]), bare)
    kept: list[tuple[int, int]] = []
    for first, last in _segments(text, start, end, names):
        if not bare[first - start : last - start].strip():
            continue
        if kept and _ASIDE.search(text[kept[-1][1] : first]):
            break
        kept.append((first, last))
    return kept or _segments(text, start, end, names)


def head_name(text: str, start: int, end: int, names: Sequence[Name]) -> tuple[Name | None, int, int]:
    """The name that heads the first noun phrase holding one, and that phrase's span.

    In a phrase the last name is the head ("egg noodles"), unless "and" joins two ("salt and pepper").
    """
    segments = _phrases(text, start, end, names)
    for k, (first, last) in enumerate(segments):
        inside = [name for name in names if first <= name.start and name.end <= last]
        if not inside:
            continue
        if (
            k + 1 < len(segments)
            and _EITHER.fullmatch(text[last : segments[k + 1][0]])
            and len(text[first:last].split()) <= 2
        ):
            shared = [name for name in names if segments[k + 1][0] <= name.start and name.end <= segments[k + 1][1]]
            if shared and pantry.entry(inside[0].key).role == "other" and pantry.entry(shared[-1].key).role != "other":
                return shared[-1], first, segments[k + 1][1]
        head = inside[0]
        for name in inside[1:]:
            between = text[head.end : name.start]
            if _JOINED.search(between):
                break
            head = name
        return head, first, last
    if segments:
        return None, *segments[0]
    return None, start, end
