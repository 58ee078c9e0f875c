r"""A second thing on an ingredient's line: "3 eggs + 1 yolk", "1/4 cup sugar and 1 tsp cinnamon, for rolling".

Each is an ingredient of its own; what the line says both are for holds for both.

>>> from rewriter.reading.pipeline import read
>>> recipe = read("Snaps\n\n2 cups flour\n2 eggs + 1 yolk\n1 T. sugar and 1 tsp mace for rolling\n\nBake at 350 F.")[0]
>>> [(one.name, one.part) for one in recipe.ingredients][1:]
[('eggs', 'batter'), ('yolk', 'batter'), ('sugar', 'dusting'), ('mace', 'dusting')]
"""

from __future__ import annotations

import re
from dataclasses import replace

from rewriter.model import Amount, Ingredient
from rewriter.reading.findings import Findings
from rewriter.reading.layout import Line
from rewriter.reading.lines import read_line

_JOINED = re.compile(r"(?:\+|&|\b(?:and|plus|mixed with))\s*$", re.IGNORECASE)
_OTHERWISE = re.compile(r"\([^)]*$|\bor\b", re.IGNORECASE)  # "1 cup milk (or 3/4 cup milk + 1/4 cup cream)"
_FOR = re.compile(r"\bfor\b", re.IGNORECASE)
_APART = re.compile(r"[,;(]")  # "1 cup milk, and 1 Tbsp cream for brushing": only the second is for that
_LIQUIDS = frozenset(("liquid", "thick-liquid"))  # "1 egg plus 1 Tbsp water" is a wash as often as a batter


def told_apart(one: Ingredient, line: Line, found: Findings) -> list[Ingredient]:
    """The ingredients of one line, in order; mostly the one that heads it."""
    if not one.amounts:
        return [one]
    amounts = found.amounts_in(line.start, line.end)
    last = max(one.amounts[-1].end, one.name_start)
    for amount in amounts:
        between = found.text[one.amounts[0].end : amount.start]
        if amount.start >= last and _JOINED.search(between) and not _OTHERWISE.search(between):
            second = _second(one, amount, line, found)
            if second is not None:
                return [_before(one, second, amount, found), second]
    return [one]


def _second(one: Ingredient, amount: Amount, line: Line, found: Findings) -> Ingredient | None:
    """The ingredient measured by a later amount of the line; None where it is none, or more of the first."""
    names = found.names_in(amount.start, line.end)
    amounts = found.amounts_in(amount.start, line.end)
    second = read_line(found.text, amount.start, line.end, names, amounts)
    if second.key in (None, one.key) or not second.amounts or second.amounts[0].start != amount.start:
        return None
    if _FOR.search(found.text, amount.end, second.name_start):  # "plus a teaspoon for the yeast"
        return None
    return second if second.role not in _LIQUIDS or one.role in _LIQUIDS else None


def _before(one: Ingredient, second: Ingredient, amount: Amount, found: Findings) -> Ingredient:
    """The first ingredient as it stands before the second, with what both are for."""
    alone = _APART.search(found.text, one.amounts[0].end, amount.start) or any("for-" in flag for flag in one.flags)
    flags = one.flags if alone else one.flags | {flag for flag in second.flags if flag.startswith("for-")}
    if one.name_end <= amount.start:
        return replace(one, flags=flags)
    joined = _JOINED.search(found.text, one.name_start, amount.start)
    end = len(found.text[: joined.start()].rstrip()) if joined else one.name_end
    name, stop = found.text[one.name_start : end], max(end, one.amounts[-1].end)
    return replace(one, name=name, name_end=end, end=stop, flags=flags)
