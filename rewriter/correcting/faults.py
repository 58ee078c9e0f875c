"""Faults of a bake, from ``faults.toml``: their words, their cause at altitude, and the steps against them.

>>> fault("it sank in the middle").name
'sank'
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

from rewriter.errors import Unusable

TABLE = Path(__file__).parent / "faults.toml"
NO_SOURCE = "common practice, no source"


class NoSuchFault(Unusable):
    """Words that name no fault of a bake."""


@dataclass(frozen=True, slots=True)
class Remedy:
    """One row of a fault: what to change, by how much, for which kinds and from which elevation, and the words."""

    change: str
    size: Fraction
    kinds: frozenset[str]
    from_ft: int
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: its name, the words people use for it, its cause at altitude, and its remedies in order."""

    name: str
    words: tuple[str, ...]
    cause: str
    remedies: tuple[Remedy, ...]


@lru_cache(maxsize=1)
def faults() -> tuple[Fault, ...]:
    """Every fault of the table."""
    return tuple(_fault(row) for row in tomllib.loads(TABLE.read_text(encoding="utf-8"))["fault"])


def fault(said: str) -> Fault:
    """The fault that a person's words tell; of several the one named first. Raises NoSuchFault with those there are.

    >>> fault("pale and hard").name
    'pale'
    """
    spoken = said.casefold()
    hits = [(found.start(), one) for one in faults() for word in one.words if (found := _whole(word).search(spoken))]
    if not hits:
        names = ", ".join(one.name for one in faults())
        raise NoSuchFault(f'"{said[:60]}" names no fault of a bake', f"say one of {names}")
    return min(hits, key=lambda hit: hit[0])[1]


@lru_cache(maxsize=256)
def _whole(word: str) -> re.Pattern[str]:
    return re.compile(rf"\b{re.escape(word)}\b")


def _fault(row: dict[str, Any]) -> Fault:
    steps = tuple(
        Remedy(
            step["change"],
            Fraction(step.get("size", 0)),
            frozenset(step.get("kinds", ())),
            step.get("from_ft", 0),
            step["text"],
            step.get("source", row.get("source", NO_SOURCE)),
        )
        for step in row["steps"]
    )
    return Fault(row["name"], tuple(row["words"]), row["cause"], steps)
