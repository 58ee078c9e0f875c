"""Which part each ingredient goes into: batter, frosting, filling, topping, dusting or serving.

A heading over a group in the list decides; without one the method does: what is first named after the bake, or under
"for the glaze", is no batter, whatever the list says.
"""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.model import Ingredient
from rewriter.reading.findings import Findings
from rewriter.reading.groups import RAISING, Group, group_parts, groups_of, heading_part
from rewriter.reading.hearing import Heard, hear
from rewriter.reading.method import Clause
from rewriter.reading.names import Name
from rewriter.reading.segment import segment

__all__ = ["FINISHING", "Group", "assign", "groups_of", "heading_part", "in_part"]

_PURPOSES = {"frying": "dusting", "water": "serving"}
FINISHING = frozenset(("frosting", "filling", "topping", "dusting", "serving"))


def assign(
    ingredients: list[Ingredient],
    groups: Sequence[Group],
    clauses: Sequence[Clause],
    names: Sequence[Name],
    found: Findings,
) -> list[Ingredient]:
    """The ingredients with their parts. Groups whose heading tells the part keep it; the rest is by the method."""
    group_parts(groups, ingredients)
    mentions = hear(ingredients, groups, clauses, names, found)
    out = list(ingredients)
    bare = [i for group in groups if not group.told and not group.heading for i in group.members]
    told = segment(bare, ingredients, mentions) if bare else {}
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
    """The parts of a group whose heading tells none: beside a named batter it is none, else what the method says."""
    parts = segment(group.members, ingredients, mentions)
    roles = {ingredients[i].role for i in group.members}
    if not roles & (RAISING | {"flour", "egg"}) and any(other.told and other.part == "batter" for other in groups):
        group.part = next((part for part, _ in parts.values() if part in FINISHING), "filling")
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
    for flag in ingredient.flags:
        if flag.startswith("for-"):
            part, sure = _PURPOSES.get(flag[4:], flag[4:]), True
            break
    sure = ingredient.sure and sure
    if (part, group, sure) == (ingredient.part, ingredient.group, ingredient.sure):
        return ingredient
    return in_part(ingredient, part, group, sure)


def in_part(one: Ingredient, part: str, group: int, sure: bool) -> Ingredient:
    """The ingredient in this part; written out, because most ingredients pass here (dataclasses.replace is slow)."""
    return Ingredient(
        one.start, one.end, one.name, one.role, part, one.amounts, one.grams, sure, one.key, group, one.grams_range,
        one.flags, one.listed, one.name_start, one.name_end,
    )  # fmt: skip
