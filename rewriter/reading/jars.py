"""Home canning, and cakes sealed in jars: recipes that are never rewritten.

>>> text = "Ladle into hot jars, leaving 1/2-inch headspace. Process 10 minutes."
>>> [fact.kind for fact in find(text, text.lower())]
['canning']
>>> find("Serve with a jar of jam.", "serve with a jar of jam.")
[]
"""

from __future__ import annotations

import re
from functools import lru_cache

from rewriter.model import Fact
from rewriter.reading.clauses import clause, led, patterns, windows

_ROW = patterns("facts")["canning"]
NEAR: tuple[str, ...] = tuple(_ROW["near"])
"""One of these stands in every text that tells one of these facts."""


@lru_cache(maxsize=1)
def _strong() -> tuple[re.Pattern[str], ...]:
    return tuple(re.compile(led(pattern)) for pattern in _ROW["strong"])


@lru_cache(maxsize=8)
def _pattern(name: str) -> re.Pattern[str]:
    return re.compile(led(_ROW[name]))


def _canning(text: str, low: str) -> Fact | None:
    patterns_ = _strong() + ((_pattern("jarred"),) if "jar" in low else ())
    near = windows(low, NEAR, 110, 110)
    for pattern in patterns_:
        for match in (m for start, end in near for m in pattern.finditer(low, start, end)):
            left, right = clause(text, match.start(), match.end())
            if not _pattern("unless").search(low, left, right):
                return Fact("canning", match.start(), match.end(), text[match.start() : match.end()])
    return None


def _jar_cake(text: str, low: str) -> Fact | None:
    """A cake or bread baked in jars and closed while hot."""
    said = _pattern("sealed").search(low)
    filled = said if said else _pattern("baked").search(low)
    if not filled or not _pattern("cake").search(low) or not ("bake" in low or "oven" in low):
        return None
    if not said and not _pattern("closed").search(low):
        return None
    return Fact("sealed-jar-cake", filled.start(), filled.end(), text[filled.start() : filled.end()])


def find(text: str, low: str) -> list[Fact]:
    """Canning or a sealed jar cake, where the words tell it. low: the text in small letters."""
    if not any(word in low for word in NEAR):
        return []
    return [fact for fact in (_canning(text, low), _jar_cake(text, low) if "jar" in low else None) if fact]
