"""What scanning did to words, and what old cards call things: the words beside, or in place of, those on the card."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files

from rewriter import pantry
from rewriter.collection.manner import number
from rewriter.model import Heat, Recipe

# What scanning takes for what: the wrong signs, the right ones.
_CONFUSED = (
    ("1", "l"), ("0", "o"), ("5", "s"), ("I", "l"), ("|", "l"), ("rn", "m"), ("m", "rn"), ("vv", "w"), ("c", "e"),
    ("e", "c"), ("h", "b"), ("b", "h"), ("li", "h"), ("cl", "d"), ("ii", "u"), ("u", "ii"), ("f", "t"), ("t", "f"),
    ("l", "i"), ("i", "l"),
)  # fmt: skip
_MIXED = re.compile(r"\b(?=[A-Za-z]*[a-z])(?:[A-Za-z]+[015|]+[a-z]+|[a-z]+I[a-z]+)\b")
_SPLIT = re.compile(r"\b([A-Za-z]{2,})-[ \t]*\r?\n[ \t]*([a-z]{2,})\b")
_DEGREES = re.compile(r"(?<![\w.])(?P<figure>[1-5][\dOolIS]{2})\s*[0oO°º\"'*]?\s*(?P<scale>[FC])\b")
_FIGURES = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1", "S": "5"})
_HEATS = {"F": range(200, 551, 5), "C": range(100, 291, 5)}  # what an oven's dial has
_CLEAN = re.compile(r"\d{3}\s?(?:°|º)?\s?[FC]")
HOUSEHOLD = frozenset(
    "gill teacup coffeecup breakfastcup tumbler wineglass dessertspoon saltspoon egg-size walnut-size hickory-nut-size "
    "hazelnut-size knob jigger peck kitchenspoon".split()
)


@dataclass(frozen=True, slots=True)
class Mend:
    """A small change of a card's text: text[start:end] becomes new. why: units, fraction, scanning, old word, oven."""

    start: int
    end: int
    new: str
    why: str


def scanning(text: str, recipe: Recipe) -> Iterator[Mend]:
    """Words that scanning garbled or split, where only one known word can be meant."""
    spans = [(one.name_start, one.name_end) for one in recipe.ingredients if one.name_start >= 0]
    for match in _SPLIT.finditer(text):
        if (match[1] + match[2]).lower() in vocabulary():
            yield Mend(match.start(), match.end(), match[1] + match[2], "scanning")
    for match in re.finditer(r"[A-Za-z015|]{4,}", text):
        inside = any(start <= match.start() and match.end() <= end for start, end in spans)
        if inside or _MIXED.fullmatch(match[0]):
            meant = unscanned(match[0])
            if meant:
                yield Mend(match.start(), match.end(), meant, "scanning")
    for match in _DEGREES.finditer(text):
        figure = match["figure"].translate(_FIGURES)
        if not _CLEAN.fullmatch(match[0]) and figure.isdigit() and int(figure) in _HEATS[match["scale"]]:
            yield Mend(match.start(), match.end(), f"{figure} {match['scale']}", "scanning")


def unscanned(word: str) -> str | None:
    """The one known word that scanning may have garbled into this one, else None; its capitals are kept.

    >>> unscanned("f1our"), unscanned("Sa1t"), unscanned("flour"), unscanned("buttcr")
    ('flour', 'Salt', None, 'butter')
    """
    if word.lower() in vocabulary():
        return None
    found = {word.replace(wrong, right) for wrong, right in _CONFUSED if wrong in word}
    for wrong, right in _CONFUSED:
        found |= {word[: match.start()] + right + word[match.end() :] for match in re.finditer(re.escape(wrong), word)}
    known = {one.lower() for one in found if one.lower() in vocabulary()}
    if len(known) != 1:
        return None
    meant = known.pop()
    return meant.capitalize() if word[0].isupper() and not word.isupper() else meant


def explained(text: str, recipe: Recipe) -> Iterator[Mend]:
    """Today's words beside old ones: ingredients, measures, ovens. The old words stay."""
    yield from _old_names(text, recipe)
    for one in recipe.ingredients:
        for amount in one.amounts:
            told = amount.quantity is not None and _household(amount.unit, amount.quantity)
            if told and not _beside(text, amount.end):
                yield Mend(amount.end, amount.end, f" [{told}]", "old measure")
    for heat in recipe.heats:
        told = _oven(heat)
        if told and not _beside(text, heat.end):
            yield Mend(heat.end, heat.end, f" [{told}]", "oven")


def _old_names(text: str, recipe: Recipe) -> Iterator[Mend]:
    """Where they name an ingredient, each word once."""
    seen: set[str] = set()
    for match in _old_pattern().finditer(text, recipe.start, recipe.end or len(text)):
        old = " ".join(match[1].lower().split())
        named = any(one.start <= match.start() and match.end() <= one.end for one in recipe.ingredients)
        if not named or old in seen:
            continue
        seen.add(old)
        if not _beside(text, match.end()):
            yield Mend(match.end(), match.end(), f" [{old_words()[old]}]", "old word")


def _household(unit: str, quantity: Fraction) -> str:
    """What a household measure holds in today's: "about" where old tables differ."""
    row = pantry.measure(unit)
    if row is None or row.key not in HOUSEHOLD:
        return ""
    value, base = quantity * row.quantity, row.base
    if base == "cup" and value < Fraction(1, 4):
        value, base = value * 16, "tbsp"
    shown = number(value, "typed")
    if shown is None:
        return ""
    word = {"tbsp": "Tbsp", "cup": "cups" if value > 1 else "cup"}.get(base, base)
    return f"{'about ' if row.check else ''}{shown} {word}"


def _oven(heat: Heat) -> str:
    if heat.place != "oven" or heat.scale != "word" or any(twin.scale != "word" for twin in heat.twins):
        return ""
    words = re.sub(r"^(?:an?|the)\s+", "", heat.text.lower())
    row = pantry.oven_word(words)
    if row is None:
        return ""
    return f"about {row.fahrenheit} F; old books: {row.low} to {row.high} F" if row.check else f"{row.fahrenheit} F"


def _beside(text: str, at: int) -> bool:
    """Whether an explanation stands there already."""
    return bool(re.match(r"\s*[\[(]", text[at : at + 4]))


@cache
def old_words() -> dict[str, str]:
    """What old cards call things -> what they are called today."""
    text = files("rewriter.collection").joinpath("old_words.toml").read_text(encoding="utf-8")
    rows: dict[str, str] = tomllib.loads(text)["words"]
    return rows


@cache
def _old_pattern() -> re.Pattern[str]:
    longest = sorted(old_words(), key=len, reverse=True)
    return re.compile(rf"\b({'|'.join(re.escape(word).replace(chr(92) + ' ', r'[ -]') for word in longest)})\b", re.I)


@cache
def vocabulary() -> frozenset[str]:
    """Every word of every name in the pantry."""
    return frozenset(word for phrase, _ in pantry.phrases() for word in re.findall(r"[a-z]{3,}", phrase.lower()))
