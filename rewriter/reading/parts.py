"""Which part each ingredient goes into: batter, frosting, filling, topping, dusting, serving, worked out from headings and method.

A heading over a group in the list decides; without one the method does: what is first named after the bake, or under "for the
glaze", is no batter, whatever the list says.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rewriter.model import Ingredient
from rewriter.reading.layout import Line
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.names import Name
from rewriter.reading.units import table

_WORDS: dict[str, frozenset[str]] = {part: frozenset(words) for part, words in table("layout")["part_word"].items()}
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")
_RAISING = frozenset(("leavener", "yeast", "self-rising"))
_COLLECTIVE = re.compile(
    r"\b(?:all\s+(?:of\s+)?(?:the\s+|your\s+)?(?:dry\s+|wet\s+)?ingredients|dry\s+(?:ingredients|mix)|wet\s+ingredients|remaining\s+ingredients)\b",
    re.IGNORECASE,
)
_FINISHING = frozenset(("frosting", "filling", "topping", "dusting", "serving"))


@dataclass(slots=True)
class Group:
    """A group of the ingredient list: its heading (or ""), its lines and the part it is."""

    heading: str
    start: int
    end: int
    members: list[int]
    part: str = "batter"
    told: bool = False
    """told: the heading (not only the place) says the part."""


def heading_part(heading: str) -> str | None:
    """The part a heading's words tell: the last telling word wins; None where it tells none.

    >>> heading_part("For the cream cheese frosting:"), heading_part("Sour Cream Cake"), heading_part("Streusel Topping")
    ('frosting', 'batter', 'topping')
    """
    words = _WORD.findall(re.sub(r"\(.*?\)", "", heading.lower()))
    if any(word in ("frosting", "icing", "glaze", "buttercream", "ganache", "streusel") for word in words) and not any(
        w in ("cake", "cakes") for w in words[-1:]
    ):
        return "topping" if "streusel" in words else "frosting"
    for word in reversed(words):
        for part in ("frosting", "filling", "topping", "dusting", "serving", "batter", "other"):
            if word in _WORDS[part]:
                if (
                    word in ("filling", "garnish", "garnishes", "coating", "cream", "butter", "base")
                    and part == "batter"
                ):
                    continue
                return part
    return None


def group_parts(groups: Sequence[Group], ingredients: Sequence[Ingredient]) -> None:
    """Give each headed group its part, from its heading and from what stands in it."""
    for group in groups:
        roles = {ingredients[i].role for i in group.members}
        part = heading_part(group.heading) if group.heading else None
        flour = sum(ingredients[i].grams or 0 for i in group.members if ingredients[i].role in ("flour", "self-rising"))
        if (
            part in (None, "other", "topping", "serving", "filling")
            and "flour" in roles | {"flour" for r in roles if r == "self-rising"}
            and roles & _RAISING
            and flour >= 60
        ):
            if part != "filling":
                part = "batter"
        group.told = part not in (None, "other")
        group.part = (
            part if part not in (None, "other") else ("batter" if not group.heading or part is None else "serving")
        )
        if group.heading and part is None and not roles & (_RAISING | {"flour"}):
            group.told = False


def _mentions(
    ingredients: Sequence[Ingredient], clauses: Sequence[Clause], names: Sequence[Name], text: str
) -> dict[int, list[tuple[int, str]]]:
    """For each ingredient, where the method names it and the part it says there."""
    found: dict[int, list[tuple[int, str]]] = defaultdict(list)
    listed = [(i, ingredient.name, ingredient.key) for i, ingredient in enumerate(ingredients)]
    at = 0
    for clause in clauses:
        while at < len(names) and names[at].start < clause.start:
            at += 1
        k = at
        while k < len(names) and names[k].end <= clause.end:
            name = names[k]
            k += 1
            exact = [i for i, _, key in listed if key == name.key]
            hits = exact or [i for i, listed_name, key in listed if fits(name.text, listed_name)]
            for i in hits:
                found[i].append((name.start, clause.part_at(name.start)))
        for match in _COLLECTIVE.finditer(text, clause.start, clause.end):
            for i, ingredient in enumerate(ingredients):
                if ingredient.role in ("flour", "leavener", "salt", "starch", "cocoa"):
                    found[i].append((match.start(), clause.part))
    return found


def assign(
    ingredients: list[Ingredient], groups: Sequence[Group], clauses: Sequence[Clause], names: Sequence[Name], text: str
) -> list[Ingredient]:
    """The ingredients with their parts. Groups whose heading tells the part keep it; the rest is read from the method."""
    group_parts(groups, ingredients)
    mentions = _mentions(ingredients, clauses, names, text)
    out = list(ingredients)
    for number, group in enumerate(groups):
        if group.told:
            for i in group.members:
                out[i] = _placed(out[i], group.part, number)
            continue
        if not group.heading and number > 0 and groups[0].told and len(groups) == 1:
            continue
        members = group.members
        parts = _by_method(members, ingredients, mentions)
        roles = {ingredients[i].role for i in members}
        if (
            group.heading
            and not roles & (_RAISING | {"flour", "egg"})
            and any(g.told and g.part == "batter" for g in groups)
        ):
            group.part = next((p for p, _ in parts.values() if p in _FINISHING), "filling")
            parts = {i: (group.part, True) for i in members}
        if group.heading and parts:
            _settle(group, members, ingredients, parts)
        for i in members:
            part, sure = parts.get(i, (group.part, True))
            out[i] = _placed(out[i], part, number, sure)
    return out


def _settle(
    group: Group, members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> None:
    """A group under a heading that tells no part is one thing: give it the part most of its members have."""
    roles = {ingredients[i].role for i in members}
    if roles & _RAISING or "flour" in roles:
        return
    votes = [part for part, _ in parts.values()]
    if votes and votes.count("batter") * 2 < len(votes):
        best = max(set(votes), key=votes.count)
        group.part = best
        parts.update({i: (best, True) for i in members})


def _placed(ingredient: Ingredient, part: str, group: int, sure: bool = True) -> Ingredient:
    own = next((flag[4:] for flag in ingredient.flags if flag.startswith("for-")), "")
    if own:
        part = {"frying": "dusting", "water": "serving"}.get(own, own)
    return replace(ingredient, part=part, group=group, sure=ingredient.sure and sure)


def _by_method(
    members: Sequence[int], ingredients: Sequence[Ingredient], mentions: dict[int, list[tuple[int, str]]]
) -> dict[int, tuple[str, bool]]:
    same: dict[str, list[int]] = defaultdict(list)
    for i in members:
        same[ingredients[i].key or ingredients[i].name.lower()].append(i)
    parts: dict[int, tuple[str, bool]] = {}
    for twins in same.values():
        heard = sorted({place for i in twins for place in mentions.get(i, [])})
        runs: list[str] = []
        for _, part in heard:
            if part not in runs:
                runs.append(part)
        if not runs:
            continue
        if len(twins) > 1 and len(runs) > 1:
            parts.update(_shared_out(twins, ingredients, runs))
        else:
            part = "batter" if "batter" in runs else runs[0]
            for i in twins:
                if ingredients[i].role in _RAISING and part != "batter":
                    part = "batter"
                parts[i] = (part, True)
    return _smoothed(members, ingredients, parts)


def _shared_out(
    twins: Sequence[int], ingredients: Sequence[Ingredient], runs: list[str]
) -> dict[int, tuple[str, bool]]:
    """The same ingredient listed twice and named in two parts: in the order of the list."""
    if "batter" in runs and runs[0] != "batter" and runs[0] in ("dusting", "topping"):
        runs = ["batter", *[run for run in runs if run != "batter"]]
    return {i: (runs[min(k, len(runs) - 1)], True) for k, i in enumerate(twins)}


def _smoothed(
    members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> dict[int, tuple[str, bool]]:
    """Lines the method never names take the part of the line before them; a twin between two frosting lines is frosting too."""
    last_batter = max(
        (k for k, i in enumerate(members) if ingredients[i].role in _RAISING or ingredients[i].role == "flour"),
        default=-1,
    )
    previous = "batter"
    for k, i in enumerate(members):
        if i in parts:
            previous = parts[i][0] if parts[i][0] in ("batter", "frosting", "filling") else previous
        elif k > last_batter and previous != "batter":
            parts[i] = (previous, False)
        else:
            parts[i] = ("batter", True)
    return parts


def group_of(lines: Sequence[Line], first: int, last: int, heading: Line | None) -> Group:
    """A group from its lines in the layout."""
    start = heading.start if heading else lines[first].start
    return Group(heading.text if heading else "", start, lines[last - 1].end, list(range(first, last)))
