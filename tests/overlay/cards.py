"""The specimen cards, each taken and annotated once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import rewriter
from rewriter import intake
from rewriter.further import job_of
from rewriter.intake import Taken
from rewriter.overlay import annotated, checked
from rewriter.writing.registry import Job

CARDS = Path(__file__).parents[2] / "corpus" / "specimens"
NAMES = ("typed.pdf", "two-columns.pdf", "photographed.jpg")


@cache
def card(name: str) -> tuple[Taken, Job, bytes]:
    """A specimen as taken, its job at 6,500 ft, and the annotated PDF."""
    return done(intake.take(CARDS / name))


def done(taken: Taken) -> tuple[Taken, Job, bytes]:
    """Any page as taken, its job at 6,500 ft, and the annotated PDF."""
    job = checked(job_of(rewriter.rewrite(taken.text, "6500 ft")), taken)
    return taken, job, annotated(taken, job)
