"""The corrected words of a recipe, for the styles that carry no marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rewriter.model import Change, Recipe
from rewriter.writing.marks import placed
from rewriter.writing.method import line_stop


def corrected(
    text: str,
    changes: Sequence[Change],
    end: str,
    start: int = 0,
    stop: int | None = None,
    recipes: Sequence[Recipe] = (),
    lines: Sequence[tuple[int, str]] = (),
) -> str:
    r"""``text[start:stop]`` with every changed amount replaced; what is added has its own line in a list.

    Changes held back or offered are left out. end: the line end for an added line. recipes: they tell which amounts
    stand in a list; elsewhere an addition stands in brackets. lines: whatever else is to be put in, at its offset.

    >>> change = Change(0, 5, "1 cup", "1 cup + 1 Tbsp", "up", None, "liquid", "", "")
    >>> corrected("1 cup milk", [change], "\n")
    '1 cup + 1 Tbsp milk'
    """
    stop = len(text) if stop is None else stop
    out, at = [], start
    pieces = [*_pieces(text, changes, end, recipes), *((offset, offset, words) for offset, words in lines)]
    for first, last, words in sorted(pieces, key=lambda piece: piece[:2]):
        if start <= first and last <= stop and first >= at:
            out += [text[at:first], words]
            at = last
    return "".join([*out, text[at:stop]])


def _pieces(
    text: str, changes: Sequence[Change], end: str, recipes: Sequence[Recipe]
) -> Iterator[tuple[int, int, str]]:
    """The places that change and what comes there."""
    listed = [(i.start, i.end) for recipe in recipes for i in recipe.ingredients if i.listed]
    for change in changes:
        if change.step != "now" or (change.direction == "note" and not change.addition):
            continue
        if not change.addition:
            yield change.start, change.end, change.new
            continue
        words = change.new.removeprefix("+ ")
        inside = any(first <= change.start < last for first, last in listed)
        if change.direction == "insert" or (inside and change.direction != "note"):
            at = line_stop(text, change.end) if inside else change.end
            yield at, at, placed(text, at, words, True, end)[1]
        else:
            yield change.end, change.end, placed(text, change.end, f"(+ {words})", False, end)[1]
