"""Where an addition stands in the list, and where the method takes it up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from rewriter.model import Change, Edit, Ingredient, Recipe

LINE = re.compile(r"[^\r\n]*")
_WITH = ("egg", "syrup", "fat", "thick-liquid")


def at_line_end(text: str, edit: Edit, recipe: Recipe | None) -> int:
    """The end of the line an insertion stands on, where that is a line of the ingredient list; else its own place."""
    listed = recipe is not None and any(
        item.listed and item.start <= edit.start <= item.end for item in recipe.ingredients
    )
    if not listed:
        return edit.start
    return line_stop(text, edit.start)


def line_stop(text: str, offset: int) -> int:
    r"""Where the line that holds an offset ends.

    >>> line_stop("1 cup milk\r\n2 eggs", 3)
    10
    """
    found = LINE.match(text, offset)
    return found.end() if found else offset


def in_method(text: str, recipe: Recipe, changes: Sequence[Change]) -> Iterator[tuple[Change, int]]:
    """Each addition, with the place in the method just after its liquid (or else eggs, syrup, fat)."""
    for change in changes:
        if not change.addition or change.step != "now" or change.direction not in ("up", "insert"):
            continue
        if _in_list(recipe, change):  # in running prose the mark stands in the method already
            place = _place(text, recipe, _companions(recipe, change))
            if place is not None and place > change.end:
                yield change, place


def _in_list(recipe: Recipe, change: Change) -> bool:
    """Whether an addition stands in an ingredient list."""
    before = [item for item in recipe.ingredients if item.start <= change.start]
    return bool(before) and max(before, key=lambda item: item.start).listed


def _companions(recipe: Recipe, change: Change) -> list[str]:
    if change.ingredient:
        return [change.ingredient]
    near: Ingredient | None = max(
        (item for item in recipe.ingredients if item.end <= change.end), key=lambda item: item.end, default=None
    )
    batter = [item for item in recipe.ingredients if near is None or item.group == near.group]
    return [item.name for role in _WITH for item in batter if item.role == role]


def _place(text: str, recipe: Recipe, names: Sequence[str]) -> int | None:
    elsewhere = [(i.start, i.end) for i in recipe.ingredients if not i.listed and i.part not in ("batter", "dish")]
    for name in names:
        pattern = _named(name)
        for start, end in recipe.method if pattern else ():
            for found in pattern.finditer(text, start, end) if pattern else ():
                if not any(first <= found.start() < last for first, last in elsewhere):
                    return found.end()
    return None


@lru_cache(maxsize=512)
def _named(name: str) -> re.Pattern[str] | None:
    words = re.findall(r"[^\W\d_]+", name)
    if not words:
        return None
    head = words[-1]
    stem = head[:-1] if head.endswith("s") and len(head) > 3 else head
    return re.compile(rf"\b{re.escape(stem)}s?\b", re.I)
