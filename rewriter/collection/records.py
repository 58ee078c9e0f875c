"""What the box gives: frozen records of its cards, their revisions and their bakes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Card:
    """A recipe in the box. number: what a person calls it by. text: its present text, for no kitchen in particular."""

    number: int
    uid: str
    title: str
    kind: str
    text: str
    origins: tuple[str, ...] = ()
    jars: bool = False
    merged_into: str = ""


@dataclass(frozen=True, slots=True)
class Revision:
    """One text on a recipe's line.

    number: from 0, the text as it was found. parent: the number it came from. why: as found, tidied, fitted, next step,
    carried, by hand. elevation_m: None where it is for no kitchen in particular. trial: untried, tried, or carried (by
    the guides, not tried). formula: how it came to be, and role -> (factor to the original, the guide's factor).
    """

    recipe: int
    number: int
    parent: int | None
    why: str
    name: str
    elevation_m: float | None
    trial: str
    text: str
    made: str
    note: str = ""
    formula: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Bake:
    """One bake of one revision in one kitchen, and what came of it. rating: 1 to 5, or None."""

    recipe: int
    revision: int
    day: str
    elevation_m: float
    pressure_hpa: float
    changed: str
    faults: tuple[str, ...]
    rating: int | None
    outcome: str
    note: str
    photo: bytes | None = field(default=None, repr=False)
    formula: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Added:
    """What came of bringing files in.

    cards: numbers of new recipes. again: files whose bytes the box had. without: files kept without a recipe in them.
    aside: (file, why) that could not be read; kept: those of them whose bytes are kept. warned: (file, warning).
    """

    cards: tuple[int, ...] = ()
    again: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    aside: tuple[tuple[str, str], ...] = ()
    kept: tuple[str, ...] = ()
    warned: tuple[tuple[str, str], ...] = ()
    files: int = 0


@dataclass(frozen=True, slots=True)
class Numbers:
    """How much is in a box."""

    originals: int
    recipes: int
    merged: int
    revisions: int
    bakes: int
    refused: int
