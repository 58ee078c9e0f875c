"""Facts the words tell about a whole recipe: its pans, its manner of mixing, its dangers, its altitude.

>>> [(f.kind, f.text) for f in find_facts("Cream the butter and sugar. Pour the batter into a loaf pan.")]
[('creamed', 'Cream the butter'), ('pourable', 'Pour the batter'), ('loaf-pan', 'loaf pan')]
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from functools import lru_cache

from rewriter.model import Fact, Time
from rewriter.reading import altitude, jars
from rewriter.reading.clauses import clause, led, patterns, plain, windows
from rewriter.reading.not_amounts import not_amount_spans
from rewriter.reading.signs import Signs
from rewriter.reading.times import find_times

__all__ = ["find_facts", "not_amount_spans"]

_RAW = {name: row for name, row in patterns("facts")["raw"].items() if isinstance(row, str)}
_RAW_SAID, _RAW_DISH, _RAW_EGG, _COOKED = (re.compile(_RAW[name]) for name in ("said", "dish", "egg", "cooked"))
_MADE_SAFE = re.compile(_RAW["safe"])
_DISHES: list[str] = patterns("facts")["raw"]["dishes"]
_RAW_WORDS = ("raw", "uncook", "unpast", "not cook")
_HEAT_WORDS = ("oven", "bake", "baking", "cook", "boil")
_MICROWAVES = ("microwave", "mug ")
_WHITES_NEAR: list[str] = patterns("facts")["whites"]["near"]
_RISE_NEAR: list[str] = patterns("facts")["rise"]["near"]
_WHITES = re.compile(patterns("facts")["whites"]["pattern"])
_MICROWAVE, _MICROWAVED, _MICROWAVE_NOT = (
    re.compile(patterns("facts")["microwave"][k]) for k in ("pattern", "done", "unless")
)
_RISE = re.compile(patterns("facts")["rise"]["words"])
_LONG = 360
"""Minutes from which a rise counts as long."""


@dataclass(frozen=True, slots=True)
class _Rule:
    kind: str
    value: str
    near: frozenset[str]
    stems: frozenset[str]
    patterns: tuple[re.Pattern[str], ...]
    unless: re.Pattern[str] | None


def _near_stems(near: list[str]) -> frozenset[str]:
    """The starts of the words to look for, as signs; none where one of them does not start with three letters."""
    stems = {word[:3] for word in near}
    return frozenset("^" + stem for stem in stems if all(stem.isalpha() and len(stem) == 3 for stem in stems))


@lru_cache(maxsize=1)
def _rules() -> tuple[_Rule, ...]:
    return tuple(
        _Rule(
            row["kind"],
            row.get("value", ""),
            frozenset(row["near"]),
            _near_stems(row["near"]),
            tuple(
                re.compile(led(p)) for p in ([row["pattern"]] if isinstance(row["pattern"], str) else row["pattern"])
            ),
            re.compile(row["unless"]) if "unless" in row else None,
        )
        for row in patterns("facts")["fact"]
    )


@lru_cache(maxsize=1)
def _signs() -> Signs:
    """Every word that must stand in a text before its patterns are tried."""
    words = [*_DISHES, *_RAW_WORDS, *_HEAT_WORDS, *_MICROWAVES, *_WHITES_NEAR, *_RISE_NEAR, *jars.NEAR, *altitude.NEAR]
    return Signs([*words, "egg", "white", *(word for rule in _rules() for word in rule.near | rule.stems)])


def _told(text: str, low: str, held: AbstractSet[str]) -> Iterable[Fact]:
    """What the rules tell, each fact once. held: the signs of the text."""
    for rule in _rules():
        if rule.stems and rule.stems.isdisjoint(held):
            continue
        if (near := rule.near & held) and (fact := _first(text, low, rule, near)):
            yield fact


def _first(text: str, low: str, rule: _Rule, words: Iterable[str]) -> Fact | None:
    """The first place near one of the words that tells the fact and whose clause does not undo it."""
    near = windows(low, words, 75, 130)
    for pattern in rule.patterns if near else ():
        for start, end in near:
            for match in pattern.finditer(low, start, end):
                if rule.unless:
                    left, right = clause(text, match.start(), match.end(), ahead=60)
                    if rule.unless.search(low, left, right):
                        continue
                return Fact(rule.kind, match.start(), match.end(), text[match.start() : match.end()], rule.value)
    return None


def _fact(kind: str, text: str, match: re.Match[str], value: str = "") -> Fact:
    return Fact(kind, match.start(), match.end(), text[match.start() : match.end()], value)


def _raw_egg(text: str, low: str, held: AbstractSet[str]) -> Fact | None:
    """Eggs said to be raw, in a dish that leaves them raw, or in a text that has no heat in it at all."""
    if not held.isdisjoint(_RAW_WORDS) and any(word in low for word in _RAW_WORDS) and (said := _RAW_SAID.search(low)):
        return _fact("raw-egg", text, said)
    dish = not held.isdisjoint(_DISHES) and any(word in low for word in _DISHES)
    if not dish and not held.isdisjoint(_HEAT_WORDS):
        return None
    egg = _RAW_EGG.search(low)
    if not egg:
        return None
    if dish and (named := _RAW_DISH.search(low)) and not _MADE_SAFE.search(low):
        return _fact("raw-egg", text, named)
    return None if _COOKED.search(low) else _fact("raw-egg", text, egg)


def _whipped_whites(text: str, low: str) -> Fact | None:
    near_words = windows(low, _WHITES_NEAR, 40, 90)
    for match in (m for start, end in near_words for m in _WHITES.finditer(low, start, end)):
        near = low[max(0, match.start() - 160) : match.end() + 30]
        white, cream = (
            near.rfind("white"),
            max(near.rfind("heavy cream"), near.rfind("whipping cream"), near.rfind("whip the cream")),
        )
        if white > cream:
            return _fact("whipped-whites", text, match)
    return None


def _microwaved(text: str, low: str) -> Fact | None:
    near = windows(low, _MICROWAVES, 2, 150)
    for match in (m for start, end in near for m in _MICROWAVE.finditer(low, start, end)):
        left, right = clause(text, match.start(), match.end(), ahead=40)
        if match[0].startswith(("mug", "microwave cake")) or (
            _MICROWAVED.search(low, left, right) and not _MICROWAVE_NOT.search(low, left, right)
        ):
            at = low.find("microwave", match.start())
            end = at + 9 if 0 <= at < match.end() else match.end()
            return Fact("machine", match.start(), end, text[match.start() : end], "microwave")
    return None


def _long_rise(text: str, low: str, times: Sequence[Time] | None) -> Fact | None:
    if "hour" not in low and "overnight" not in low and " hr" not in low:
        return None
    for time in find_times(text) if times is None else times:
        if time.minutes >= _LONG and time.of in ("rise", "proof", "rest", "chill", "other"):
            left, right = clause(text, time.start, time.end)
            if time.minutes <= 7200 and _RISE.search(low, left, right):
                return Fact("long-rise", time.start, time.end, time.text)
    return None


def find_facts(text: str, start: int = 0, end: int | None = None, times: Sequence[Time] | None = None) -> list[Fact]:
    """The facts ``text[start:end]`` tells, each kind (and value) once at its first place, altitude notes each.

    Kinds: canning, sealed-jar-cake, altitude-version (value: the elevation as written, "" where none is),
    altitude-note (its span is the advice), machine (value: which), pans, doughs and dangers as in
    :class:`rewriter.model.Fact`. times: those already found in ``text[start:end]``. Never raises.
    """
    piece = text[start:end]
    low = plain(piece)
    if times and start:
        times = [replace(time, start=time.start - start, end=time.end - start) for time in times]
    held = _signs().of(low)
    found = [*_told(piece, low, held)]
    if not held.isdisjoint(jars.NEAR):
        found += jars.find(piece, low)
    if not held.isdisjoint(altitude.NEAR):
        found += altitude.find(piece, low)
    if "egg" in held and (fact := _raw_egg(piece, low, held)):
        found.append(fact)
    if "white" in held and not held.isdisjoint(_WHITES_NEAR) and (fact := _whipped_whites(piece, low)):
        found.append(fact)
    if not held.isdisjoint(_MICROWAVES) and (fact := _microwaved(piece, low)):
        found.append(fact)
    if not held.isdisjoint(_RISE_NEAR) and (fact := _long_rise(piece, low, times)):
        found.append(fact)
    found.sort(key=lambda fact: fact.start)
    return [replace(fact, start=fact.start + start, end=fact.end + start) for fact in found] if start else found
