"""Where marks go in the pasted text, and what they say."""

from __future__ import annotations

from rewriter.model import Change, Query
from rewriter.writing.lines import line_end
from rewriter.writing.notes import Notes
from rewriter.writing.registry import Job

LONG_SPAN = 120


def said(change: Change, arrow: str = "→") -> str:
    """The mark of one change, without the space before it."""
    if change.step == "offer":
        return f"[! or {_flat(change.new.removeprefix('+ '))}]"
    if change.addition:
        return f"[{change.new}]"
    return f"[! {_flat(change.new)}]" if change.direction == "note" else f"[{arrow} {change.new}]"


def placed(text: str, offset: int, mark: str, own_line: bool, end: str) -> tuple[int, str]:
    r"""A mark with the space or line end that sets it off.

    >>> placed("1 cup milk\n2 eggs", 10, "[+ 1 Tbsp water]", True, "\n")
    (10, '\n[+ 1 Tbsp water]')
    """
    before, behind = text[offset - 1 : offset], text[offset : offset + 1]
    if own_line and (not before or before in "\r\n"):
        return offset, mark + end
    if own_line and (not behind or behind in "\r\n"):
        return offset, end + mark
    return offset, f"{'' if not before or before.isspace() else ' '}{mark}{' ' if behind.isalnum() else ''}"


def marks(job: Job, notes: Notes, arrow: str = "→") -> list[tuple[int, str]]:
    """The insertions of the inline style: one a change, then those of the questions, in reading order."""
    end = line_end(job.text)
    out = [
        placed(job.text, change.end, said(change, arrow), change.start == change.end, end)
        for change in job.changes
        if change.step != "next"
    ]
    out += [placed(job.text, query.end, ask(number), False, end) for number, query in numbered(notes)]
    return out


def ask(number: int) -> str:
    """The mark of a question, whose words stand in the block."""
    return f"[! question {number}]"


def numbered(notes: Notes) -> list[tuple[int, Query]]:
    """The questions that are about some words, with their numbers in the block."""
    asked = [one for section in notes.sections for one in section.asked]
    return [(one.number, one.query) for one in asked if 0 < one.query.end - one.query.start <= LONG_SPAN]


def _flat(words: str) -> str:
    return " ".join(words.replace("[", "(").replace("]", ")").split())
