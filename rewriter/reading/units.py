"""The spellings of units, compiled once from ``patterns/units.toml``.

>>> canonical("Tablespoons"), canonical("T"), canonical("t."), canonical("fl. oz.")
('tbsp', 'tbsp', 'tsp', 'floz')
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache
from importlib import resources
from typing import Any


def table(name: str) -> dict[str, Any]:
    """One pattern file of this room, by its stem."""
    path = resources.files("rewriter.reading") / "patterns" / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def words_pattern(words: Iterable[str]) -> str:
    """One alternation over the words, longest first; blanks match any run of blanks.

    >>> words_pattern(["tea cup", "tea"])
    'tea\\\\s+cup|tea'
    """
    ordered = sorted(set(words), key=len, reverse=True)
    return "|".join(r"\s+".join(re.escape(part) for part in word.split()) for word in ordered)


_TABLE = table("units")
_SPELLINGS: dict[str, str] = {spelling: unit for unit, spellings in _TABLE["unit"].items() for spelling in spellings}
_UNIT_WORDS = words_pattern(word for word in _SPELLINGS if word != "#")
UNIT = rf"(?:(?:{_UNIT_WORDS})(?![a-zA-Zé’'])|#|(?:{words_pattern(_TABLE['run_together']['words'])})(?=[a-z]{{3}})(?!cakes?|ful|board))"
HEDGE = words_pattern(_TABLE["hedge"]["words"])
CONTAINER = words_pattern(_TABLE["container"]["words"])
NEVER = "|".join(_TABLE["never"]["words"])
APPROXIMATE = frozenset(_TABLE["hedge"]["approximate"])
CONTAINERS = frozenset(_SPELLINGS[word] for word in _TABLE["container"]["words"] if word in _SPELLINGS)

MASS = {"g": Fraction(1), "kg": Fraction(1000), "oz": Fraction(45359237, 1600000), "lb": Fraction(45359237, 100000)}
_CUP = Fraction("236.5882365")
VOLUME = {
    "ml": Fraction(1), "cl": Fraction(10), "dl": Fraction(100), "l": Fraction(1000), "tsp": _CUP / 48, "tbsp": _CUP / 16,
    "floz": _CUP / 8, "cup": _CUP, "gill": _CUP / 2, "pint": _CUP * 2, "quart": _CUP * 4, "gal": _CUP * 16,
    "teacup": _CUP * 3 / 4, "coffee cup": _CUP, "wineglass": _CUP / 4, "saltspoon": _CUP / 192,
    "dessertspoon": _CUP / 24, "tumbler": _CUP,
}  # fmt: skip


def dimension(unit: str) -> str:
    """"mass", "volume" or "count": what a canonical unit measures.

    >>> dimension("oz"), dimension("cup"), dimension("clove")
    ('mass', 'volume', 'count')
    """
    return "mass" if unit in MASS else "volume" if unit in VOLUME else "count"


@lru_cache(maxsize=1024)
def canonical(raw: str) -> str:
    """Canonical name of a unit as written; T is a tablespoon and t a teaspoon."""
    bare = raw.strip().rstrip(".")
    if bare in ("T", "Tb"):
        return "tbsp"
    if bare == "t":
        return "tsp"
    key = re.sub(r"\s+", " ", bare.lower())
    return _SPELLINGS.get(key) or _SPELLINGS.get(key.replace(".", "")) or _SPELLINGS.get(key.rstrip("s"), key)
