"""Amounts a machine read from a picture: each is held against what is plausible, and asked about when in doubt.

A machine that reads a photo is good at words and poor at small fractions. An amount in doubt is left as it is, and
where it could be the flour's, nothing is reckoned from it. A person settles it by saying what the line says.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any, TypeVar

from rewriter.intake import Taken
from rewriter.model import Amount, Change, Edit, Heat, Page, Query, Recipe, Word
from rewriter.overlay.settle import MARK
from rewriter.writing.registry import Job

Move = TypeVar("Move", Edit, Change)
UNSURE = 0.75  # a figure read with less confidence is doubted, whatever it says
LONGEST = 70  # characters; a longer line is no line of an ingredient list
BULK = frozenset({"flour", "starch", "self-rising"})
FROM_FLOUR = frozenset({"liquid", "hydration"})  # rules that reckon from the weight of the flour
_UNIT = r"(?:cups?|tsp|tbsp|teaspoons?|tablespoons?|oz|ounces?|lbs?|pounds?|pints?|quarts?|sticks?|grams?|g|ml)\b"
_SMALL = "¼½¾⅐-⅞"
_ODD = re.compile(
    rf"\W{{0,3}}(?P<odd>[^\s\w]*\w{{0,3}}[%&?|\\{{}}~¢£§]\S{{0,3}}|[A-Za-z]\d\S*|\d[A-Za-z]\d|[lIyYVv]/\S+"
    rf"|\d*[{_SMALL}][\d/]\S*|/)\s+{_UNIT}",
    re.IGNORECASE,
)
_BARE = re.compile(r"\W{0,3}(?P<odd>(?:cup|teaspoon|tablespoon|tsp|tbsp)s?)\s+\w", re.IGNORECASE)
_ONE = re.compile(r"\b(cup|teaspoon|tablespoon|ounce|pound|stick|pint|quart)\b", re.IGNORECASE)
_FIGURE = re.compile(rf"[\d{_SMALL}]")
_JOINED = re.compile(r"\d\d/\d$")
_FLOUR = re.compile(r"\b(flour|meal|starch|oats)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Doubt:
    """Words in doubt, why, and the figures that may have stood in the place of the one read."""

    start: int
    end: int
    why: str
    bulk: bool = False
    figure: str = ""
    meant: tuple[str, ...] = ()


def checked(job: Job, taken: Taken, said: Iterable[int] = ()) -> Job:
    """A job without the changes that rest on amounts in doubt, and with the questions about them.

    job: of ``taken.text``. said: numbers of the lines a person has settled. A job of words that no machine read comes
    back as it is. Ids of the questions: card@ and the number of the line.
    """
    said = set(said)
    found = [one for one in _found(job.text, job.recipes, taken.pages) if _number(job.text, one.start) not in said]
    if not found:
        return job
    queries = sorted([*job.queries, *_queries(job.text, found)], key=lambda query: query.start)
    plans = [replace(plan, edits=_held(found, plan.edits), later=_held(found, plan.later)) for plan in job.plans]
    return replace(job, queries=queries, changes=_held(found, job.changes), plans=plans)


def doubts(text: str, recipes: Sequence[Recipe], pages: Sequence[Page]) -> list[Query]:
    """A question for every line with an amount or an oven setting, read by machine, that can hardly be meant."""
    return _queries(text, _found(text, recipes, pages))


def _queries(text: str, found: Sequence[_Doubt]) -> list[Query]:
    return list({query.id: query for query in (_query(text, one) for one in reversed(found))}.values())[::-1]


def _held(found: Sequence[_Doubt], moves: Sequence[Move]) -> tuple[Move, ...]:
    """The edits or changes that still hold: not on an amount in doubt, nor reckoned from flour in doubt."""
    lost = any(one.bulk for one in found)
    sound = (move for move in moves if not any(move.start <= one.end and move.end > one.start for one in found))
    return tuple(move for move in sound if not (lost and move.rule in FROM_FLOUR))


def _found(text: str, recipes: Sequence[Recipe], pages: Sequence[Page]) -> list[_Doubt]:
    read = [word for page in pages for word in page.words if word.confidence < 1.0]
    if not read:
        return []
    found: dict[int, _Doubt] = {}
    for one in _odd_lines(text):
        found.setdefault(one.start, one)
    for recipe in recipes:
        for one in (*_amounts(recipe, read), *_heats(recipe, read)):
            found.setdefault(one.start, one)
    doubted = [one for _, one in sorted(found.items())]
    return [one for one in doubted if any(word.start < one.end and word.end > one.start for word in read)]


def _odd_lines(text: str) -> Iterator[_Doubt]:
    """Lines that begin with no figure, or with something that is none, before a measure."""
    for found in re.finditer(r"[^\n]+", text):
        bare, odd = _BARE.match(found[0]), _ODD.match(found[0])
        match = odd or bare
        if match is not None and len(found[0]) <= LONGEST:
            start, end = found.start() + match.start("odd"), found.start() + (match.end() if odd else match.end("odd"))
            why = "this was read where a figure must be" if odd else "no figure was read before the measure"
            yield _Doubt(start, end, why, bool(_FLOUR.search(found[0])))


def _amounts(recipe: Recipe, read: Sequence[Word]) -> Iterator[_Doubt]:
    shares = _shares(recipe)
    for one in recipe.ingredients:
        for place, amount in enumerate(one.amounts):
            why = _why(amount, read, shares if place == 0 else {})
            if why:
                figure = amount.text.split()[0] if amount.text.split() else ""
                yield _Doubt(amount.start, amount.end, why, one.role in BULK, figure, tuple(_meant(figure)))


def _meant(figure: str) -> Iterator[str]:
    """Figures that may stand on the card where a machine read this one."""
    yield from _table()["taken-for"].get(figure, ())
    small = re.search(f"[{_SMALL}]", figure)
    for other in _table()["small"] if small else ():
        if small and other != small[0]:
            yield figure.replace(small[0], other)


def _why(amount: Amount, read: Sequence[Word], shares: dict[int, str]) -> str:
    """Why an amount is doubted; "" where it is not."""
    figure = amount.text.split()[0] if amount.text.split() else ""
    if _sure(amount, read) < UNSURE:
        return "the machine was not sure of it"
    if re.search(f"[{_SMALL}]", amount.text):
        return "small fractions are often taken for one another"
    if amount.quantity is None or amount.count is not None:
        return ""
    if _JOINED.match(figure) and amount.quantity > 1:
        return "a space may be lost in it"
    if amount.quantity > 1 and amount.quantity_max is None and _ONE.search(amount.text) and len(figure) > 1:
        return "the measure says one, the figure says more"
    least, most = _table()["spoons"].get(amount.unit, (None, None))
    if least is not None and not Fraction(least) <= amount.quantity <= Fraction(most):
        return "it is more or less than such a recipe holds"
    return shares.get(amount.start, "")


def _sure(place: Amount | Heat, read: Sequence[Word]) -> float:
    """How sure the machine was of the figures in some words."""
    here = [word for word in read if word.start < place.end and word.end > place.start and _FIGURE.search(word.text)]
    return min((word.confidence for word in here), default=1.0)


def _shares(recipe: Recipe) -> dict[int, str]:
    """Amounts that are far too large or too small beside the flour of their part, by where they start."""
    flour: dict[int, float] = {}
    for one in recipe.ingredients:
        if one.role in BULK and one.grams:
            flour[one.group] = flour.get(one.group, 0.0) + one.grams
    out = {}
    for one in recipe.ingredients:
        bounds = _table()["share"].get(one.role)
        base = flour.get(one.group, 0.0)
        if bounds and base and one.grams and one.amounts and one.part == "batter":
            share = one.grams / base
            if not bounds[0] <= share <= bounds[1]:
                said = "more" if share > bounds[1] else "less"
                out[one.amounts[0].start] = f"it is far {said} than the flour beside it asks for"
    return out


def _heats(recipe: Recipe, read: Sequence[Word]) -> Iterator[_Doubt]:
    bounds = _table()["oven"]
    for heat in recipe.heats:
        if heat.place != "oven" or heat.fahrenheit is None:
            continue
        end = max([heat.end, *(twin.end for twin in heat.twins)])
        if _sure(heat, read) < UNSURE:
            yield _Doubt(heat.start, end, "the machine was not sure of it")
        elif not bounds["least"] <= heat.fahrenheit <= bounds["most"]:
            yield _Doubt(heat.start, end, "no oven is set so")


def _query(text: str, doubt: _Doubt) -> Query:
    start, end = _line(text, doubt.start)
    line, words = " ".join(text[start:end].split()), " ".join(text[doubt.start : doubt.end].split())
    question = f"Read from the picture as “{words}”, but {doubt.why}: what does this line of the card say?"
    meant = tuple(line.replace(doubt.figure, figure, 1) for figure in doubt.meant)
    choices = (*meant, line) if doubt.figure else ()
    return Query(f"{MARK}{_number(text, doubt.start)}", doubt.start, doubt.end, words, question, choices)


def _number(text: str, at: int) -> int:
    """The number of the line an offset is in, from 1."""
    return text.count("\n", 0, at) + 1


def _line(text: str, at: int) -> tuple[int, int]:
    start = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    return start, len(text) if end < 0 else end


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("rewriter.overlay") / "plausible.toml").read_text("utf-8"))
