"""Names of ingredients: the pantry's phrases found over the tokens, the longest kept.

>>> finder = NameFinder(__import__("spacy").blank("en").vocab)
>>> doc = finder.tokenize("2 cups all-purpose flour")
>>> [(n.text, n.key) for n in finder.find(doc)][0][0]
'all-purpose flour'
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc
from spacy.vocab import Vocab

from rewriter import pantry
from rewriter.reading.tokens import RecipeTokenizer


_WRAP = re.compile(r"(?<=[a-z])\n(?=[a-z]{3})")
"""A line broken only by the width of a card."""


@dataclass(frozen=True, slots=True)
class Name:
    """A pantry name found in the text; ``key`` is its row."""

    start: int
    end: int
    key: str
    text: str


class NameFinder:
    """Finds pantry names by :class:`spacy.matcher.PhraseMatcher` on lower-cased tokens."""

    def __init__(self, vocab: Vocab) -> None:
        self.tokenize = RecipeTokenizer(vocab)
        self._matcher = PhraseMatcher(vocab, attr="LOWER")
        by_key: dict[str, list[Doc]] = {}
        for phrase, key in pantry.phrases():
            by_key.setdefault(key, []).append(self.tokenize(phrase.replace("-", " ")))
        for key, docs in by_key.items():
            self._matcher.add(key, docs)
        self._keys = {vocab.strings[key]: key for key in by_key}

    def find(self, doc: Doc, text: str | None = None) -> list[Name]:
        """The names in the doc in order; where they overlap the longest (then the last: the head) stays.

        text: the doc's own text where the caller has it at hand (to build it anew is slow).
        """
        text = doc.text if text is None else text
        plain = _WRAP.sub(" ", text.replace("-", " "))  # "baking-powder" is "baking powder": offsets hold
        if plain != text:
            doc = self.tokenize(plain)
        matches = self._matcher(doc)
        matches.sort(key=lambda match: (match[1] - match[2], -match[1]))
        taken: set[int] = set()
        kept: list[tuple[int, int, int]] = []
        for key, start, end in matches:
            if taken.isdisjoint(range(start, end)):
                taken.update(range(start, end))
                kept.append((start, end, key))
        kept.sort()
        names = []
        for start, end, key in kept:
            last = doc[end - 1]
            begin, stop = doc[start].idx, last.idx + len(last)
            names.append(Name(begin, stop, self._keys[key], text[begin:stop]))
        return names
