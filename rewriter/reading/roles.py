"""Roles that depend on company: cream of tartar beside soda, cream cheese in a batter, cream poured or whipped."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from rewriter import pantry
from rewriter.model import Amount, Ingredient

_CREAM_NAMES = re.compile(r"\b(?:whipping|whipped)\s+cream(?:\s+cheese)?\b", re.IGNORECASE)
_MELTED = re.compile(r"\bmelt(?:ed|ing)?\b[^.]{0,80}\bchocolate\b|\bchocolate\b[^.]{0,60}\bmelt", re.IGNORECASE)
_WHIPPED = re.compile(
    r"\b(?:whip|whisk|beat)(?:ped|ping|en)?\b[^.]{0,90}\bcream\b(?!\s+cheese)[^.]{0,90}|\bcream\b(?!\s+cheese)[^.]{0,140}(?:\bwhip|\bpeaks)|"
    r"\b(?:stiff|soft|medium)\s+peaks",
    re.IGNORECASE,
)


def _fluid(amount: Amount) -> Amount:
    """Ounces of a liquid in a recipe measured by cups are fluid ounces."""
    return replace(amount, unit="floz") if amount.unit == "oz" and not amount.count else amount


def settle(ingredients: Sequence[Ingredient], text: str) -> list[Ingredient]:
    """The ingredients with the roles their part and their neighbours give them.

    >>> settle([], "")
    []
    """
    soda = {one.group for one in ingredients if one.role == "leavener" and one.key and pantry.entry(one.key).leaven > 1}
    out = []
    for one in ingredients:
        entry = pantry.entry(one.key) if one.key else None
        if entry is None:
            out.append(one)
            continue
        role = _role(one, entry, soda, ingredients, text)
        if role == "liquid" and _in_ounces(one) and not _weighed(ingredients):
            one = replace(one, amounts=tuple(_fluid(amount) for amount in one.amounts))
        out.append(replace(one, role=role) if role != one.role else one)
    return out


def _weighed(ingredients: Sequence[Ingredient]) -> bool:
    return any(
        one.role == "flour" and one.amounts and one.amounts[0].unit in ("g", "kg", "oz", "lb") for one in ingredients
    )


def _in_ounces(one: Ingredient) -> bool:
    return any(amount.unit == "oz" and not amount.count for amount in one.amounts)


def _role(one: Ingredient, entry: pantry.Entry, soda: set[int], ingredients: Sequence[Ingredient], text: str) -> str:
    """The role of one ingredient; soda: the groups that hold baking soda."""
    role = one.role
    if role == "cocoa" and one.part == "batter" and entry.aisle == "cocoa" and "cocoa" not in entry.key:
        role = "cocoa" if "chopped" not in one.flags or "melted" in one.flags or _melted(ingredients, text) else "other"
    elif entry.leavener_with_soda:
        role = "leavener" if one.part == "batter" and one.group in soda else "other"
    elif entry.role_outside and one.part != "batter" and role == entry.role:
        role = entry.role_outside
    if role == "liquid" and one.part == "frosting" and "cream" in (one.key or "") and (one.grams or 0) > 150:
        return "other" if _WHIPPED.search(_CREAM_NAMES.sub("cream", text)) else role
    return role


def _melted(ingredients: Sequence[Ingredient], text: str) -> bool:
    return any("chocolate" in (one.key or "") for one in ingredients) and bool(_MELTED.search(text))
