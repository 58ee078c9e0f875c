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
    weighed = any(
        one.role == "flour" and one.amounts and one.amounts[0].unit in ("g", "kg", "oz", "lb") for one in ingredients
    )
    keys = " ".join(one.key or "" for one in ingredients)
    whipped = "cream" in keys and bool(_WHIPPED.search(_CREAM_NAMES.sub("cream", text)))
    melted = "chocolate" in keys and bool(_MELTED.search(text))
    soda = {one.group for one in ingredients if one.role == "leavener" and one.key and pantry.entry(one.key).leaven > 1}
    out = []
    for one in ingredients:
        entry = pantry.entry(one.key) if one.key else None
        if entry is None:
            out.append(one)
            continue
        if one.role == "cocoa" and one.part == "batter" and entry.aisle == "cocoa" and "cocoa" not in entry.key:
            role = "cocoa" if "melted" in one.flags or melted or "chopped" not in one.flags else "other"
        elif entry.leavener_with_soda:
            role = "leavener" if one.part == "batter" and one.group in soda else "other"
        elif entry.role_outside and one.part != "batter" and one.role == entry.role:
            role = entry.role_outside
        else:
            role = one.role
        if (
            whipped
            and one.part == "frosting"
            and "cream" in (one.key or "")
            and role == "liquid"
            and (one.grams or 0) > 150
        ):
            role = "other"
        if role == "liquid" and not weighed and any(amount.unit == "oz" and not amount.count for amount in one.amounts):
            one = replace(one, amounts=tuple(_fluid(amount) for amount in one.amounts))
        out.append(replace(one, role=role) if role != one.role else one)
    return out
