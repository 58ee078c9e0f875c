"""The kinds of bake that the words of a title or a heading tell.

>>> told_kinds("Lemon Pudding Cake with Custard")
('shortened-cake', 'custard')
"""

from __future__ import annotations

import re
from functools import lru_cache

from rewriter.reading.units import table, words_pattern

_WORDS: dict[str, list[str]] = table("kinds")["title"]
_TITLE: dict[str, re.Pattern[str]] = {
    kind: re.compile(rf"\b(?:{words_pattern(words)})(?:e?s)?\b", re.IGNORECASE) for kind, words in _WORDS.items()
}
_RUN = re.compile(r"\w+")


def _openings() -> dict[str, frozenset[str]]:
    """Of each word that a telling phrase opens with, as it may stand in a title, the kinds the phrase tells."""
    opens: dict[str, set[str]] = {}
    for kind, phrases in _WORDS.items():
        for phrase in phrases:
            word = _RUN.match(phrase)[0].casefold()  # type: ignore[index]
            for ending in ("", "s", "es") if len(word) == len(phrase) else ("",):
                opens.setdefault(word + ending, set()).add(kind)
    return {word: frozenset(kinds) for word, kinds in opens.items()}


_OPENINGS = _openings()


def title_kinds(title: str) -> list[tuple[int, int, str]]:
    """Every kind the title's words can tell, the last telling word first (then the longest)."""
    possible = {kind for word in _RUN.findall(title.casefold()) if word in _OPENINGS for kind in _OPENINGS[word]}
    found = [
        (match.end(), match.end() - match.start(), kind) for kind in possible for match in _TITLE[kind].finditer(title)
    ]
    return sorted(found, reverse=True)


_QUALIFIER = re.compile(
    r"\s+(?:with|without|recipe|from|for|and|in|on|topped|by|as|or|w/|\||–|-|made|bake\s+sale)\b.*$|\(.*$|[,;:].*$|\.\s.*$|\s[–—|-]\s.*$",
    re.IGNORECASE,
)


@lru_cache(maxsize=2048)
def told_kinds(title: str) -> tuple[str, ...]:
    """The kinds a title's words tell, its head first: what stands after "with", "for", "or" or a comma counts last."""
    plain = title.replace("-", " ")
    head = _QUALIFIER.sub("", title.strip()).replace("-", " ")
    kinds = [kind for _, _, kind in title_kinds(head)]
    return tuple(kinds or [kind for _, _, kind in title_kinds(plain)])
