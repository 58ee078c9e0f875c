"""markdown: the old amount struck through, the new one bold, the block as a table and lists."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rewriter.writing.block import CAUTION, first_line, fitted
from rewriter.writing.lines import line_end
from rewriter.writing.marks import numbered, placed
from rewriter.writing.notes import Notes, Section, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import sealed

_SOFT = re.compile(r"(?<=[^\s])(?=(?:\r\n|\n|\r)[^\s])")


@style("markdown", suffix=".md")
def markdown(job: Job) -> str:
    """The pasted text with ``~~old~~ **new**``, its line breaks kept when it is shown, and the block."""
    told = notes(job)
    marks = [*_marks(job, told), *((match.start(), "  ") for match in _SOFT.finditer(job.text))]
    return sealed(job.text, marks, list(_block(told, job.explain)), "markdown")


def _marks(job: Job, told: Notes) -> Iterator[tuple[int, str]]:
    end = line_end(job.text)
    for change in job.changes:
        new = escaped(change.new)
        if change.step == "next":
            continue
        if change.direction == "note" or change.step == "offer" or change.addition or change.start == change.end:
            words = f"**or {new.removeprefix('+ ')}**" if change.step == "offer" else f"**{new}**"
            yield placed(job.text, change.end, words, change.start == change.end and change.direction == "insert", end)
        else:
            yield change.start, "~~"
            yield change.end, f"~~ **{new}**"
    for number, query in numbered(told):
        yield placed(job.text, query.end, f"*[question {number}]*", False, end)


def escaped(words: str) -> str:
    """Words with Markdown's own characters escaped."""
    return re.sub(r"([\\`*_~|\[\]<>#])", r"\\\1", words)


def _block(told: Notes, explain: str) -> Iterator[str]:
    yield first_line(told)
    for section in told.sections:
        if len(told.sections) > 1:
            yield from ("", f"### {escaped(section.heading)}")
        yield from _section(section, explain)
    if told.sources:
        yield from ("", f"Sources: {escaped('; '.join(told.sources))}.")
    yield ""


def _section(section: Section, explain: str) -> Iterator[str]:
    for line in section.opening:
        yield from ("", escaped(line))
    if section.rows:
        yield from ("", *table(section, explain))
    for title, items in section.lists:
        yield from ("", f"**{title}**", "", *(f"- {escaped(item)}" for item in items))
    if section.asked:
        yield from ("", "**Questions**", "", *(f"{asked.number}. {escaped(asked.text)}" for asked in section.asked))
    for text in section.cautions:
        yield from ("", f"**{CAUTION.strip()}** {escaped(text)}")


def table(section: Section, explain: str) -> list[str]:
    """The table of changes, as far as it fits."""
    head = ["| What | Was | Now | Why |", "| --- | --- | --- | --- |"]
    shown = fitted(section, explain)
    more = len(section.rows) - len(shown)
    lines = [f"| {' | '.join(map(escaped, (row.name, row.old, row.new, why)))} |" for row, why in shown]
    told = [f"*{more} changes are marked above.*"] if more else []
    return [*head, *lines, *([""] if told else []), *told] if lines else told
