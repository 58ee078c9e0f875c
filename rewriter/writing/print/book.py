"""A booklet: every recipe on a page of its own, contents before several, the guide by elevation after them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from itertools import pairwise
from typing import Any

from rewriter.writing.notes import boiling, place
from rewriter.writing.print.sheet import sheets
from rewriter.writing.print.typeset import template, typeset
from rewriter.writing.registry import Job


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper: width, height and margin in points, the size of its type, and whether it is a card.

    Source of the sizes: ISO 216 (A4, 210 x 297 mm); ANSI/ASME Y14.1 (letter, 8.5 x 11 in); cards are cut as named.
    """

    width: float
    height: float
    margin: float
    type_size: float
    card: bool = False


PAPERS = {
    "letter": Paper(612, 792, 64, 13),
    "a4": Paper(595.276, 841.89, 62, 13),
    "card-4x6": Paper(432, 288, 20, 10.5, card=True),
    "card-5x8": Paper(576, 360, 26, 12, card=True),
}


@dataclass(frozen=True, slots=True)
class Curve:
    """What a guide says of one thing over elevation: (feet, figure) points, joined by straight lines.

    Before the first point it says nothing; after the last one its figure is held. here: the figure for this kitchen.
    """

    title: str
    unit: str
    points: tuple[tuple[float, float], ...]
    here: float


def book(
    jobs: Sequence[Job], paper: str = "letter", title: str = "", curves: Sequence[Curve] = (), whole: bool = True
) -> bytes:
    """A PDF of the recipes of some jobs, all for one kitchen.

    paper: one of :data:`PAPERS`. title: of the booklet. curves: for a last page with the guide by elevation, or none.
    whole: all words of each text; else what stands around the recipe (greetings, comments) is left out.
    An ingredient list stays on one page as long as one can hold it: its type is made smaller and it is set in two
    columns first. Raises ValueError where there is no job or no such paper.
    """
    if paper not in PAPERS:
        raise ValueError(f"no paper {paper!r}; there are: {', '.join(PAPERS)}")
    if not jobs:
        raise ValueError("no recipes to print")
    air = jobs[0].air
    data: dict[str, Any] = {
        "paper": asdict(PAPERS[paper]),
        "title": title or f"Recipes for {place(air)}",
        "place": place(air),
        "boiling": boiling(air),
        "feet": float(air.elevation_ft) or air.elevation_m / 0.3048,
        "recipes": [sheet for job in jobs for sheet in sheets(job, whole)],
        "curves": [_drawn(curve) for curve in curves],
    }
    return typeset(template("notes.typ", "page.typ"), data)


def _drawn(curve: Curve, last: float = 12_000) -> dict[str, Any]:
    """A curve as runs of points from sea level to ``last`` feet; a run ends where the figure jumps."""
    points = [point for point in curve.points if point[0] <= last]
    start = points[0][0] if points else last
    line = [(start, 0.0), *points, (last, points[-1][1])] if points else []
    line = ([(0.0, 0.0)] if start > 0 else []) + line
    line = [one for one, following in pairwise(line) if one != following] + line[-1:]
    return {
        "title": curve.title,
        "unit": curve.unit,
        "line": line,
        "most": max((figure for _, figure in line), default=1.0) or 1.0,
        "here": curve.here,
    }
