"""What a card leaves unsaid: no oven heat, no pan, no yield, an ingredient in one place and not in the other."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from rewriter import pantry
from rewriter.model import Ingredient, Recipe

MOST = 3
_WORD = re.compile(r"[a-z]{3,}")
_TAIL = re.compile(r"(?:ies|es|s)$")


def gaps(text: str, recipe: Recipe) -> list[str]:
    """What is missing in a card, a phrase each, in the order a cook would ask.

    >>> gaps("", Recipe("", "uncooked"))
    ['no ingredients', 'no yield']
    """
    low = text.lower()
    found = [] if recipe.ingredients else ["no ingredients"]
    if recipe.kind in _table()["bakes"]:
        if not any(heat.place == "oven" for heat in recipe.heats):
            found.append("no oven heat")
        if not any(time.of == "bake" for time in recipe.times):
            found.append("no baking time")
        if not _says(low, "pan"):
            found.append("no pan")
    if not _says(low, "yield"):
        found.append("no yield")
    return [*found, *_crossed(low, recipe)]


def _crossed(low: str, recipe: Recipe) -> Iterator[str]:
    """What the method has and the list lacks, and the other way round; only where there is a list and a method."""
    listed = [one for one in recipe.ingredients if one.listed]
    method = " ".join(low[start:end] for start, end in recipe.method)
    if len(listed) < 2 or len(listed) < len(recipe.ingredients) / 2:
        return
    if len(method) < 40:
        yield "no method"
        return
    names = " ".join(one.name.lower() for one in recipe.ingredients)
    for word in _unlisted(method, names, recipe):
        yield f"the method has {word}, the list has not"
    if not _says(method, "all"):
        silent = [one.name for one in listed if one.amounts and one.key and not _mentioned(one, method)]
        if len(silent) <= MOST:  # more of them, and it is the method that is not understood
            yield from (f"the list has {name}, the method has not" for name in dict.fromkeys(silent))


def _unlisted(method: str, names: str, recipe: Recipe) -> Iterator[str]:
    """Ingredients that the method adds by name and no line of the list holds."""
    keys = {one.key for one in recipe.ingredients}
    known = {_stem(word) for word in _WORD.findall(names)}
    seen: set[str] = set()
    for match in _added().finditer(method):
        name = match[1]
        row = pantry.find(name)
        words = {_stem(word) for word in _WORD.findall(name)}
        if row is None or row.key in keys or row.key in seen or words & known or words & _never():
            continue
        seen.add(row.key)
        yield name


def _mentioned(one: Ingredient, method: str) -> bool:
    """Whether the method speaks of an ingredient, by any word of its name or of the pantry's names for it."""
    words = {_stem(word) for word in _WORD.findall(one.name.lower())}
    row = pantry.entries().get(one.key or "")
    if row is not None:
        words |= {_stem(word) for name in row.names for word in _WORD.findall(name)}
    told = {_stem(word) for word in _WORD.findall(method)}
    inside = any(word.endswith(other) for word in words for other in told if len(other) > 2)  # walnut, nut
    return inside or not words or (one.role in ("leavener", "salt", "other") and "dry" in told)


def _stem(word: str) -> str:
    """A word without its plural.

    >>> _stem("berries"), _stem("eggs"), _stem("molasses")
    ('berr', 'egg', 'molass')
    """
    return _TAIL.sub("", word) if not word.endswith("ss") else word


def _says(low: str, what: str) -> bool:
    return bool(_pattern(what).search(low))


@cache
def _pattern(what: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, _table()[what]))})\b")


@cache
def _never() -> frozenset[str]:
    return frozenset(_stem(word) for phrase in _table()["never"] for word in phrase.split())


@cache
def _added() -> re.Pattern[str]:
    """The longest name of the pantry behind a word that adds: "stir in the raisins"."""
    names = sorted({phrase for phrase, _ in pantry.phrases() if len(phrase) > 3}, key=len, reverse=True)
    verbs = "add|stir in|beat in|fold in|mix in|sprinkle with|sift"
    return re.compile(rf"\b(?:{verbs})\s+(?:in\s+)?(?:the\s+)?({'|'.join(map(re.escape, names))})\b")


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("rewriter.collection").joinpath("gaps.toml").read_text(encoding="utf-8"))
