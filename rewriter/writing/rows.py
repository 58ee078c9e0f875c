"""The rows of the table of changes: what, was, now, and why in five words or in full."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files

from rewriter.model import Change, Heat, Recipe

PLACES = {"food": "inside"}
DUAL = 30  # characters between the two measures of one amount
NEAR = Fraction(3, 20)  # a guard that moved a figure by less is not worth a word at the counter
_CLAUSE = re.compile(r"[;:(.]\s|\s-\s|, | because ")


@lru_cache(maxsize=4096)
def flat(words: str) -> str:
    """Words on one line, as they stand otherwise."""
    return " ".join(words.split())


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the table of changes. why: in five words.

    change: the change behind it, in the order of the marks. first: the one that gives the reason, where several
    measures of one amount are one row.
    """

    name: str
    old: str
    new: str
    why: str
    first: Change
    change: Change

    @property
    def full(self) -> str:
        """The whole reason with exact figures and source."""
        return full(self.first)

    @property
    def move(self) -> str:
        """Was and now in one: "1 cup -> 1 1/4 cups", or what is added."""
        return self.new if self.new.startswith("+") or not self.old else f"{self.old} -> {self.new}"


def rows(recipe: Recipe, changes: Sequence[Change]) -> Iterator[Row]:
    """The table: one row a change; portions and further figures of one setting are left to the marks."""
    moved = {change.start for change in changes}
    twins = {(twin.start, twin.end) for heat in recipe.heats for twin in heat.twins[heat.start not in moved :]}
    portions = [(portion.start, portion.end) for portion in recipe.portions]
    told = [
        change
        for change in changes
        if change.direction != "note"
        and change.step == "now"
        and (change.start, change.end) not in twins
        and not (portions and any(start <= change.start < end for start, end in portions))
    ]
    yield from joined([row_of(change, recipe.heats) for change in told])


def joined(rows: Sequence[Row]) -> list[Row]:
    """Rows with the measures of one dual amount ("1 cup (200 g)") made one row, and every row once."""
    out: list[Row] = []
    for row in rows:
        last = out[-1] if out else None
        near = last is not None and 0 <= row.change.start - last.change.end <= DUAL
        if last is not None and near and _same(row, last):
            new = last.new if row.new == last.new else f"{last.new} / {row.new}"
            out[-1] = replace(last, old=f"{last.old} / {row.old}", new=new, change=row.change)
        else:
            out.append(row)
    return list({(row.name, row.old, row.new): row for row in reversed(out)}.values())[::-1]


def _same(row: Row, last: Row) -> bool:
    """Whether two rows are measures of one amount: the same ingredient in another unit."""
    one, other = row.change, last.change
    return bool(row.old) and (row.name, one.rule) == (last.name, other.rule) and one.unit != other.unit


def row_of(change: Change, heats: Sequence[Heat] = ()) -> Row:
    """A change as a row of the table."""
    return Row(label(change, heats), flat(change.old), change.new, few(change), change, change)


def label(change: Change, heats: Sequence[Heat] = ()) -> str:
    """What a change is about: the ingredient, or the oven, syrup, oil ...; heats: in the order they stand."""
    if change.start == change.end and change.addition:
        return change.addition
    if change.ingredient:
        return flat(change.ingredient.removesuffix(change.old.rstrip("."))).strip(" ()[],;:*-.")
    before = bisect_right(heats, change.start, key=lambda heat: heat.start)
    if before and change.start < max(heats[before - 1].end, heats[before - 1].start + 1):
        return PLACES.get(heats[before - 1].place, heats[before - 1].place)
    return change.addition or change.rule


@cache
def _reasons() -> dict[str, dict[str, str]]:
    return tomllib.loads((files("rewriter.writing") / "reasons.toml").read_text("utf-8"))


def few(change: Change, most: int = 5) -> str:
    """Why, in at most five words: the rule's row, else the first words of the reason given.

    Where a guard changed the figure its own words stand, and after them what the guide alone would say.
    """
    held = guarded(change)
    if held:
        return held
    way = "insert" if change.addition and change.direction == "note" else change.direction
    row = _reasons().get(change.rule, {})
    told = row.get(f"{change.step} {change.unit}") or row.get(change.step) or row.get(way)
    return told or _opening(change.why, most)


@lru_cache(maxsize=1024)
def _opening(why: str, most: int) -> str:
    """The first words of a reason."""
    return " ".join(_CLAUSE.split(why.strip().rstrip("."), maxsplit=1)[0].split()[:most])


def guarded(change: Change) -> str:
    """Which guard changed a figure, and the guide's own; "" where none did.

    >>> free = Fraction(373)
    >>> guarded(Change(0, 5, "350 F", "365 F", "up", None, "oven", "in a loaf pan", "", unguarded=free, unit="F"))
    'a deep loaf browns first; guide alone: 375 F'
    """
    if change.unguarded is None:
        return ""
    told = next((words for say, words in _reasons()["guard"].items() if say in change.why), "")
    if not told:
        return ""
    if change.unit == "F":
        return f"{told}; guide alone: {round(change.unguarded / 5) * 5} F"
    figure = float(change.unguarded)
    if change.exact is not None and abs(change.unguarded - change.exact) <= change.exact * NEAR:
        return ""
    unit = {"tbsp": "Tbsp", "cup": "cup" if figure <= 1 else "cups"}.get(change.unit, change.unit)
    return f"{told}; guide alone: {figure:.0f} {unit}" if figure >= 10 else f"{told}; guide alone: {figure:.2g} {unit}"


def full(change: Change) -> str:
    """The whole reason, with the exact figure, what the guide alone would give, and the source."""
    said = [flat(change.why)] if change.why else []
    unit = f" {change.unit}" if change.unit not in ("", "each") else ""
    if change.exact is not None:
        said.append(f"exactly {float(change.exact):.4g}{unit}")
    if change.unguarded is not None:
        said.append(f"by the guide alone {float(change.unguarded):.4g}{unit}")
    if change.source:
        said.append(f"source: {flat(change.source)}")
    return "; ".join(said)
