"""Compare what the program reads and changes with the labelled recipes.

    python -m corpus.score [--split train|test|all] [--show N] [--of LABEL] [--json]

Every label is paired with what was said in its place (the largest overlap first). The rows:

  amount, name, portion, heat, time    found at all: the words overlap
  amount quantity / unit / whole       and the figures (both ends of a range) are exact / the unit / these and the count
  name exact                           and the words are the same
  role, part                           of the ingredient paired by its name
  portion value / of                   and its quantity with unit, or its share / its ingredient
  heat degrees / place / purpose       and within 3 F / where it is / what it is for
  time minutes / purpose               and the figures / what it times
  kind                                 of each recipe in a paste
  move                                 ingredients whose amount goes up or down at 6,500 ft by the practice guide

``wrong``: amounts changed that must stay, or the wrong way. ``stray``: changes where no ingredient, portion or heat is
labelled. ``lossless``: pastes that come back byte for byte. ``ms``: milliseconds a paste. Labels say nothing of storing
and of preparation times at the head of a page (corpus/LABELLING.md), so times read as these are left out.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Sequence

import rewriter
from corpus.compare import One
from corpus.standoff import Gold, load
from corpus.tally import Tally
from rewriter.model import Change, Recipe

ELEVATION = "6500 ft"
SCALARS = ("recipes", "wrong", "stray", "lossless", "crashes", "ms")


def score(pastes: Sequence[Gold]) -> tuple[Tally, dict[str, float]]:
    """The rows, and the figures that are no rows."""
    tally = Tally()
    numbers = dict.fromkeys(SCALARS, 0.0) | {"recipes": float(len(pastes))}
    rewriter.load()
    for paste in pastes:
        begin = time.perf_counter()
        try:
            result = rewriter.rewrite(paste.text, elevation=ELEVATION)
        except Exception as error:  # a crash is counted and named, and has read nothing
            numbers["crashes"] += 1
            tally.wrong("crash", paste.name, f"{type(error).__name__}: {error}")
            recipes, changes, back = list[Recipe](), list[Change](), ""
        else:
            numbers["ms"] += 1000 * (time.perf_counter() - begin)
            recipes, changes, back = result.recipes, result.changes, rewriter.strip(result.text)
        numbers["lossless"] += back == paste.text
        one = One(paste, recipes, tally)
        one.ingredients()
        one.portions()
        one.heats()
        one.times()
        one.kinds()
        wrong, stray = one.moves(changes)
        numbers["wrong"] += wrong
        numbers["stray"] += stray
    for name in ("lossless", "ms"):
        numbers[name] /= max(1, len(pastes))
    return tally, numbers


def table(tally: Tally, numbers: dict[str, float]) -> dict[str, dict[str, float | int]]:
    """Everything, ready for JSON."""
    rows: dict[str, dict[str, float | int]] = {
        label: {
            "precision": round(row.precision, 4), "recall": round(row.recall, 4), "f1": round(row.f1, 4),
            "labelled": row.gold, "read": row.said,
        }
        for label, row in tally.rows.items()
    }  # fmt: skip
    return rows | {"numbers": {name: round(value, 4) for name, value in numbers.items()}}


def main(arguments: Sequence[str] | None = None) -> int:
    """Print the figures. 0 where nothing crashed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--split", choices=["train", "test", "all"], default="train")
    parser.add_argument("--show", type=int, default=0, metavar="N", help="list N mistakes first")
    parser.add_argument("--of", default="", metavar="LABEL", help="only mistakes of this row")
    parser.add_argument("--json", action="store_true")
    options = parser.parse_args(arguments)
    tally, numbers = score(load(options.split))
    shown = [mistake for mistake in tally.mistakes if options.of in ("", mistake[0])][: options.show]
    for label, where, detail in shown:
        sys.stdout.write(f"{label:16} {where:40} {detail}\n")
    if options.json:
        sys.stdout.write(json.dumps(table(tally, numbers)) + "\n")
    else:
        sys.stdout.write(f"{'':16} precision  recall      F1  labelled  read\n")
        for label, row in tally.rows.items():
            line = f"{label:16} {row.precision:9.4f} {row.recall:7.4f} {row.f1:7.4f} {row.gold:9} {row.said:5}\n"
            sys.stdout.write(line)
        for name, value in numbers.items():
            sys.stdout.write(f"{name:16} {value:9.4f}\n" if value % 1 else f"{name:16} {value:9.0f}\n")
    return 1 if numbers["crashes"] else 0


if __name__ == "__main__":
    sys.exit(main())
