"""The corrected words of a recipe, for the styles that carry no marks."""

from __future__ import annotations

from collections.abc import Sequence

from rewriter.model import Change
from rewriter.writing.marks import placed


def corrected(text: str, changes: Sequence[Change], end: str, start: int = 0, stop: int | None = None) -> str:
    r"""``text[start:stop]`` with every changed amount replaced; additions stand beside or on their own line.

    Changes held back or offered are left out. end: the line end for an added line.

    >>> change = Change(0, 5, "1 cup", "1 cup + 1 Tbsp", "up", None, "liquid", "", "")
    >>> corrected("1 cup milk", [change], "\n")
    '1 cup + 1 Tbsp milk'
    """
    stop = len(text) if stop is None else stop
    out, at = [], start
    for change in sorted(changes, key=lambda change: (change.start, change.end)):
        inside = start <= change.start and change.end <= stop and change.start >= at
        if not inside or change.step != "now" or (change.direction == "note" and not change.addition):
            continue
        if change.addition:
            out += [text[at : change.end], _added(text, change, end)]
        else:
            out += [text[at : change.start], change.new]
        at = change.end
    return "".join([*out, text[at:stop]])


def _added(text: str, change: Change, end: str) -> str:
    """What is added: "3 Tbsp water" on its own line, " + 3 Tbsp water" beside an amount; in brackets in the method."""
    words = change.new.removeprefix("+ ")
    if change.direction == "note":
        return placed(text, change.end, f"(+ {words})", False, end)[1]
    if change.start != change.end:
        return f" + {words} +" if text[change.end : change.end + 1] == " " else f" + {words}"
    return placed(text, change.end, words, True, end)[1]
