"""What the box needs to know of a text: which recipes are in it, and what each holds."""

from __future__ import annotations

import re
from dataclasses import dataclass

from rewriter import api
from rewriter.errors import Unusable
from rewriter.model import Recipe

FEWEST = 2  # ingredients that make a stretch of a longer text a recipe of its own
_JARS = ("canning", "sealed-jar-cake")
_MARKUP = re.compile(r"^[\s#*_=~>|-]+|[\s#*_=~|:-]+$")


@dataclass(frozen=True, slots=True)
class Stretch:
    """A recipe in a text: where it stands, its title, and what is read in it."""

    start: int
    stop: int
    title: str
    recipe: Recipe

    @property
    def jars(self) -> bool:
        """Whether it is a canning process or its like, which is never rewritten."""
        return has_jars(self.recipe)


def stretches(text: str, cuts: tuple[tuple[int, int], ...] = (), name: str = "") -> list[Stretch]:
    """Every recipe in a text, together covering all of it.

    cuts: where the file itself says they stand. Raises Unusable where there is none, with the reason.
    """
    if cuts:
        return _cut(text, cuts, name)
    source, recipes, _ = api.original(text)
    if source != text or len(recipes) == 1:  # annotated already: never cut
        return [Stretch(0, len(text), title_of(recipes[0], text, name), recipes[0])]
    bounds = _bounds(text, recipes)
    found: list[Stretch] = []
    for start, stop in bounds:
        read = api.read(text[start:stop])
        if read:
            found.append(Stretch(start, stop, title_of(read[0], text[start:stop], name), read[0]))
    if not found:
        raise Unusable("no recipe is found in this", "")
    return found


def reading(text: str) -> Recipe:
    """The first recipe in a text, annotations aside; an empty one where there is none.

    >>> reading("").kind
    'uncooked'
    """
    try:
        return api.original(text)[1][0]
    except Unusable:
        return Recipe("", "uncooked")


def title_of(recipe: Recipe, text: str, name: str = "") -> str:
    r"""A recipe's title, else its first line, else the name of its file; one line without markup.

    >>> title_of(Recipe("", "cookie"), "## Rusk ##\n2 eggs")
    'Rusk'
    """
    lines = [recipe.title, *text.split("\n")[:5], name]
    titles = (" ".join(_MARKUP.sub("", line).split()) for line in lines)
    return next((title[:120] for title in titles if title), "without a title")


def has_jars(recipe: Recipe) -> bool:
    """Whether a recipe is put up in jars or processed."""
    return any(fact.kind in _JARS for fact in recipe.facts)


def _bounds(text: str, recipes: list[Recipe]) -> list[tuple[int, int]]:
    """Each recipe from its start to the next one's; what stands before the first belongs to it.

    A stretch with too little in it goes with the one before.
    """
    starts = [0]
    for recipe in recipes[1:]:
        if sum(bool(one.amounts) for one in recipe.ingredients) >= FEWEST and recipe.start > starts[-1]:
            starts.append(recipe.start)
    return list(zip(starts, [*starts[1:], len(text)], strict=True))


def _cut(text: str, cuts: tuple[tuple[int, int], ...], name: str) -> list[Stretch]:
    found = []
    for start, stop in cuts:
        recipe = reading(text[start:stop])
        found.append(Stretch(start, stop, title_of(recipe, text[start:stop], name), recipe))
    return found
