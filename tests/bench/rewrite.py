"""A whole rewrite as a ratio of two yardsticks in the same run, and the cold start of the command line.

    python -m tests.bench.rewrite

The yardsticks: ``spacy.blank("en")`` that tokenises the same texts, and ingredient-parser-nlp on their ingredient
lines alone. Taken in turns, medians of the rounds. The milliseconds are of one machine; the ratios travel.

Two tables, because both sides remember words they have met (spaCy the tokens of whatever stands between blanks, the
reading names and figures): texts met again and again, and texts met for the first time, as in a batch of thousands.
"""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
from pathlib import Path

import spacy

import rewriter
from tests.bench.texts import ingredient_lines, recipes, rounds, seconds

CAKE = Path(__file__).parents[2] / "corpus" / "examples" / "ninebark-butter-cake.txt"
BLANK = 'spacy.blank("en"), tokens alone'
UNMET = [sys.executable, "-m", "tests.bench.rewrite", "--unmet"]
ANNOTATE = [sys.executable, "-m", "rewriter", "annotate", str(CAKE), "--elevation", "6500 ft"]


def start(*command: str) -> None:
    """Run a command and throw away what it prints."""
    subprocess.run(command, check=True, capture_output=True)


def unmet(texts: list[str]) -> dict[str, float]:
    """Seconds for each work over texts of which neither has met any; a third of them is met before, to warm up."""
    works = {"a whole rewrite": lambda text: rewriter.rewrite(text, "8,200 ft"), BLANK: spacy.blank("en")}
    known, new = texts[: len(texts) // 3], texts[len(texts) // 3 :]
    for work in works.values():
        for text in known:
            work(text)
    return {name: seconds(lambda work=work: [work(text) for text in new]) / len(new) for name, work in works.items()}


def fresh() -> None:
    """Print the table of texts met for the first time: the median of three processes of their own."""
    rounds_ = [json.loads(subprocess.run(UNMET, check=True, capture_output=True).stdout) for _ in range(3)]
    found = {name: statistics.median(one[name] for one in rounds_) for name in rounds_[0]}
    whole = found["a whole rewrite"]
    print("\n| texts met for the first time | ms a recipe | a whole rewrite takes |\n|---|---|---|")
    for name, taken in found.items():
        print(f"| {name} | {1000 * taken:.2f} | {whole / taken:.2f} times as long |")


def main() -> None:
    """Print the tables."""
    if "--unmet" in sys.argv:
        print(json.dumps(unmet(recipes())))
        return
    texts = recipes()
    lines = [line for text in texts for line in ingredient_lines(text)]
    blank, parse = spacy.blank("en"), rewriter.second_reader()
    whole = "a whole rewrite"
    works = {
        whole: lambda: [rewriter.rewrite(text, "8,200 ft") for text in texts],
        "reading alone": lambda: [rewriter.read(text) for text in texts],
        BLANK: lambda: [blank(text) for text in texts],
        "ingredient-parser-nlp, ingredient lines alone": lambda: [parse(line) for line in lines],
    }
    for work in works.values():
        work()  # loaded and warm
    found = rounds(works, 3)
    letters = sum(map(len, texts)) / len(texts)
    print(f"{len(texts)} recipes of {letters:.0f} characters, {len(lines)} ingredient lines\n")
    print("| texts met again | ms a recipe | a whole rewrite takes |\n|---|---|---|")
    for name, taken in found.items():
        print(f"| {name} | {1000 * taken / len(texts):.2f} | {found[whole] / taken:.2f} times as long |")
    fresh()
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
