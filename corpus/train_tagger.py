"""Train the part-of-speech tagger that the second reader needs, from the tagged lines in ``corpus/tagged``.

    python -m corpus.train_tagger            writes rewriter/reading/tagger; a minute
    python -m corpus.train_tagger --check    tags every fifth sentence by a tagger trained on the others

An averaged perceptron (:class:`nltk.tag.perceptron.PerceptronTagger`), kept in NLTK's own layout of three JSON files,
so that ingredient-parser-nlp finds it through ``nltk.data.path`` and need fetch nothing. Figures: MODEL_CARD.md.
"""

from __future__ import annotations

import json
import random
import sys
from collections.abc import Sequence
from pathlib import Path

from nltk.tag.perceptron import PerceptronTagger
from nltk.tag.util import str2tuple

from corpus.compile import HERE

TAGGED = HERE / "tagged"
HOME = HERE.parent / "rewriter" / "reading" / "tagger" / "taggers" / "averaged_perceptron_tagger_eng"
PASSES = 5
SMALLEST = 0.5  # weights nearer to nought hardly ever tip a decision (0.9109 of held-out words alike, 0.9125 with all)
SEED = 1976
Sentence = list[tuple[str, str]]


def sentences() -> list[Sentence]:
    """Every tagged sentence, ingredient lines first."""
    lines = (line for path in sorted(TAGGED.glob("*.txt")) for line in path.read_text(encoding="utf-8").splitlines())
    return [[str2tuple(pair) for pair in line.split()] for line in lines]


def train(lines: Sequence[Sentence], passes: int = PASSES) -> PerceptronTagger:
    """A tagger trained on tagged sentences, always in the same order.

    >>> lines = [[("sugar", "NN"), (",", ","), ("sifted", "VBN")], [("eggs", "NNS"), (",", ","), ("beaten", "VBN")]]
    >>> tagger = train(lines)
    >>> tagger.tag(["eggs", ",", "sifted"])
    [('eggs', 'NNS'), (',', ','), ('sifted', 'VBN')]
    """
    random.seed(SEED)
    tagger = PerceptronTagger(load=False)
    tagger.train(list(lines), nr_iter=passes)
    return tagger


def kept(weights: dict[str, dict[str, float]]) -> dict[str, dict[str, float]]:
    """The weights worth shipping, in order, to two places.

    >>> kept({"bias": {"NN": 0.04, "JJ": -1.2345}, "i word x": {"NN": 0.1}})
    {'bias': {'JJ': -1.23}}
    """
    large = {
        feature: {tag: round(weight, 2) for tag, weight in sorted(by_tag.items()) if abs(weight) >= SMALLEST}
        for feature, by_tag in sorted(weights.items())
    }
    return {feature: by_tag for feature, by_tag in large.items() if by_tag}


def save(tagger: PerceptronTagger, home: Path) -> int:
    """Write the three files NLTK looks for; returns their size in bytes."""
    home.mkdir(parents=True, exist_ok=True)
    classes = sorted(tagger.classes)
    parts = {"weights": kept(tagger.model.weights), "tagdict": dict(sorted(tagger.tagdict.items())), "classes": classes}
    size = 0
    for name, value in parts.items():
        text = json.dumps(value, ensure_ascii=False, separators=(",", ":")) + "\n"
        size += (home / f"averaged_perceptron_tagger_eng.{name}.json").write_text(text, encoding="utf-8")
    return size


def agreement(lines: Sequence[Sentence]) -> float:
    """Share of words of every fifth sentence tagged alike by a tagger trained on the other four."""
    tagger = train([line for number, line in enumerate(lines) if number % 5])
    tagger.model.weights = kept(tagger.model.weights)
    held = lines[::5]
    alike = sum(
        tag == given
        for line in held
        for (_, tag), (_, given) in zip(tagger.tag([word for word, _ in line]), line, strict=True)
    )
    return float(alike / sum(map(len, held)))


def main(arguments: Sequence[str]) -> int:
    """Train and save, or with ``--check`` only measure. 0 where it went well."""
    lines = sentences()
    if "--check" in arguments:
        sys.stdout.write(f"agreement on held-out words: {agreement(lines):.4f}\n")
    else:
        sys.stdout.write(f"{len(lines)} sentences, {save(train(lines), HOME)} characters written\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
