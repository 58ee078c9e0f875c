"""criticmarkup: the open plain-text change format; each change can be accepted or rejected, its reason a comment.

``{~~old~>new~~}`` a substitution, ``{++added++}`` an addition, ``{>>words<<}`` a comment. Accepting all gives the
corrected recipe with its notes, rejecting all the pasted text.
"""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.writing.block import plain
from rewriter.writing.lines import line_end
from rewriter.writing.marks import placed
from rewriter.writing.notes import Notes, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.rows import few, flat, full
from rewriter.writing.seal import sealed


@style("criticmarkup", suffix=".critic.md")
def criticmarkup(job: Job) -> str:
    """The pasted text with every change as a substitution or addition, and the block as one addition."""
    told = notes(job)
    block = [_safe(line) for line in plain(told, job.explain)]
    marks = [*_marks(job, told, line_end(job.text)), (len(job.text), "{++")]
    return sealed(job.text, marks, block, "criticmarkup", "++}")


def _marks(job: Job, told: Notes, end: str) -> Iterator[tuple[int, str]]:
    for change in job.changes:
        why = full(change) if job.explain == "full" else few(change)
        comment = f"{{>>{_safe(flat(why))}<<}}" if why else ""
        if change.step == "next":
            continue
        if change.step == "offer" or (change.direction == "note" and not change.addition):
            yield change.end, f"{{>>{'or ' * (change.step == 'offer')}{_safe(flat(change.new))}<<}}"
        elif change.addition or change.start == change.end:
            yield _added(job.text, change.end, _safe(change.new), comment, change.direction == "insert", end)
        else:
            yield change.start, "{~~"
            yield change.end, f"~>{_safe(change.new)}~~}}{comment}"
    for section in told.sections:
        for asked in section.asked:
            if asked.query.end - asked.query.start > 0:
                yield asked.query.end, f"{{>>Question {asked.number}: {_safe(asked.text)}<<}}"


def _added(text: str, offset: int, words: str, comment: str, own_line: bool, end: str) -> tuple[int, str]:
    """An addition; the space or line end that sets it off is part of it, so that rejecting it leaves nothing."""
    at, mark = placed(text, offset, words, own_line, end)
    return at, f"{{++{mark}++}}{comment}"


def _safe(words: str) -> str:
    """Words that hold no mark of the format themselves."""
    for mark in ("{~~", "~~}", "{++", "++}", "{--", "--}", "{>>", "<<}", "{==", "==}", "~>"):
        words = words.replace(mark, " ".join(mark))
    return words
