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

from rewriter import pantry


def table(name: str) -> dict[str, Any]:
    """One pattern file of this room, by its stem."""
    path = resources.files("rewriter.reading") / "patterns" / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def words_pattern(words: Iterable[str]) -> str:
    r"""One alternation over the words as a tree of their letters, longest first; blanks match any run of blanks.

    A tree is several times faster than a flat alternation, because a letter that fits none fails at once.

    >>> words_pattern(["tea cup", "tea", "cup"])
    '(?:cup|tea(?:\\s+cup)?)'
    """
    tree: dict[str, Any] = {}
    for word in words:
        node = tree
        for letter in " ".join(word.split()):
            node = node.setdefault(letter, {})
        node[""] = {}
    return _branch(tree)


def _branch(node: dict[str, Any]) -> str:
    """The pattern of one branch of the tree: what may follow here."""
    ways = []
    for letter in sorted(key for key in node if key):
        chain, below = letter, node[letter]
        while len(below) == 1 and "" not in below:
            (follower,) = below
            chain, below = chain + follower, below[follower]
        text = "".join(r"\s+" if one == " " else re.escape(one) for one in chain)
        ways.append(text + (_branch(below) if set(below) - {""} else ""))
    if "" not in node:
        return ways[0] if len(ways) == 1 else f"(?:{'|'.join(ways)})"
    return f"(?:{'|'.join(ways)})?"


_TABLE = table("units")
_SPELLINGS: dict[str, str] = {spelling: unit for unit, spellings in _TABLE["unit"].items() for spelling in spellings}
_UNIT_WORDS = words_pattern(word for word in _SPELLINGS if word != "#")
RUN_ON = words_pattern(_TABLE["run_together"]["words"])
UNIT = rf"(?:{_UNIT_WORDS}(?![a-zA-Zé’'])|#(?!\s?\d)|{RUN_ON}(?=[a-z]{{3}})(?!cakes?|ful|board))"
LAST_WORDS = frozenset(spelling.split()[-1].rstrip(".") for spelling in _SPELLINGS)
"""What the spellings of units end with, in small letters."""
HEDGES = tuple(_TABLE["hedge"]["words"])
SYSTEM_OF = {word: system for system, words in _TABLE["system"].items() for word in words}
"""Whose measures a word before a unit means ("metric cup")."""
HEDGE = words_pattern(HEDGES)
_BROKEN = {parts[0] for word in _SPELLINGS if len(parts := re.findall("[a-z0-9]+", word)) > 1}
_BLURRING = {re.findall("[a-z]+", word)[0] for word in HEDGES}
BEFORE_UNIT = frozenset(_BROKEN | _BLURRING)
"""First words of units written in several, and of what blurs an amount ("fluid", "heaping"): the unit is to come."""
FIRST_WORDS = BEFORE_UNIT | frozenset(word for word in _SPELLINGS if word.isalnum())
"""The words with which a unit, or what blurs it, can begin."""
CONTAINER = words_pattern(_TABLE["container"]["words"])
NEVER = "|".join([words_pattern(_TABLE["never"]["words"]), *_TABLE["never"]["patterns"]])
NEVER_WORDS = frozenset(re.findall("[a-z]+", " ".join(_TABLE["never"]["words"] + _TABLE["never"]["patterns"])))
"""The words of what makes a number no amount: "minutes", "in" (of inches)."""
APPROXIMATE = frozenset(_TABLE["hedge"]["approximate"])
CONTAINERS = frozenset(_SPELLINGS[word] for word in _TABLE["container"]["words"] if word in _SPELLINGS)

MASS: dict[str, Fraction] = {unit: pantry.factor(unit) for unit in ("g", "kg", "oz", "lb")}
"""Grams in one of each unit of weight."""
VOLUME: dict[str, Fraction] = {
    unit: pantry.factor(unit)
    for unit in (
        "ml", "cl", "dl", "l", "tsp", "tbsp", "floz", "cup", "gill", "pint", "quart", "gal", "teacup", "coffee cup",
        "wineglass", "saltspoon", "dessertspoon", "tumbler",
    )
}  # fmt: skip
"""Millilitres in one of each unit of volume."""


def dimension(unit: str) -> str:
    """What a canonical unit measures: "mass", "volume" or "count".

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
