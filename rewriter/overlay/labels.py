"""What is written on the page: a label for each change, and for each question the number it has in the notes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rewriter.model import Change, Page
from rewriter.overlay.frame import Rect, Row, rows
from rewriter.writing.marks import numbered
from rewriter.writing.notes import notes
from rewriter.writing.registry import Job

DUAL = 30  # characters between the two measures of one amount
LONGEST = 36  # characters; a longer label stands in the notes, and its letter on the page


@dataclass(frozen=True, slots=True)
class Label:
    """Words to write near a place: the page, the line of print, and the part of it they are about.

    start: the offset in the text of what they are about. below: they are a line of their own after this one.
    """

    words: str
    page: int
    row: Row
    about: Rect
    start: int
    below: bool = False


def labels(job: Job, pages: Sequence[Page]) -> tuple[list[Label], list[tuple[str, str]]]:
    """The labels of a job, and what is too long for one: its letter and its words."""
    lines = [(page.number, row) for page in pages for row in rows(page, job.text)]
    long: list[tuple[str, str]] = []
    out: list[Label] = []
    for change in _joined([change for change in job.changes if change.step != "next"], job.text):
        found = _label(change, lines)
        if found is not None and len(found.words) > LONGEST:
            letter = chr(ord("a") + len(long) % 26)
            long.append((letter, found.words))
            found = Label(f"note {letter}", found.page, found.row, found.about, found.start, found.below)
        out += [found] if found else []
    for number, query in numbered(notes(job)):
        out += _at(query.start, query.end, f"?{number}", lines)
    return out, long


def _joined(changes: Sequence[Change], text: str) -> Iterator[Change]:
    """Changes, with the measures of one dual amount ("350 F (175 C)") made one where they share a line."""
    from dataclasses import replace

    held: Change | None = None
    for change in changes:
        near = held is not None and 0 <= change.start - held.end <= DUAL and "\n" not in text[held.end : change.start]
        if held is not None and near and _alike(held, change):
            held = replace(held, end=change.end, new=f"{held.new} / {change.new}")
        else:
            if held is not None:
                yield held
            held = change
    if held is not None:
        yield held


def _alike(one: Change, other: Change) -> bool:
    plain = not (one.addition or other.addition) and one.step == other.step
    return plain and (one.rule, one.ingredient) == (other.rule, other.ingredient) and bool(one.old and other.old)


def _label(change: Change, lines: Sequence[tuple[int, Row]]) -> Label | None:
    new = " ".join(change.new.split())
    if change.step == "offer":
        new = f"or {new.removeprefix('+ ')}"
    elif change.old and not change.addition and change.direction != "note":
        new = f"→ {new}"
    own_line = change.direction == "insert" and change.start == change.end
    found = _at(change.start, change.end, new, lines, below=own_line)
    return found[0] if found else None


def _at(start: int, end: int, words: str, lines: Sequence[tuple[int, Row]], below: bool = False) -> list[Label]:
    """A label for some characters; for a place between them, about the word before it."""
    if start == end:
        before = [word for _, row in lines for word, _ in row.words if word.start < max(end, 1)]
        if not before:
            return []
        last = max(before, key=lambda word: word.start)
        start, end = last.start, last.end
    for page, row in lines:
        about = row.part(start, end)
        if about is not None:
            return [Label(words, page, row, about, start, below)]
    return []
