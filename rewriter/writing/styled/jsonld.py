"""jsonld: the corrected recipe as schema.org Recipe; what came in as JSON-LD is kept, its amounts corrected."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from rewriter.model import Change, Recipe
from rewriter.writing.block import CAUTION
from rewriter.writing.corrected import corrected
from rewriter.writing.notes import Notes, Section, home, notes
from rewriter.writing.registry import Job, style
from rewriter.writing.rows import flat

_SCRIPT = re.compile(r"<script[^>]*application/ld\+json[^>]*>(?P<json>.*?)</script>", re.S | re.I)
_BULLET = re.compile(r"^\s*(?:[-*•▢☐]|\d+[.)])\s+")
CONTEXT = "https://schema.org"


@style("jsonld", suffix=".jsonld", reversible=False)
def jsonld(job: Job) -> str:
    """JSON with one Recipe, or a list of them."""
    told = notes(job)
    kept = _came_in(job)
    found = list(_recipes(kept)) if kept is not None else []
    if found:
        for recipe in found:
            _split_lines(recipe)
            recipe.update(_said(told, told.sections, recipe))
        out: Any = kept
    else:
        made = [_recipe(job, told, index, recipe) for index, recipe in enumerate(job.recipes)]
        out = made[0] if len(made) == 1 else made
    return json.dumps(out, ensure_ascii=False, indent=2) + "\n"


def _came_in(job: Job) -> Any:
    """The paste's own JSON-LD with its amounts corrected, or None where it has none."""
    text = job.text
    start, stop = 0, len(text)
    if text.lstrip()[:1] not in ("{", "["):
        script = next((match for match in _SCRIPT.finditer(text) if "Recipe" in match["json"]), None)
        if script is None:
            return None
        start, stop = script.span("json")
    changes = [replace(change, new=json.dumps(change.new, ensure_ascii=False)[1:-1]) for change in job.changes]
    try:
        return json.loads(corrected(text, changes, "\\n", start, stop))
    except ValueError:
        return None


def _recipes(data: Any) -> Iterator[dict[str, Any]]:
    """Every Recipe in some JSON-LD."""
    if isinstance(data, list):
        for item in data:
            yield from _recipes(item)
    elif isinstance(data, dict):
        kinds = data.get("@type")
        if kinds == "Recipe" or (isinstance(kinds, list) and "Recipe" in kinds):
            yield data
        else:
            yield from _recipes(data.get("@graph"))


def _split_lines(recipe: dict[str, Any]) -> None:
    """An ingredient that was added on a line of its own becomes an entry of its own."""
    lines = recipe.get("recipeIngredient")
    if isinstance(lines, list):
        recipe["recipeIngredient"] = [
            part for line in lines for part in (line.split("\n") if isinstance(line, str) else [line])
        ]


def _recipe(job: Job, told: Notes, index: int, recipe: Recipe) -> dict[str, Any]:
    changes = [change for change in job.changes if home(job, change.start) == index]
    made: dict[str, Any] = {"@context": CONTEXT, "@type": "Recipe", "name": flat(recipe.title) or "Recipe"}
    made["recipeIngredient"] = _ingredients(job.text, recipe, changes)
    made["recipeInstructions"] = [{"@type": "HowToStep", "text": step} for step in _steps(job.text, recipe, changes)]
    mine = [section for section in told.sections if len(job.recipes) == 1 or section.title == flat(recipe.title)]
    return made | _said(told, mine, made)


def _ingredients(text: str, recipe: Recipe, changes: Sequence[Change]) -> list[str]:
    """The corrected lines of the list; in running prose the words of each ingredient."""
    out: list[str] = []
    done = -1
    for item in recipe.ingredients:
        start, stop = _line(text, item.start, item.end) if item.listed else (item.start, item.end)
        if start >= done:
            lines = corrected(text, changes, "\n", start, stop, [recipe]).split("\n")
            out += [flat(_BULLET.sub("", line)) for line in lines if line.strip()]
            done = stop
    return out


def _line(text: str, start: int, stop: int) -> tuple[int, int]:
    before = max(text.rfind("\n", 0, start), text.rfind("\r", 0, start)) + 1
    ends = [at for at in (text.find("\n", stop), text.find("\r", stop)) if at >= 0]
    return before, min(ends, default=len(text))


def _steps(text: str, recipe: Recipe, changes: Sequence[Change]) -> list[str]:
    return [
        flat(_BULLET.sub("", line))
        for start, stop in recipe.method
        for line in corrected(text, changes, "\n", start, stop).splitlines()
        if line.strip()
    ]


def _said(told: Notes, sections: Sequence[Section], recipe: dict[str, Any]) -> dict[str, Any]:
    """For which elevation it is, and every question and caution as a comment."""
    adjusted = f"Adjusted for {told.heading}."
    before = recipe.get("description")
    words = [f"Question: {asked.text}" for section in sections for asked in section.asked]
    words += [CAUTION + text for section in sections for text in section.cautions]
    words += [f"{title}: {item}" for section in sections for title, items in section.at_the_oven for item in items]
    said: dict[str, Any] = {"description": f"{before} {adjusted}" if isinstance(before, str) and before else adjusted}
    if words:
        earlier = recipe.get("comment", [])
        earlier = earlier if isinstance(earlier, list) else [earlier]
        said["comment"] = [*earlier, *({"@type": "Comment", "text": text} for text in words)]
    return said
