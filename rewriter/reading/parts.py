"""Which part each ingredient goes into: batter, frosting, filling, topping, dusting or serving.

A heading over a group in the list decides; without one the method does: what is first named after the bake, or under
"for the glaze", is no batter, whatever the list says.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from rewriter.model import Ingredient
from rewriter.reading.findings import Findings
from rewriter.reading.groups import RAISING, Group, group_parts, groups_of, heading_part
from rewriter.reading.hearing import Heard, hear
from rewriter.reading.method import Clause
from rewriter.reading.names import Name

__all__ = ["Group", "assign", "groups_of", "heading_part"]

_FINISHING = frozenset(("frosting", "filling", "topping", "dusting", "serving"))


def assign(
    ingredients: list[Ingredient],
    groups: Sequence[Group],
    clauses: Sequence[Clause],
    names: Sequence[Name],
    found: Findings,
) -> list[Ingredient]:
    """The ingredients with their parts. Groups whose heading tells the part keep it; the rest is read from the method."""
    group_parts(groups, ingredients)
    mentions = hear(ingredients, groups, clauses, names, found)
    out = list(ingredients)
    bare = [i for group in groups if not group.told and not group.heading for i in group.members]
    told = _by_method(bare, ingredients, mentions) if bare else {}
    for number, group in enumerate(groups):
        if group.told:
            for i in group.members:
                out[i] = _placed(out[i], group.part, number)
            continue
        parts = {i: told[i] for i in group.members if i in told}
        if group.heading:
            parts = _under_heading(group, groups, ingredients, mentions)
        elif number > 0:
            _settle(group, group.members, ingredients, parts)
        for i in group.members:
            part, sure = parts.get(i, (group.part, True))
            out[i] = _placed(out[i], part, number, sure)
    return out


def _under_heading(
    group: Group, groups: Sequence[Group], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    """The parts of a group whose heading tells none: beside a batter told by name it is none, else what the method says."""
    parts = _by_method(group.members, ingredients, mentions)
    roles = {ingredients[i].role for i in group.members}
    if not roles & (RAISING | {"flour", "egg"}) and any(other.told and other.part == "batter" for other in groups):
        group.part = next((part for part, _ in parts.values() if part in _FINISHING), "filling")
        return dict.fromkeys(group.members, (group.part, True))
    _settle(group, group.members, ingredients, parts)
    return parts


def _settle(
    group: Group, members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> None:
    """A group that stands by itself is one thing: give it the part most of its members have."""
    roles = {ingredients[i].role for i in members}
    if not parts or roles & RAISING or "flour" in roles:
        return
    if any(ingredients[i].key == "powdered-sugar" for i in members):
        group.part = "frosting"
        parts.update(dict.fromkeys(members, ("frosting", True)))
        return
    votes = [part for part, _ in parts.values()]
    if votes.count("batter") * 2 < len(votes):
        best = max(set(votes), key=votes.count)
        group.part = best
        parts.update(dict.fromkeys(members, (best, True)))


def _placed(ingredient: Ingredient, part: str, group: int, sure: bool = True) -> Ingredient:
    own = next((flag[4:] for flag in ingredient.flags if flag.startswith("for-")), "")
    if own:
        part, sure = {"frying": "dusting", "water": "serving"}.get(own, own), True
    sure = ingredient.sure and sure
    if (part, group, sure) == (ingredient.part, ingredient.group, ingredient.sure):
        return ingredient
    return replace(ingredient, part=part, group=group, sure=sure)


def _by_method(
    members: Sequence[int], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    same: dict[str, list[int]] = defaultdict(list)
    for i in members:
        same[ingredients[i].key or ingredients[i].name.lower()].append(i)
    parts: dict[int, tuple[str, bool]] = {}
    for twins in same.values():
        if len(twins) == 1:
            told = _one_part(mentions.get(twins[0], []), ingredients[twins[0]])
            if told:
                parts[twins[0]] = (told, True)
        else:
            parts.update(_twins(twins, ingredients, mentions))
    return _smoothed(members, ingredients, parts)


def _one_part(heard: Sequence[Heard], one: Ingredient) -> str:
    """The part of an ingredient listed once: batter where the method puts any of it there."""
    if not heard:
        return ""
    if one.role in RAISING or any(place.part == "batter" for place in heard):
        return "batter"
    part = min(heard).part
    return "batter" if part == "dusting" and one.role == "flour" and (one.grams or 0.0) > 60 else part


def _twins(
    twins: Sequence[int], ingredients: Sequence[Ingredient], mentions: dict[int, list[Heard]]
) -> dict[int, tuple[str, bool]]:
    """The same ingredient on several lines: each where its own amount is named, the others in the order of the list."""
    parts: dict[int, tuple[str, bool]] = {}
    for i in twins:
        exact = [place for place in mentions.get(i, []) if place.exact]
        if exact:
            parts[i] = (_one_part(exact, ingredients[i]), True)
    loose = [i for i in twins if i not in parts]
    runs: list[str] = []
    for place in sorted({place for i in twins for place in mentions.get(i, []) if not place.exact}):
        if place.part not in runs:
            runs.append(place.part)
    spoken = [part for part, _ in parts.values()]
    left = [run for run in runs if run not in spoken] or runs
    if not loose or not left:
        return parts
    if "batter" in left and left[0] in ("dusting", "topping") and len(left) > 1:
        left = ["batter", *[run for run in left if run != "batter"]]
    for k, i in enumerate(loose):
        part = (
            left[min(k, len(left) - 1)]
            if len(loose) > 1 or len(left) == 1
            else ("batter" if "batter" in left else left[0])
        )
        parts[i] = ("batter" if ingredients[i].role in RAISING else part, True)
    return parts


def _smoothed(
    members: Sequence[int], ingredients: Sequence[Ingredient], parts: dict[int, tuple[str, bool]]
) -> dict[int, tuple[str, bool]]:
    """Lines the method never names take the part of the line before them; a twin between two frosting lines is frosting too."""
    last_batter = max(
        (k for k, i in enumerate(members) if ingredients[i].role in RAISING or ingredients[i].role == "flour"),
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
