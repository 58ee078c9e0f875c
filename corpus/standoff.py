"""Read the labelled recipes back from brat standoff (``corpus/recipes``), as records the scorer compares with.

>>> figures("1/4..1/2"), figures("?")
((Fraction(1, 4), Fraction(1, 2)), (None, None))
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from corpus.compile import RECIPES, SPLITS

Figures = tuple[Fraction | None, Fraction | None]


@dataclass(frozen=True, slots=True)
class Mark:
    """One label of a .ann file: its place in the text, and its attributes by name."""

    label: str
    start: int
    end: int
    says: dict[str, str] = field(default_factory=dict, hash=False)

    def get(self, name: str) -> str:
        """The value of an attribute, "" where it has none."""
        return self.says.get(name, "")


@dataclass(frozen=True, slots=True)
class Gold:
    """One labelled paste. names, amounts: of each ingredient, in their order. heats: a tuple for each setting."""

    name: str
    text: str
    recipes: tuple[Mark, ...]
    ingredients: tuple[Mark, ...]
    names: tuple[Mark, ...]
    amounts: tuple[tuple[Mark, ...], ...]
    portions: tuple[Mark, ...]
    heats: tuple[tuple[Mark, ...], ...]
    times: tuple[Mark, ...]


def figures(value: str) -> Figures:
    """Lower and upper figure of a quantity as labelled; the upper one None where there is but one."""
    low, _, high = value.partition("..")
    return _figure(low), _figure(high)


def _figure(value: str) -> Fraction | None:
    if value in ("", "?"):
        return None
    over, _, under = value.partition("/")
    return Fraction(over) / Fraction(under or 1)


def marks(standoff: str) -> list[Mark]:
    r"""The labels of a .ann file in reading order; a label in several pieces reaches from the first to the last.

    >>> marks("T1\tAmount 0 6\t2 cups\nA1\tUnit T1 cup\n")
    [Mark(label='Amount', start=0, end=6, says={'Unit': 'cup'})]
    """
    found: dict[str, Mark] = {}
    for line in standoff.splitlines():
        name, *rest = line.split("\t")
        if name.startswith("T"):
            label, places = rest[0].split(" ", 1)
            ends = [int(place) for place in re.findall(r"\d+", places)]
            found[name] = Mark(label, ends[0], ends[-1], {})
        elif name.startswith("A"):
            attribute, of, value = rest[0].split(" ")
            found[of].says[attribute] = value
    return sorted(found.values(), key=lambda mark: (mark.start, -mark.end))


def gold(text: str, standoff: str, name: str = "") -> Gold:
    """A labelled paste from its text and its standoff."""
    of: dict[str, list[Mark]] = {}
    for mark in marks(standoff):
        of.setdefault(mark.label, []).append(mark)
    ingredients = of.get("Ingredient", [])
    names = [_inside(of["Name"], one)[0] for one in ingredients]
    amounts = [tuple(_inside(of.get("Amount", []), one)) for one in ingredients]
    return Gold(
        name,
        text,
        tuple(of["Recipe"]),
        tuple(ingredients),
        tuple(names),
        tuple(amounts),
        tuple(of.get("Portion", [])),
        _settings(of.get("Heat", [])),
        tuple(of.get("Time", [])),
    )


def _inside(marks_: Iterable[Mark], outer: Mark) -> list[Mark]:
    return [mark for mark in marks_ if outer.start <= mark.start and mark.end <= outer.end]


def _settings(heats: Iterable[Mark]) -> tuple[tuple[Mark, ...], ...]:
    """Heats that follow one another with the same group are one setting."""
    settings: list[list[Mark]] = []
    for heat in heats:
        last = settings[-1][-1] if settings else None
        if last and heat.get("Group") and heat.get("Group") == last.get("Group") and heat.start - last.end < 60:
            settings[-1].append(heat)
        else:
            settings.append([heat])
    return tuple(map(tuple, settings))


def load(split: str = "all", home: Path = RECIPES) -> list[Gold]:
    """The labelled pastes of a split ("train", "test", "all"), in order. Raises FileNotFoundError where none are."""
    paths = [path for one in SPLITS if split in (one, "all") for path in sorted((home / one).glob("*.txt"))]
    if not paths:
        raise FileNotFoundError(f"no labelled recipes in {home}: run python -m corpus.compile")
    return [
        gold(path.read_bytes().decode("utf-8"), path.with_suffix(".ann").read_text(encoding="utf-8"), path.stem)
        for path in paths
    ]
