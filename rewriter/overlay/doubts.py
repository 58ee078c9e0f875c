"""Amounts a machine read from a picture: each is held against what is plausible, and asked about when in doubt.

A machine that reads a photo is good at words and poor at small fractions. An amount in doubt is left as it is, and
where it could be the flour's, nothing is reckoned from it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any

from rewriter.intake import Taken
from rewriter.model import Amount, Answer, Change, Heat, Ingredient, Page, Query, Recipe, Word
from rewriter.writing.registry import Job

UNSURE = 0.75  # a figure read with less confidence is doubted, whatever it says
BULK = frozenset({"flour", "starch", "self-rising"})
FROM_FLOUR = frozenset({"liquid", "hydration"})  # rules that reckon from the weight of the flour
_UNIT = r"(?:cups?|tsp|tbsp|teaspoons?|tablespoons?|oz|ounces?|lbs?|pounds?|pints?|quarts?|sticks?|grams?|g|ml)\b"
_ODD = re.compile(
    rf"^\W*(?P<odd>\S{{0,3}}[%&?|\\{{}}~¢£§](?:\S{{0,3}})|[A-Za-z]\d\S*|\d[A-Za-z]\d|[lIyYVv]/\S+)\s+{_UNIT}", re.I
)
_BARE = re.compile(r"^\W*(?P<odd>(?:cup|teaspoon|tablespoon|tsp|tbsp)s?)\s+\w", re.I)
_ONE = re.compile(r"\b(cup|teaspoon|tablespoon|ounce|pound|stick|pint|quart)\b", re.I)
_FIGURE = re.compile(r"[\d¼½¾⅐-⅞]")
_JOINED = re.compile(r"^\d\d/\d$")


@dataclass(frozen=True, slots=True)
class _Doubt:
    start: int
    end: int
    why: str
    what: str = "quantity"
    bulk: bool = False
    choices: tuple[str, ...] = ()


def doubts(text: str, recipes: Sequence[Recipe], pages: Sequence[Page], answers: Iterable[Answer] = ()) -> list[Query]:
    """A question for every amount and oven setting read by machine that can hardly be meant.

    What an answer has settled is not asked again. Ids are those of the reading room: quantity@ and heat@ an offset.
    """
    settled = {answer.query for answer in answers}
    return [query for doubt in _found(text, recipes, pages) if (query := _query(text, doubt)).id not in settled]


def checked(job: Job, taken: Taken, answers: Iterable[Answer] = ()) -> Job:
    """A job without the changes that rest on amounts in doubt, and with the questions about them.

    job: of ``taken.text``. A job of words that no machine read comes back as it is.
    """
    asked = doubts(job.text, job.recipes, taken.pages, answers)
    if not asked:
        return job
    known = {query.id for query in job.queries}
    queries = sorted([*job.queries, *(query for query in asked if query.id not in known)], key=lambda q: q.start)
    return replace(job, queries=queries, changes=held_back(job.text, job.recipes, asked, job.changes))


def held_back(text: str, recipes: Sequence[Recipe], asked: Sequence[Query], changes: Sequence[Change]) -> list[Change]:
    """The changes that still hold while some amounts are in doubt.

    An amount in doubt stays as it is; where flour is in doubt, so does all that is reckoned from its weight.
    """
    bulk = [one for recipe in recipes for one in recipe.ingredients if one.role in BULK]
    doubted = [query for query in asked if query.id.startswith(("quantity@", "heat@"))]
    spans = [(query.start, query.end) for query in doubted]
    lines = [_line(text, query.start) for query in doubted]
    lost = any(one.start < end and one.end > start for one in bulk for start, end in lines)
    lost = lost or any(_BARE.match(text[start:end]) for start, end in lines)
    kept = [change for change in changes if not any(change.start < end and change.end > start for start, end in spans)]
    return [change for change in kept if not (lost and change.rule in FROM_FLOUR)]


def _found(text: str, recipes: Sequence[Recipe], pages: Sequence[Page]) -> list[_Doubt]:
    read = [word for page in pages for word in page.words if word.confidence < 1.0]
    if not read:
        return []
    found: dict[int, _Doubt] = {}
    for recipe in recipes:
        for one in (*_odd_lines(text, recipe), *_amounts(recipe, read), *_heats(recipe, read)):
            found.setdefault(one.start, one)
    return [doubt for _, doubt in sorted(found.items()) if _by_machine(doubt, read)]


def _by_machine(doubt: _Doubt, read: Sequence[Word]) -> bool:
    return any(word.start < doubt.end and word.end > doubt.start for word in read)


def _odd_lines(text: str, recipe: Recipe) -> Iterator[_Doubt]:
    """Lines that begin with no figure, or with something that is none, before a measure."""
    for one in recipe.ingredients:
        start, end = _line(text, one.start)
        bare, odd = _BARE.match(text[start:end]), _ODD.match(text[start:end])
        if one.listed and (bare or odd):
            match = bare or odd
            assert match is not None
            at, stop = start + match.start("odd"), start + match.end("odd")
            why = "no figure was read before this measure" if bare else "this was read where a figure must be"
            yield _Doubt(at, stop, why, bulk=one.role in BULK)


def _amounts(recipe: Recipe, read: Sequence[Word]) -> Iterator[_Doubt]:
    shares = _shares(recipe)
    for one in recipe.ingredients:
        for place, amount in enumerate(one.amounts):
            why = _why(amount, read, shares if place == 0 else {})
            if why:
                yield _Doubt(amount.start, amount.end, why, bulk=one.role in BULK, choices=_choices(amount))


def _why(amount: Amount, read: Sequence[Word], shares: dict[int, str]) -> str:
    """Why an amount is doubted; "" where it is not."""
    figure = amount.text.split()[0] if amount.text.split() else ""
    if _sure(amount, read) < UNSURE:
        return "the machine was not sure of this"
    if _JOINED.match(figure) and amount.quantity is not None and amount.quantity > 1:
        return "a space may be lost in this"
    if amount.quantity is None or amount.count is not None:
        return ""
    if amount.quantity > 1 and amount.quantity_max is None and _ONE.search(amount.text) and len(figure) > 1:
        return "the measure says one, the figure says more"
    least, most = _table()["spoons"].get(amount.unit, (None, None))
    if least is not None and not Fraction(least) <= amount.quantity <= Fraction(most):
        return "this is more or less than such a recipe holds"
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
        if bounds and base and one.grams and one.amounts and one.part in ("batter", "dough"):
            share = one.grams / base
            if not bounds[0] <= share <= bounds[1]:
                said = "more" if share > bounds[1] else "less"
                out[one.amounts[0].start] = f"this is far {said} than the flour beside it asks for"
    return out


def _heats(recipe: Recipe, read: Sequence[Word]) -> Iterator[_Doubt]:
    bounds = _table()["oven"]
    for heat in recipe.heats:
        if heat.place != "oven" or heat.fahrenheit is None:
            continue
        if _sure(heat, read) < UNSURE or not bounds["least"] <= heat.fahrenheit <= bounds["most"]:
            yield _Doubt(heat.start, _figure_end(heat), "no oven is set so, or it was hard to read", "heat")


def _figure_end(heat: Heat) -> int:
    return min((twin.start for twin in heat.twins if twin.start > heat.start), default=heat.end)


def _choices(amount: Amount) -> tuple[str, ...]:
    """What may have stood there, and what was read."""
    match = re.match(r"[\d/]+", amount.text)
    figure = match[0] if match else ""
    return (*_table()["taken-for"].get(figure, ()), figure) if figure in _table()["taken-for"] else ()


def _query(text: str, doubt: _Doubt) -> Query:
    words = " ".join(text[doubt.start : doubt.end].split())
    question = f"Read from the picture as “{words}”, but {doubt.why}: what does the card say?"
    return Query(f"{doubt.what}@{doubt.start}", doubt.start, doubt.end, words, question, doubt.choices)


def _line(text: str, at: int) -> tuple[int, int]:
    start = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    return start, len(text) if end < 0 else end


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads((files("rewriter.overlay") / "plausible.toml").read_text("utf-8"))
