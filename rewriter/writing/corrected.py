"""The corrected words of a recipe, for the styles that carry no marks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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
    put = [(piece.start, piece.end, piece.words) for piece in pieces(text, changes, end, recipes)]
    put += [(offset, offset, words) for offset, words in lines]
    for first, last, words in sorted(put, key=lambda piece: piece[:2]):
        if start <= first and last <= stop and first >= at:
            out += [text[at:first], words]
            at = last
    return "".join([*out, text[at:stop]])


@dataclass(frozen=True, slots=True)
class Piece:
    """A place of the pasted text and the words that take it; an addition takes no place (start == end)."""

    start: int
    end: int
    words: str
    change: Change


def pieces(text: str, changes: Sequence[Change], end: str, recipes: Sequence[Recipe] = ()) -> list[Piece]:
    """Every change that is made now, as words at their places, in reading order."""
    listed = [(item.start, item.end) for recipe in recipes for item in recipe.ingredients if item.listed]
    made = [change for change in changes if change.step == "now" and (change.addition or change.direction != "note")]
    found = [_piece(text, change, end, listed) for change in made]
    return sorted(found, key=lambda piece: (piece.start, piece.end))


def _piece(text: str, change: Change, end: str, listed: Sequence[tuple[int, int]]) -> Piece:
    if not change.addition:
        return Piece(change.start, change.end, change.new, change)
    words = change.new.removeprefix("+ ")
    inside = any(first <= change.start < last for first, last in listed) and not _in_row(text, change.end)
    if change.direction == "insert" or (inside and change.direction != "note"):
        at = line_stop(text, change.end) if inside else change.end
        return Piece(at, at, placed(text, at, words, True, end)[1], change)
    return Piece(change.end, change.end, placed(text, change.end, f"(+ {words})", False, end)[1], change)


def _in_row(text: str, at: int) -> bool:
    r"""Whether a place stands in a row of a table, which a line of its own would break.

    >>> _in_row("| milk | 1 cup |\n", 12), _in_row("1 cup milk\n| a |", 5)
    (True, False)
    """
    return text[text.rfind("\n", 0, at) + 1 : line_stop(text, at)].rstrip().endswith("|")
