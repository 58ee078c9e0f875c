"""What each guide would do: place by place for this kitchen, and against elevation for the picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from rewriter import air as airs
from rewriter.api import Result
from rewriter.correcting import GUIDES, load_guide
from rewriter.correcting.comparison import Compared, course
from rewriter.correcting.comparison import compare as compared
from rewriter.model import Air, Answer, Edit, Plan, Recipe
from rewriter.web.cards import figure
from rewriter.writing import measure

STEP_FT, TOP_FT = 1000, 12_000
# What the picture shows: its name, what it says, its unit, and the figure that means "as written".
LINES = (
    ("leavener", "leavening left", "%", 100.0),
    ("sugar", "sugar left", "%", 100.0),
    ("liquid", "liquid added", "Tbsp", 0.0),
    ("oven", "oven heat added", "°F", 0.0),
)


def told_base(recipe: Recipe, written_for: str, answers: Sequence[Answer]) -> Air:
    """The air a recipe was written for: as answered for it, else as given for all."""
    told = next((answer.value for answer in answers if answer.query == f"written-for@{recipe.start}"), None)
    return airs.of(told or written_for)


def compare(result: Result, written_for: str, answers: Sequence[Answer]) -> dict[str, Any]:
    """What every guide writes at each place that any of them changes, and which one to start from."""
    cards = []
    for recipe, mine in zip(result.recipes, result.plans, strict=True):
        base = told_base(recipe, written_for, answers)
        made = compared(recipe, result.air, base, mine.strength, answers)
        cards.append(
            {
                "start": recipe.start,
                "places": [_place(result, recipe, row) for row in made.rows],
                "start_from": [{"kind": kind, "guide": guide, "why": why} for kind, guide, why in made.start_from],
                "published": {"text": made.published, "source": made.published_source},
            }
        )
    return {"guides": list(guide_titles()), "cards": cards}


def guide_titles() -> Iterator[dict[str, str]]:
    """Every guide's name, title and source."""
    for name in GUIDES:
        guide = load_guide(name)
        yield {"name": name, "title": guide.title, "source": guide.source}


def _place(result: Result, recipe: Recipe, row: Compared) -> dict[str, Any]:
    return {
        "start": row.start,
        "end": row.end,
        "old": result.source[row.start : row.end],
        "about": " ".join(row.label.split()),
        "by": {guide: _theirs(result, recipe, edit) for guide, edit in row.by.items()},
    }


def _theirs(result: Result, recipe: Recipe, edit: Edit | None) -> dict[str, Any] | None:
    """One guide's figure, as measured and exact; None where it leaves the place alone."""
    if edit is None:
        return None
    changes = measure(result.source, recipe, Plan(edits=(edit,)))
    new = next((change.new for change in changes if (change.start, change.end) == (edit.start, edit.end)), "")
    return {"new": new, "exact": figure(edit.exact, edit.unit), "why": edit.why, "source": edit.source}


def curves(result: Result, written_for: str, answers: Sequence[Answer]) -> dict[str, Any]:
    """Each recipe's main changes by every guide from sea level to 12,000 ft, and in this kitchen."""
    feet = sorted({*range(0, TOP_FT + 1, STEP_FT), 2500, 3500, 6500, 7500})
    places = [*(airs.of(f"{height} ft") for height in feet), result.air]
    cards = []
    for recipe, mine in zip(result.recipes, result.plans, strict=True):
        base = told_base(recipe, written_for, answers)
        drawn = {guide: course(recipe, base, places, guide, mine.strength) for guide in GUIDES}
        lines = []
        for name, title, unit, rest in LINES:
            by = {guide: [round(float(value), 2) for value in drawn[guide][name]] for guide in GUIDES}
            if any(value != rest for values in by.values() for value in values):
                theirs = {guide: {"line": values[:-1], "here": values[-1]} for guide, values in by.items()}
                lines.append({"name": name, "title": title, "unit": unit, "rest": rest, "by": theirs})
        cards.append({"start": recipe.start, "lines": lines})
    return {"feet": feet, "here_ft": float(result.air.elevation_ft), "guides": list(guide_titles()), "cards": cards}
