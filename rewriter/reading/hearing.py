"""What the method says of each listed ingredient: where it is named, and which part it goes into there."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from rewriter.model import Amount, Ingredient
from rewriter.reading.apart import names_within, set_apart
from rewriter.reading.findings import Findings
from rewriter.reading.groups import Group
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.names import Name

_COLLECTIVE = re.compile(
    r"\b(?:(?P<all>all\s+(?:of\s+)?(?:the\s+|your\s+)?(?:\w+\s+)?ingredients)"
    r"|dry\s+(?:ingredients|mix)|wet\s+ingredients|remaining\s+ingredients"
    r"|(?:both|the|all|all\s+the|three|two)\s+(?P<kin>flours|sugars))\b",
    re.IGNORECASE,
)
_COLLECTIVE_WORDS = frozenset(("ingredients", "mix", "flours", "sugars"))


@dataclass(frozen=True, slots=True, order=True)
class Heard:
    """Where the method names an ingredient, the part it says there, and whether an amount tells the line."""

    start: int
    part: str
    exact: bool = False


def _matches(amount: Amount | None, one: Ingredient) -> bool:
    """Whether an amount in the method is one of a listed line's own."""
    if amount is None:
        return False
    return any(
        own.quantity == amount.quantity and (own.unit == amount.unit or {own.unit, amount.unit} <= {"", "each"})
        for own in one.amounts
    )


def hear(
    ingredients: Sequence[Ingredient],
    groups: Sequence[Group],
    clauses: Sequence[Clause],
    names: Sequence[Name],
    found: Findings,
) -> dict[int, list[Heard]]:
    """For each ingredient (by its index), where the method names it and the part it says there.

    names: those in the method, in order. A name that can mean several lines is heard for each, unless an amount
    beside it or the heading the method is at says which.
    """
    heard: dict[int, list[Heard]] = defaultdict(list)
    meant = _Meant(ingredients, groups, names)
    within = names_within(clauses, names)
    apart = set_apart(clauses, names, within, found.text)
    for clause, inside in zip(clauses, within, strict=True):
        for name in inside:
            part = apart.get(clause.start) or clause.part_at(name.start)
            hits = meant.lines(name, part)
            exact = meant.by_amount(hits, found.amount_before(name.start, clause.start)) if len(hits) > 1 else None
            for i in hits if exact is None else [exact]:
                heard[i].append(Heard(name.start, part, exact is not None))
        if not _COLLECTIVE_WORDS.isdisjoint(clause.words):
            _hear_all(heard, ingredients, clause, found.text)
    return heard


def _hear_all(heard: dict[int, list[Heard]], ingredients: Sequence[Ingredient], clause: Clause, text: str) -> None:
    """Hear "the dry ingredients", "all the ingredients": every line of such a role is heard."""
    for match in _COLLECTIVE.finditer(text, clause.start, clause.end):
        for i, ingredient in enumerate(ingredients):
            every = match["all"] and ingredient.key != "powdered-sugar"
            dry = not match["kin"] and ingredient.role in ("flour", "leavener", "salt", "starch", "cocoa")
            if every or dry or match["kin"] == f"{ingredient.role}s":
                heard[i].append(Heard(match.start(), clause.part))


_GENERIC = frozenset(("sugar", "butter", "milk", "flour", "cream", "oil", "chocolate", "vanilla", "water"))
"""Names so short that they can mean any line of their kind ("sugar": the powdered sugar of the icing too)."""


class _Meant:
    """Which lines of the list a name in the method can mean."""

    def __init__(self, ingredients: Sequence[Ingredient], groups: Sequence[Group], names: Sequence[Name]) -> None:
        self._ingredients = ingredients
        self._group_of = {i: group for group in groups for i in group.members}
        self._spoken = {name.key for name in names}
        self._hits: dict[tuple[str, str], list[int]] = {}

    def lines(self, name: Name, part: str) -> list[int]:
        """The lines a name can mean where the method works on a part."""
        hits = self._hits.get((name.key, name.text))
        if hits is None:
            exact = [i for i, one in enumerate(self._ingredients) if one.key == name.key]
            if not exact or name.text.lower() in _GENERIC:
                exact = sorted({*exact, *_loosely(name, self._ingredients, self._spoken)})
            hits = self._hits[name.key, name.text] = exact
        return _in_group(hits, part, self._group_of)

    def by_amount(self, hits: Sequence[int], amount: Amount | None) -> int | None:
        """The one line whose own amount is named beside it; None where that does not tell."""
        same = [i for i in hits if _matches(amount, self._ingredients[i])]
        return same[0] if same and len(same) < len(hits) else None


def _in_group(hits: list[int], part: str, group_of: dict[int, Group]) -> list[int]:
    """Of the lines a name can mean, those of the group whose heading tells the part the method is at."""
    if len(hits) < 2:
        return hits
    own = [i for i in hits if group_of[i].told and group_of[i].part == part]
    if own:
        return own
    loose = [i for i in hits if not group_of[i].told]
    return loose or hits


def _loosely(name: Name, ingredients: Sequence[Ingredient], spoken: set[str]) -> list[int]:
    """The lines a looser name can mean ("sugar"); a line the method names in full elsewhere is not among them."""
    hits = [i for i, one in enumerate(ingredients) if fits(name.text, one.name)]
    return [i for i in hits if ingredients[i].key not in spoken] or hits
