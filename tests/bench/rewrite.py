"""A whole rewrite as a ratio of two yardsticks in the same run, and the cold start of the command line.

    python -m tests.bench.rewrite

The yardsticks: ``spacy.blank("en")`` that tokenises the same texts, and ingredient-parser-nlp on their ingredient
lines alone. Taken in turns, medians of the rounds. The milliseconds are of one machine; the ratios travel.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import spacy

import rewriter
from tests.bench.texts import ingredient_lines, recipes, rounds

CAKE = Path(__file__).parents[2] / "corpus" / "examples" / "ninebark-butter-cake.txt"
ANNOTATE = [sys.executable, "-m", "rewriter", "annotate", str(CAKE), "--elevation", "6500 ft"]


def start(*command: str) -> None:
    """Run a command and throw away what it prints."""
    subprocess.run(command, check=True, capture_output=True)


def main() -> None:
    """Print both tables."""
    texts = recipes()
    lines = [line for text in texts for line in ingredient_lines(text)]
    blank, parse = spacy.blank("en"), rewriter.second_reader()
    whole = "a whole rewrite"
    works = {
        whole: lambda: [rewriter.rewrite(text, "8,200 ft") for text in texts],
        "reading alone": lambda: [rewriter.read(text) for text in texts],
        'spacy.blank("en"), tokens alone': lambda: [blank(text) for text in texts],
        "ingredient-parser-nlp, ingredient lines alone": lambda: [parse(line) for line in lines],
    }
    for work in works.values():
        work()  # loaded and warm
    found = rounds(works, 3)
    letters = sum(map(len, texts)) / len(texts)
    print(f"{len(texts)} recipes of {letters:.0f} characters, {len(lines)} ingredient lines\n")
    print("| | ms a recipe | a whole rewrite takes |\n|---|---|---|")
    for name, taken in found.items():
        print(f"| {name} | {1000 * taken / len(texts):.2f} | {found[whole] / taken:.2f} times as long |")
    cold = rounds(
        {
            "rewriter annotate": lambda: start(*ANNOTATE),
            "import spacy": lambda: start(sys.executable, "-c", "import spacy; spacy.blank('en')"),
        },
        5,
    )
    print("\n| cold start | seconds |\n|---|---|")
    for name, taken in cold.items():
        print(f"| {name} | {taken:.2f} |")
    print(f"\nrewriter annotate takes {cold['rewriter annotate'] / cold['import spacy']:.2f} times as long.")


if __name__ == "__main__":
    main()
