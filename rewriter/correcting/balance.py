"""Balance rules of a formula, from ``balance.toml``: which hold, and with what figures."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

from rewriter.correcting.batch import COCOA_FAT, FLOUR, Batch
from rewriter.correcting.chemistry import flour_g, water_g
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import grams

TABLE = Path(__file__).parent / "balance.toml"
ZERO, ABOUT = Fraction(0), Fraction(1, 4)
SUMS = {
    "sugar": ("sugar", "syrup"),
    "egg": ("egg",),
    "fat": ("fat",),
    "liquid": ("liquid", "thick-liquid"),
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule applied: what it wants, the two weights it compares (g), and whether it holds."""

    text: str
    left: Fraction
    right: Fraction
    holds: bool
    source: str


@lru_cache(maxsize=1)
def rules() -> tuple[dict[str, Any], ...]:
    """The table's rules."""
    return tuple(tomllib.loads(TABLE.read_text(encoding="utf-8"))["rule"])


def check(batch: Batch) -> Iterator[Rule]:
    """Every rule that applies to a batter of this kind and method, unless a weight it needs is nothing."""
    weights = _weights(batch)
    method = "high-ratio" if weights["sugar"] > weights["flour"] else "creaming"
    for rule in rules():
        if batch.kind not in rule["kinds"] or rule["method"] not in ("", method):
            continue
        left = sum((weights[name] for name in rule["left"]), ZERO)
        rights = [weights[name] for part in ("right", "or") for name in rule.get(part, ())]
        if not left or not any(rights):
            continue
        held = [right for right in rights if holds(rule, left, right)]
        yield Rule(rule["text"], left, (held or rights)[0], bool(held), rule["source"])


def holds(rule: Mapping[str, Any], left: Fraction, right: Fraction) -> bool:
    """Whether one comparison of the table holds.

    >>> holds({"relation": "about"}, Fraction(120), Fraction(100))
    True
    """
    relation = rule["relation"]
    if relation == "about":
        return abs(left - right) <= ABOUT * right
    if relation == "share":
        return bool(rule["low"] * right <= 100 * left <= rule["high"] * right)
    return {"at most": left <= right, "at least": left >= right, "above": left > right}[relation]


def _weights(batch: Batch) -> dict[str, Fraction]:
    found = {name: sum((grams(i) or ZERO for i in batch.of(*roles)), ZERO) for name, roles in SUMS.items()}
    cocoa = sum((grams(i) or ZERO for i in batch.of("cocoa") if stuff(i).fat < COCOA_FAT), ZERO)
    found["flour"] = sum((grams(i) or ZERO for i in batch.of(*FLOUR)), cocoa)
    found["bread-flour"] = sum((flour_g(i) for i in batch.members), ZERO)
    found["water"] = sum((water_g(i) for i in batch.members), ZERO)
    return found
