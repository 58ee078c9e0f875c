r"""One amount for several things: "1 tsp each salt and soda" is two ingredients.

The amount cannot be changed for one of them alone, so they are marked ``shared`` and, where altitude would change
one, asked about.

>>> from rewriter.reading.pipeline import read
>>> recipe = read("Scones\n\n2 cups flour\n1 tsp each salt and baking soda\n1 cup milk\n\nMix. Bake at 400 F.")[0]
>>> [(one.name, one.role, one.amounts[0].unit) for one in recipe.ingredients][1:3]
[('salt', 'salt', 'tsp'), ('baking soda', 'leavener', 'tsp')]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from rewriter import pantry
from rewriter.model import Ingredient
from rewriter.reading import joined
from rewriter.reading.findings import Findings
from rewriter.reading.layout import Line
from rewriter.reading.lines import weigh
from rewriter.reading.parts import Group

_CHANGING = frozenset(("leavener", "yeast", "sugar", "liquid"))


def told_apart(
    lines: Sequence[Ingredient], listed: Sequence[Line], groups: Sequence[Group], found: Findings
) -> list[Ingredient]:
    """The ingredients of the lines, those that share a line each by itself; ``groups`` are renumbered to match."""
    several = [
        _several(one, found) if "each" in one.flags and one.amounts else joined.told_apart(one, line, found)
        for one, line in zip(lines, listed, strict=True)
    ]
    if all(len(ones) == 1 for ones in several):
        return [ones[0] for ones in several]
    out: list[Ingredient] = []
    where: list[list[int]] = []
    for ones in several:
        where.append(list(range(len(out), len(out) + len(ones))))
        out += ones
    for group in groups:
        group.members = [i for line in group.members for i in where[line]]
    return out


def _several(one: Ingredient, found: Findings) -> list[Ingredient]:
    stop = found.text.find("\n", one.start)
    stop = len(found.text) if stop < 0 else stop
    names = [
        name for name in found.names_in(one.name_start, stop) if "(" not in found.text[one.name_start : name.start]
    ]
    if len(names) < 2:
        return [one]
    out = []
    for name in names:
        entry = pantry.entry(name.key)
        grams, spread = weigh(name.key, one.amounts)
        out.append(
            replace(
                one, end=max(one.end, name.end), name=name.text, key=name.key, role=entry.role, grams=grams,
                grams_range=spread, name_start=name.start, name_end=name.end, flags=one.flags | {"shared"},
                sure=entry.role not in _CHANGING,
            )
        )  # fmt: skip
    return out
