"""The writer's table of units, read once from units.toml.

>>> size("tbsp"), dimension("kg"), unit_of("Tablespoons"), unit_of("c.")
(Fraction(3, 1), 'mass', 'tbsp', 'cup')
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from typing import Any


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: its dimension (volume in tsp, mass in g, metric volume in ml), its size there and its spellings."""

    name: str
    dimension: str
    size: Fraction
    words: tuple[str, ...]
    short: tuple[str, ...]


def _load() -> dict[str, Unit]:
    rows: dict[str, dict[str, Any]] = tomllib.loads((files("rewriter.writing") / "units.toml").read_text("utf-8"))
    found = {}
    for name, row in rows.items():
        key = next(key for key in ("tsp", "g", "ml") if key in row)
        dimension = {"tsp": "volume", "g": "mass", "ml": "metric"}[key]
        size_ = Fraction(str(row[key]))
        found[name] = Unit(name, dimension, size_, tuple(row["words"]), tuple(row["short"]))
    return found


UNITS = _load()
#: Full word (lower case, singular and plural) to unit name.
FULL = {word + end: name for name, unit in UNITS.items() for word in unit.words for end in ("", "s")}
#: Abbreviation (lower case, no full stop) to unit name; T and t are told apart by their case.
SHORT = {
    short.lower().rstrip("."): name for name, unit in UNITS.items() for short in unit.short if short not in ("T", "t")
}
FULL["pinches"], FULL["dashes"] = "pinch", "dash"


def size(name: str) -> Fraction:
    """Size of a unit: teaspoons, grams or millilitres, by its dimension."""
    return UNITS[name].size


def dimension(name: str) -> str:
    """volume, mass, metric, or "" for counts and unknown units."""
    unit = UNITS.get(name)
    return unit.dimension if unit else ""


@lru_cache(maxsize=4096)
def unit_of(word: str) -> str:
    """The unit a written word means, or ""."""
    bare = word.rstrip(".")
    if bare in ("T", "t"):
        return "tbsp" if bare == "T" else "tsp"
    low = bare.lower()
    found = FULL.get(low) or SHORT.get(low)
    if found is None and low.endswith("s"):
        found = SHORT.get(low[:-1])
    return found or ""


def is_full(word: str) -> bool:
    """Whether a unit is written out ("tablespoons"), so that it takes a plural."""
    return word.rstrip(".").lower() in FULL


def spelled(word: str, value: Fraction) -> str:
    """The unit word in the singular or plural that goes with ``value``.

    >>> spelled("cup", Fraction(3, 2)), spelled("Tablespoons", Fraction(1, 2)), spelled("Tbsp", Fraction(3))
    ('cups', 'Tablespoon', 'Tbsp')
    """
    return _spelled(word, value.numerator > value.denominator)


@lru_cache(maxsize=2048)
def _spelled(word: str, many: bool) -> str:
    bare, low = word.rstrip("."), word.rstrip(".").lower()
    if low in FULL:
        end = "es" if FULL[low] in ("pinch", "dash") else "s"
        stem = bare[: -len(end)] if low.endswith(end) and low[: -len(end)] in FULL else bare
        return stem + (end.upper() if len(bare) > 1 and bare.isupper() else end) if many else stem
    if low.endswith("s") and low[:-1] in SHORT and low != "tbs" and not many:
        return bare[:-1] + word[len(bare) :]
    return word
