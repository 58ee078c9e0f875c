"""clean: the corrected recipe alone, its numbers replaced in its own manner, saying for which elevation it is."""

from __future__ import annotations

from rewriter.model import Recipe
from rewriter.writing.block import CAUTION
from rewriter.writing.corrected import corrected
from rewriter.writing.lines import line_end
from rewriter.writing.notes import Notes, Section, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.seal import insert

ADJUSTED = "Adjusted for "


@style("clean", reversible=False)
def clean(job: Job) -> str:
    """The corrected recipe, a line under its title, and what must be known below it."""
    end = line_end(job.text)
    told = notes(job)
    text = corrected(job.text, job.changes, end, recipes=job.recipes)
    moved = any(change.step == "now" and change.direction != "note" for change in job.changes)
    if moved:
        text = insert(
            text, [(_under_title(text, recipe, job, end), adjusted(told) + end) for recipe in job.recipes[:1]]
        )
    below = list(_below(told))
    if not below:
        return text
    gap = end if text.endswith(("\n", "\r")) else end * 2
    return text + gap + end.join([*below, ""])


def adjusted(told: Notes) -> str:
    """The line that says for which elevation the amounts are.

    >>> adjusted(Notes("6,500 ft (1,981 m); water boils at 200 F (93 C); practice guide", (), ()))
    'Adjusted for 6,500 ft (1,981 m); water boils at 200 F (93 C); practice guide'
    """
    return ADJUSTED + told.heading


def _under_title(text: str, recipe: Recipe, job: Job, end: str) -> int:
    """After the title's line where it opens the recipe, else at the recipe's first line."""
    start = recipe.start if recipe.start <= len(text) else 0
    at = text.find(recipe.title, start) if recipe.title else -1
    first_change = min((change.start for change in job.changes), default=len(text))
    if at < 0 or at > first_change:
        return start
    stop = text.find(end, at)
    return len(text) if stop < 0 else stop + len(end)


def _below(told: Notes) -> list[str]:
    out: list[str] = []
    for section in told.sections:
        lines = list(_section(section))
        if lines and len(told.sections) > 1 and section.title:
            out.append(f"-- {section.title} --")
        out += lines
    return out


def _section(section: Section) -> list[str]:
    out = [f"{title}: {item}" for title, items in section.at_the_oven for item in items]
    out += [f"Question {asked.number}: {asked.text}" for asked in section.asked]
    return out + [CAUTION + text for text in section.cautions]
