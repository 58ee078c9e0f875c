"""One recipe as a sheet: its lines told apart as title, ingredient lists and method, each in marked pieces."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from rewriter.model import Change, Recipe
from rewriter.writing.block import fitted
from rewriter.writing.marks import numbered
from rewriter.writing.notes import Notes, Section, home, notes
from rewriter.writing.registry import Job

Piece = tuple[str, str]  # ("plain" | "old" | "new" | "ask", words)
_END = re.compile(r"\r\n|\r|\n")
_HEADING = 60  # a longer line is no heading
_HEADS = re.compile(
    r"\W*(ingredients|method|directions|instructions|preparation|procedure|steps|notes?|tips|nutrition|storage|"
    r"to (make|assemble|serve|finish)\b.{0,30}|(for )?the \w+( \w+)?)\W*",
    re.IGNORECASE,
)
_FULL = 45  # a line this long, followed by a small letter, was broken by its page and not by its writer


@dataclass(frozen=True, slots=True)
class Line:
    """A line of the text: where it stands, its kind (item, text or blank) and its pieces."""

    start: int
    end: int
    kind: str
    pieces: tuple[Piece, ...]


def sheets(job: Job, whole: bool = True) -> list[dict[str, Any]]:
    """Every recipe of a job as plain data for the page: title, blocks and notes, in reading order.

    whole: all of the text; else from the head of the first ingredient list to the end of the method.
    """
    out = []
    for index, recipe in enumerate(job.recipes):
        start = recipe.start if index else 0
        end = job.recipes[index + 1].start if index + 1 < len(job.recipes) else len(job.text)
        own = alone(job, index)
        out.append(_sheet(own, recipe, *((start, end) if whole else _core(own, recipe, start, end))))
    return out


def _core(job: Job, recipe: Recipe, start: int, end: int) -> tuple[int, int]:
    """Where the recipe itself begins and ends, without what a web page puts around it; all, where no list tells."""
    listed = [one for one in recipe.ingredients if one.listed]
    if not listed:
        return start, end
    ends = [*(one.end for one in listed), *(stop for _, stop in recipe.method), *(c.end for c in job.changes)]
    first = job.text.rfind("\n", 0, min(one.start for one in listed)) + 1
    head = job.text.rfind("\n\n", start, first)
    if head >= 0 and first - head <= 2 * _HEADING:
        first = head + 2
    stop = job.text.find("\n", max(ends))
    return max(start, first), min(end, stop if stop >= 0 else end)


def alone(job: Job, index: int) -> Job:
    """The part of a job that is about one of its recipes; what is about none goes with the first."""
    changes = [change for change in job.changes if max(home(job, change.start), 0) == index]
    queries = [query for query in job.queries if max(home(job, query.start), 0) == index]
    return replace(
        job, recipes=[job.recipes[index]], plans=job.plans[index : index + 1], changes=changes, queries=queries
    )


def _sheet(job: Job, recipe: Recipe, start: int, end: int) -> dict[str, Any]:
    told = notes(job)
    lines = list(_lines(job, recipe, told, start, end))
    title = " ".join(recipe.title.split())
    if title and lines and " ".join(job.text[lines[0].start : lines[0].end].split()).strip("#*=_ ") == title:
        lines = lines[1:]
    return {
        "title": title or "Recipe",
        "blocks": list(_blocks(lines)),
        "heading": told.heading,
        "changed": any(change.step == "now" for change in job.changes),
        "notes": [_told(section, job.explain) for section in told.sections],
        "sources": "; ".join(told.sources),
    }


def _lines(job: Job, recipe: Recipe, told: Notes, start: int, end: int) -> Iterator[Line]:
    """The lines from ``start`` to ``end``, with those the changes add; none blank at the beginning."""
    items = [(one.start, one.end) for one in recipe.ingredients if one.listed]
    shown = [change for change in job.changes if change.step != "next"]
    own = [change for change in shown if _own_line(job.text, change)]
    inside = [change for change in shown if change not in own]
    asked = [(query.end, f"?{number}") for number, query in numbered(told)]
    begun = False
    for a, b in _spans(job.text, start, end):
        words = job.text[a:b].strip()
        listed = any(first < b and last > a for first, last in items)
        added = [Line(b, b, "item", (("new", change.new),)) for change in own if change.end == b]
        early = [Line(a, a, "item", (("new", change.new),)) for change in own if change.end == a != b]
        yield from early
        if words or begun:
            begun = True
            kind = "item" if listed else "text" if words else "blank"
            yield Line(a, b, kind, tuple(_pieces(job.text, a, b, inside, asked)))
        yield from added


def _spans(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """Where each line begins and ends, without its line end."""
    for found in _END.finditer(text, start, end):
        yield start, found.start()
        start = found.end()
    yield start, end


def _own_line(text: str, change: Change) -> bool:
    at = change.end
    edge = text[at - 1 : at] in ("", "\n", "\r") or text[at : at + 1] in ("", "\n", "\r")
    return change.direction == "insert" and change.start == change.end and edge


def _pieces(
    text: str, start: int, end: int, changes: Sequence[Change], asked: Sequence[tuple[int, str]]
) -> Iterator[Piece]:
    """A line in pieces: what stays, what is struck, what is new, and the numbers of questions."""
    marks: list[tuple[int, int, list[Piece]]] = [
        (change.start, change.end, list(_marked(change))) for change in changes if start <= change.start <= end
    ]
    marks = [mark for mark in marks if mark[1] <= end and (mark[0] < end or mark[1] == end)]
    marks += [(at, at, [("ask", words)]) for at, words in asked if start < at <= end]
    at = start
    for first, last, pieces in sorted(marks, key=lambda mark: mark[:2]):
        if first < at and last > first:
            continue  # two changes of one figure: the first is shown
        yield ("plain", text[at : max(first, at)])
        yield from pieces
        at = max(at, last)
    yield ("plain", text[at:end])


def _marked(change: Change) -> Iterator[Piece]:
    if change.step == "offer":
        yield ("plain", change.old)
        yield ("new", f"or {change.new.removeprefix('+ ')}")
    elif change.addition or change.start == change.end or change.direction == "note":
        yield ("plain", change.old)
        yield ("new", change.new)
    else:
        yield ("old", change.old)
        yield ("new", change.new)


def _blocks(lines: Sequence[Line]) -> Iterator[dict[str, Any]]:
    """Lists, headings and paragraphs. A list holds its part headings, so that a page break cannot part them."""
    at = 0
    while at < len(lines):
        stop = _list_end(lines, at)
        if stop > at:
            yield {"kind": "list", "groups": [[_data(line) for line in group] for group in _groups(lines[at:stop])]}
            at = stop
        elif lines[at].kind == "blank":
            at += 1
        else:
            stop = _paragraph_end(lines, at)
            kind = "heading" if _heads(lines, at, stop) else "text"
            yield {"kind": kind, "pieces": _joined(lines[at:stop])}
            at = stop


def _heads(lines: Sequence[Line], at: int, stop: int) -> bool:
    """Whether a line is the heading of what follows: one of the words that head a part of a recipe, alone."""
    words = "".join(words for _, words in lines[at].pieces)
    return stop == at + 1 < len(lines) and bool(_HEADS.fullmatch(words))


def _list_end(lines: Sequence[Line], at: int) -> int:
    """Where the ingredient list that begins here ends; ``at`` where none does. Short lines between items belong."""
    last, gap = at, 0
    for index in range(at, len(lines)):
        line = lines[index]
        if line.kind == "item":
            last, gap = index + 1, 0
        elif line.kind == "text":
            gap += 1
            if gap > (2 if last > at else 1) or line.end - line.start > _HEADING:
                break
        elif last == at and index > at:
            # a heading, then an empty line: still the head of the list that follows
            continue
    return last


def _groups(lines: Sequence[Line]) -> Iterator[list[Line]]:
    group: list[Line] = []
    for line in lines:
        if line.kind == "blank":
            if any(one.kind == "item" for one in group):
                yield group
                group = []
        else:
            group.append(line)
    if group:
        yield group


def _paragraph_end(lines: Sequence[Line], at: int) -> int:
    """Where a paragraph ends: lines that the old page broke are one again."""
    for index in range(at + 1, len(lines)):
        before, line = lines[index - 1], lines[index]
        first = "".join(words for _, words in line.pieces).lstrip()[:1]
        if line.kind != "text" or before.end - before.start < _FULL or not first.islower():
            return index
    return len(lines)


def _joined(lines: Sequence[Line]) -> list[Piece]:
    out: list[Piece] = []
    for index, line in enumerate(lines):
        out += [*([("plain", " ")] if index else []), *line.pieces]
    return [piece for piece in out if piece[1]]


def _data(line: Line) -> dict[str, Any]:
    return {"item": line.kind == "item", "pieces": [piece for piece in line.pieces if piece[1]]}


def _told(section: Section, explain: str) -> dict[str, Any]:
    """The notes of one recipe for the page."""
    rows = [(row.name, row.old, row.new, why) for row, why in fitted(section, explain)]
    return {
        "opening": list(section.opening),
        "rows": rows,
        "more": len(section.rows) - len(rows),
        "lists": [(title, list(items)) for title, items in section.lists],
        "asked": [(asked.number, asked.text) for asked in section.asked],
        "cautions": list(section.cautions),
    }
