"""The pantry's names in a text, held side by side with spaCy's own matcher over the same words."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

import pytest
import spacy
from spacy.matcher import PhraseMatcher

from rewriter import pantry
from rewriter.reading.names import NameFinder
from rewriter.reading.tokens import RecipeTokenizer

RECIPES = sorted((Path(__file__).parents[2] / "corpus" / "recipes" / "train").glob("*.txt"))[::12]
WRAP = re.compile(r"(?<=[a-z])\n(?=[a-z]{3})")


@lru_cache(maxsize=1)
def matcher() -> tuple[RecipeTokenizer, PhraseMatcher]:
    vocab = spacy.blank("en").vocab
    tokenize, phrases = RecipeTokenizer(vocab), PhraseMatcher(vocab, attr="LOWER")
    for phrase, key in pantry.phrases():
        phrases.add(key, [tokenize(phrase.replace("-", " "))])
    return tokenize, phrases


def by_spacy(text: str) -> set[tuple[int, int]]:
    """The longest names by spaCy's matcher (the last of equals), as spans."""
    tokenize, phrases = matcher()
    doc = tokenize(WRAP.sub(" ", text.replace("-", " ")))
    taken: set[int] = set()
    spans = set()
    for _, start, end in sorted(phrases(doc), key=lambda match: (match[1] - match[2], -match[1])):
        if taken.isdisjoint(range(start, end)):
            taken.update(range(start, end))
            spans.add((doc[start].idx, doc[end - 1].idx + len(doc[end - 1])))
    return spans


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_what_spacys_matcher_finds_is_found(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    found = {(name.start, name.end) for name in NameFinder().find(text)}
    missed = {span for span in by_spacy(text) - found if not any(a <= span[0] and span[1] <= b for a, b in found)}
    assert missed == set()
    more = [text[a:b] for a, b in found - by_spacy(text)]
    assert all("  " in name or re.search(r"[\t\r\xa0]|-\s|\s-", name) for name in more)


def test_the_longest_stays_and_of_equals_the_head() -> None:
    names = NameFinder().find("light brown sugar and semisweet chocolate chips")
    assert [name.text for name in names] == ["light brown sugar", "chocolate chips"]
