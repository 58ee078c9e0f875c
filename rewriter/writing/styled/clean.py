"""clean: the corrected recipe alone, its numbers replaced in its own manner, saying for which elevation it is."""

from __future__ import annotations

from rewriter.model import Change, Recipe
from rewriter.writing.block import CAUTION
from rewriter.writing.corrected import corrected
from rewriter.writing.lines import line_end
from rewriter.writing.notes import Notes, Section, notes
from rewriter.writing.registry import Job, style

ADJUSTED = "Adjusted for "


@style("clean", reversible=False)
def clean(job: Job) -> str:
    """The corrected recipe, a line under its title, and what must be known below it."""
    end = line_end(job.text)
    told = notes(job)
    lines = [(_under_title(job, recipe, end), adjusted(told) + end) for recipe in job.recipes if _moved(job, recipe)]
    text = corrected(job.text, job.changes, end, recipes=job.recipes, lines=lines)
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


def _moved(job: Job, recipe: Recipe) -> list[Change]:
    """The changes that stand in the recipe."""
    return [
        change
        for change in job.changes
        if change.step == "now" and change.direction != "note" and recipe.start <= change.start <= recipe.end
    ]


def _under_title(job: Job, recipe: Recipe, end: str) -> int:
    """After the title's line where it opens the recipe, else before the recipe's first line."""
    first = _moved(job, recipe)[0].start
    at = job.text.find(recipe.title, recipe.start, first) if recipe.title else -1
    stop = job.text.find(end, at, first) if at >= 0 else -1
    return stop + len(end) if stop >= 0 else _line_start(job.text, max(at, recipe.start), end)


def _line_start(text: str, offset: int, end: str) -> int:
    before = text.rfind(end, 0, offset)
    return before + len(end) if before >= 0 else 0


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
