"""What the benchmarks read: the recipes of the corpus, their ingredient lines, and figures to print."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from itertools import cycle, islice
from pathlib import Path

import rewriter

CORPUS = Path(__file__).parents[2] / "corpus" / "recipes"


def recipes(count: int | None = None) -> list[str]:
    """The texts of the corpus, by name; ``count`` of them, over and over again, where it is given."""
    texts = [path.read_text(encoding="utf-8") for path in sorted(CORPUS.glob("*/*.txt"))]
    if not texts:
        raise SystemExit(f"no recipes in {CORPUS}")
    return texts if count is None else list(islice(cycle(texts), count))


def ingredient_lines(text: str) -> list[str]:
    """The lines of a text that list an ingredient, as they stand."""
    found: dict[int, str] = {}
    for recipe in rewriter.read(text):
        for one in recipe.ingredients:
            if one.listed:
                start = text.rfind("\n", 0, one.start) + 1
                found[start] = text[start : (text.find("\n", start) + 1 or len(text) + 1) - 1].strip()
    return [line for line in found.values() if line]


def seconds(work: Callable[[], object]) -> float:
    """How long a piece of work takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def rounds(works: dict[str, Callable[[], object]], count: int = 3) -> dict[str, float]:
    """The median time of each of several works, taken in turns, so that what slows the machine slows all alike."""
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(count):
        for name, work in works.items():
            times[name].append(seconds(work))
    return {name: statistics.median(found) for name, found in times.items()}
