"""criticmarkup: the open plain-text change format; each change can be accepted or rejected, its reason a comment.

``{~~old~>new~~}`` a substitution, ``{++added++}`` an addition, ``{>>words<<}`` a comment. Accepting all gives the
corrected recipe with its notes, rejecting all the pasted text.
"""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.writing.block import plain
from rewriter.writing.corrected import pieces
from rewriter.writing.lines import line_end
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
    for piece in pieces(job.text, job.changes, end, job.recipes):
        why = full(piece.change) if job.explain == "full" else few(piece.change)
        comment = f"{{>>{_safe(flat(why))}<<}}" if why else ""
        if piece.start == piece.end:
            yield piece.end, f"{{++{_safe(piece.words)}++}}{comment}"
        else:
            yield piece.start, "{~~"
            yield piece.end, f"~>{_safe(piece.words)}~~}}{comment}"
    for change in job.changes:
        if change.step == "offer" or (change.direction == "note" and not change.addition):
            yield change.end, f"{{>>{'or ' * (change.step == 'offer')}{_safe(flat(change.new))}<<}}"
    for section in told.sections:
        for asked in section.asked:
            if asked.query.end - asked.query.start > 0:
                yield asked.query.end, f"{{>>Question {asked.number}: {_safe(asked.text)}<<}}"


def _safe(words: str) -> str:
    """Words that hold no mark of the format themselves."""
    for mark in ("{~~", "~~}", "{++", "++}", "{--", "--}", "{>>", "<<}", "{==", "==}", "~>"):
        words = words.replace(mark, " ".join(mark))
    return words
