"""Edits of a heat setting: every figure of it moves together, from one exact number of degrees F."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.changing import words
from rewriter.model import Edit, Heat, Query, Recipe, Twin


def kind_of(recipe: Recipe, heat: Heat) -> str:
    """The kind of bake a setting belongs to: its part's, or the recipe's where that part is never baked by itself."""
    part = recipe.parts[heat.group] if heat.group < len(recipe.parts) else None
    return part.kind if part is not None and part.name in ("batter", "dish") else recipe.kind


def ask(heat: Heat) -> Query:
    """The question about a heat the reading is not sure of."""
    question = f'Is "{heat.text}" the temperature here, and in which degrees? It is left as it is until you say.'
    choices = (f"{words(heat.fahrenheit or Fraction(0))} F", "not oven")
    return Query(f"heat@{heat.start}", heat.start, heat.end, heat.text, question, choices)


def figures(heat: Heat) -> Iterator[Heat | Twin]:
    """The setting as first written and its twins that carry a figure; a word beside a figure stays.

    >>> dial = Twin(20, 26, "400 F", Fraction(400), "F")
    >>> [f.start for f in figures(Heat(9, 17, "hot oven", Fraction(400), None, (dial,), scale="word"))]
    [20]
    """
    told = [twin for twin in heat.twins if twin.scale != "word"]
    if heat.scale != "word" or not told:
        yield heat
    yield from told


def moved(
    heat: Heat,
    target: Heat | Twin,
    new: Fraction,
    rule: str,
    why: str,
    source: str,
    top: Fraction | None = None,
    unguarded: Fraction | None = None,
) -> Edit:
    """An edit of one figure of a setting; ``new``, ``top`` and ``unguarded`` in degrees F of the conventional oven."""
    return Edit(
        rule,
        target.start,
        target.end,
        "up" if new > (heat.fahrenheit or new) else "down",
        new,
        why,
        source,
        exact_max=top,
        unit="F",
        target=target,
        unguarded=unguarded,
        group=heat.group,
    )
