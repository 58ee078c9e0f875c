"""Recipes a second by the pool of the batch, on one core and on two, beside ingredient-parser-nlp alone.

    python -m tests.bench.throughput [RECIPES]

Both run in the same pool, on the same recipes, in turns: ours rewrites each recipe whole, the other only parses its
ingredient lines. Counted from when all is loaded and at work. The figures are of one machine; the ratios travel.
"""

from __future__ import annotations

import statistics
import sys
import time
from dataclasses import dataclass

from rewriter import api
from rewriter.batch import Row, Settings, crew
from rewriter.batch.job import as_json
from rewriter.batch.work import Annotate, Task
from tests.bench.texts import ingredient_lines, recipes

ROUNDS = 3


@dataclass(frozen=True)
class Parse:
    """The other: ``ingredient_parser.parse_ingredient`` on every line of a row."""

    def warm(self) -> None:
        """Load its model."""
        api.second_reader()("2 cups flour")

    def __call__(self, row: Row) -> bytes:
        """The number of lines."""
        parse = api.second_reader()
        return as_json({"row": row.number, "lines": len([parse(line) for line in row.text.split("\n")])})


def pace(task: Task, texts: list[str], workers: int) -> float:
    """Rows a second, from the second chunk of every worker to the last: when all is loaded and at work."""
    rows = [Row(number, "", text) for number, text in enumerate(texts, 1)]
    answers = crew.lines(rows, task, workers)
    for _ in range(2 * workers * crew.CHUNK_ROWS):
        next(answers)
    start = time.perf_counter()
    return sum(1 for _ in answers) / (time.perf_counter() - start)


def main(count: int) -> None:
    """Print the table."""
    texts = recipes(count)
    lines = ["\n".join(ingredient_lines(text)) or "salt" for text in texts]
    print(f"{count} recipes, {sum(map(len, texts)) / count:.0f} characters and", end=" ")
    print(f"{sum(line.count(chr(10)) + 1 for line in lines) / count:.1f} ingredient lines each\n")
    print("| cores | rewriter, whole recipes a second | ingredient-parser-nlp, their lines alone | ratio |")
    print("|---|---|---|---|")
    ours_by: dict[int, float] = {}
    for workers in (1, 2):
        found = [
            (pace(Annotate(Settings("8,200 ft")), texts, workers), pace(Parse(), lines, workers)) for _ in range(ROUNDS)
        ]
        ours, other = (statistics.median(column) for column in zip(*found, strict=True))
        ours_by[workers] = ours
        print(f"| {workers} | {ours:.1f} | {other:.1f} | {statistics.median(a / b for a, b in found):.2f} |")
    print(f"\nTwo cores do {ours_by[2] / ours_by[1]:.2f} times as many as one.")


if __name__ == "__main__":
    main(max(int(sys.argv[1]) if len(sys.argv) > 1 else 600, 200))
