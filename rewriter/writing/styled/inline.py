"""inline: marks right after each amount, one block of notes at the end; ``strip`` gives the pasted text back."""

from __future__ import annotations

from rewriter.writing.block import plain
from rewriter.writing.marks import marks
from rewriter.writing.notes import notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import sealed


@style("inline")
def inline(job: Job) -> str:
    """The pasted text with ``[→ new]``, ``[+ added]`` and ``[! caution or question]`` marks."""
    told = notes(job)
    return sealed(job.text, marks(job, told), list(plain(told, job.explain)), "inline")
