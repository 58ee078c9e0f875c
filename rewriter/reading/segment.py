"""A list without headings cut into its parts: each line goes where the method names it and where its neighbours go.

Lists are written part by part, so a part's lines stand together. The cheapest way through the list is found by dynamic
programming: a line costs nothing in a part the method names it in, more in another, and every change of part costs too.

>>> from rewriter.reading.hearing import Heard
>>> butter = [Heard(10, "batter"), Heard(90, "frosting")]
>>> costs = [{"batter": 0.0, "frosting": 3.0}, {"batter": 0.0, "frosting": 0.0}, {"batter": 3.0, "frosting": 0.0}]
>>> cheapest(costs)
['batter', 'batter', 'frosting']
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rewriter.model import Ingredient
from rewriter.reading.groups import RAISING
from rewriter.reading.hearing import Heard

_PASSING = frozenset(("dusting", "serving", "topping"))
"""Parts that often hold a single line in the middle of others."""
ELSEWHERE, CHANGE, PASSING_CHANGE = 3.0, 1.0, 0.7
OUT_OF_ORDER, ALSO_BATTER, SHARED_ONLY, EXACT = 0.7, 0.9, 1.2, 5.0


def cheapest(costs: Sequence[Mapping[str, float]]) -> list[str]:
    """The part of each line on the cheapest way through; costs: for each line that of every part (the same parts)."""
    if not costs:
        return []
    parts = list(costs[0])
    total = dict(costs[0])
    steps: list[dict[str, str]] = []
    for line in costs[1:]:
        came: dict[str, str] = {}
        now: dict[str, float] = {}
        for part in parts:
            best = min(parts, key=lambda before, part=part: total[before] + _change(before, part))  # type: ignore[misc]
            came[part], now[part] = best, total[best] + _change(best, part) + line[part]
        steps.append(came)
        total = now
    part = min(parts, key=lambda one: total[one])
    way = [part]
    for came in reversed(steps):
        part = came[part]
        way.append(part)
    return way[::-1]


def _change(before: str, after: str) -> float:
    if before == after:
        return 0.0
    return PASSING_CHANGE if before in _PASSING or after in _PASSING else CHANGE


def segment(
    members: Sequence[int], ingredients: Sequence[Ingredient], heard: Mapping[int, Sequence[Heard]]
) -> dict[int, tuple[str, bool]]:
    """The part of each line of a list without headings, and whether it is sure.

    members: the lines, in order; heard: where the method names each (a mention that can mean several lines is heard for
    each of them). A line the method never names is sure only where it falls to the batter.
    """
    places = {place.part for i in members for place in heard.get(i, ())}
    if places <= {"batter"}:
        return dict.fromkeys(members, ("batter", True))
    parts = ["batter", *sorted(places - {"batter"})]
    order = _order(members, heard)
    costs = [_costs(parts, ingredients[i], heard.get(i, ()), order.get(i, {})) for i in members]
    way = cheapest(costs)
    return {i: (part, part == "batter" or bool(heard.get(i))) for i, part in zip(members, way, strict=True)}


def _order(members: Sequence[int], heard: Mapping[int, Sequence[Heard]]) -> dict[int, dict[str, float]]:
    """For lines that share their mentions, what each part costs out of the method's order: first line, first part."""
    families: dict[int, list[int]] = {}
    for i in members:
        for place in heard.get(i, ()):
            if not place.exact:
                families.setdefault(place.start, []).append(i)
    order: dict[int, dict[str, float]] = {}
    for i in members:
        shared = [place for place in sorted(heard.get(i, ())) if len(families.get(place.start, ())) > 1]
        if not shared:
            continue
        runs = list(dict.fromkeys(place.part for place in shared))
        if runs[0] in _PASSING and "batter" in runs:
            runs = ["batter", *[run for run in runs if run != "batter"]]
        kin = sorted({k for place in shared for k in families[place.start]})
        expected = runs[min(kin.index(i), len(runs) - 1)]
        order[i] = {"": 0.0, expected: -OUT_OF_ORDER}
    return order


def _costs(
    parts: Sequence[str], one: Ingredient, heard: Sequence[Heard], order: Mapping[str, float]
) -> dict[str, float]:
    exact = {place.part for place in heard if place.exact}
    said = {place.part for place in heard}
    costs = {}
    for part in parts:
        if exact:
            cost = 0.0 if part in exact else EXACT
        elif said:
            cost = 0.0 if part in said else ELSEWHERE
            if order:
                cost += OUT_OF_ORDER + order.get(part, 0.0)
            elif part != "batter" and "batter" in said:
                cost += ALSO_BATTER
        else:
            cost = 0.4 if part == "batter" else 0.7
        costs[part] = cost + _leaning(part, one)
    return costs


def _leaning(part: str, one: Ingredient) -> float:
    """What the ingredient itself says against a part."""
    if part == "batter":
        return 1.2 if one.key == "powdered-sugar" else 0.0
    if one.role in RAISING:
        return 6.0
    if one.role == "flour" and (one.grams or 0.0) > 20:
        return 0.6 if part in ("topping", "filling") else 4.0
    return 1.0 if one.role == "egg" and part != "filling" else 0.0
