"""What travels between the rooms: frozen records with character offsets into the pasted text.

Every ``start`` and ``end`` counts characters of the text that was given; every quantity is an exact
:class:`fractions.Fraction`. Nothing here knows how a recipe is read, corrected or written.

>>> from fractions import Fraction
>>> Amount(0, 6, "2 cups", Fraction(2), unit="cup").quantity
Fraction(2, 1)
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

Direction = Literal["up", "down", "insert", "note"]
Strength = Literal["gentle", "middle", "full"]


@dataclass(frozen=True, slots=True)
class Amount:
    """One measure as written: "1 1/2 cups", "1 (14-oz) can", "2-3".

    quantity: the figure (lower end of a range), in ``unit``; None where the words give none.
    quantity_max: the upper end of a range, else None.
    unit: canonical name (cup, tbsp, g, each ...), "each" for bare counts, "" where the unit is missing.
    count: how many containers or pieces hold ``quantity`` each, else None.
    approximate: the word that blurs it ("about", "heaping", "scant"), else "".
    system: "us", "metric", "imperial" or "aus": whose cup, pint or spoon it is.
    """

    start: int
    end: int
    text: str
    quantity: Fraction | None
    quantity_max: Fraction | None = None
    unit: str = ""
    count: Fraction | None = None
    approximate: str = ""
    sure: bool = True
    system: str = "us"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One ingredient, in a list or in running prose; its span covers its amounts and its name.

    name: the words that name it, as written. key: its row in the pantry, or None where unknown.
    role, part: see the pantry's tables of roles and parts. group: index into ``Recipe.parts``.
    grams: weight of its first usable amount, with ``grams_range`` where volume leaves it open.
    flags: facts told by the line: divided, optional, plus-more, alternative, separated ...
    listed: True where it stands in an ingredient list, False in running prose.
    """

    start: int
    end: int
    name: str
    role: str
    part: str
    amounts: tuple[Amount, ...] = ()
    grams: float | None = None
    sure: bool = True
    key: str | None = None
    group: int = 0
    grams_range: tuple[float, float] | None = None
    flags: frozenset[str] = frozenset()
    listed: bool = True
    name_start: int = -1
    name_end: int = -1


@dataclass(frozen=True, slots=True)
class Portion:
    """An amount in the method that is part of (or repeats) one already listed.

    quantity with ``unit`` ("1 cup of the sugar"), or share ("half the flour" is 1/2).
    of: "portion", "remaining" (what is left after the others), "restated" (the whole again).
    """

    start: int
    end: int
    text: str
    ingredient: Ingredient
    quantity: Fraction | None = None
    share: Fraction | None = None
    unit: str = ""
    of: str = "portion"
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Twin:
    """Another figure of the same heat setting. scale: F, C, gas, fan-F, fan-C or word."""

    start: int
    end: int
    text: str
    value: Fraction | None
    scale: str


@dataclass(frozen=True, slots=True)
class Heat:
    """One heat setting: the figure written first, and its twins.

    fahrenheit, celsius: the conventional-oven figure, as written where written, else converted.
    scale, value: the figure written first (scale as in :class:`Twin`). maximum: upper end of a range, degrees F.
    place: oven, oil, syrup, food, water, pan. purpose: bake, preheat, keep-warm, toast, roast, proof, doneness, ...
    group: index into ``Recipe.parts`` of the bake it belongs to.
    """

    start: int
    end: int
    text: str
    fahrenheit: Fraction | None
    celsius: Fraction | None
    twins: tuple[Twin, ...] = ()
    place: str = "oven"
    purpose: str = "bake"
    sure: bool = True
    scale: str = "F"
    value: Fraction | None = None
    maximum: Fraction | None = None
    group: int = 0


@dataclass(frozen=True, slots=True)
class Time:
    """A length of time and what it times: bake, rise, simmer, rest, chill, mix, ..."""

    start: int
    end: int
    text: str
    minutes: Fraction
    minutes_max: Fraction | None = None
    of: str = "other"
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a recipe (its batter, its frosting ...) with its own kind of bake and the reason for it."""

    name: str
    kind: str
    heading: str = ""
    start: int = 0
    end: int = 0
    why: str = ""
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Fact:
    """Something the words tell about the whole recipe, with its place.

    kind: canning, altitude-version, altitude-note, loaf-pan, tube-pan, muffin-pan, raw-egg, hot-syrup, deep-fat,
    machine, gluten-free, egg-substitute, sugar-substitute, pourable, stiff-dough, long-rise, foam, ...
    value: a figure or word that goes with it (an elevation for altitude-version, "bread machine" for machine).
    """

    kind: str
    start: int
    end: int
    text: str
    value: str = ""


@dataclass(frozen=True, slots=True)
class Query:
    """A question for the person; choices may be empty (free words). id is stable for a text: "<what>@<offset>"."""

    id: str
    start: int
    end: int
    text: str
    question: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Answer:
    """A person's answer to a query (by its id), or their overruling of a reading nobody asked about.

    Ids: kind@recipe-start, kind@part-start, role@ingredient-start, part@ingredient-start, unit@amount-start,
    quantity@amount-start, heat@heat-start (degrees F, or "not oven"), written-for@recipe-start (an elevation),
    skip@amount-start ("yes" leaves it alone).
    """

    query: str
    value: str


@dataclass(frozen=True, slots=True)
class Recipe:
    """One recipe read from the paste. ``kind`` is its main part's kind of bake."""

    title: str
    kind: str
    ingredients: tuple[Ingredient, ...] = ()
    portions: tuple[Portion, ...] = ()
    heats: tuple[Heat, ...] = ()
    times: tuple[Time, ...] = ()
    parts: tuple[Part, ...] = ()
    start: int = 0
    end: int = 0
    facts: tuple[Fact, ...] = ()
    queries: tuple[Query, ...] = ()
    method: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a kitchen: elevation, pressure, and the boiling point of water there.

    elevation_ft is exact where it was given in feet or metres; origin: elevation, barometer or boiling.
    """

    elevation_m: float
    pressure_hpa: float
    boiling_c: float
    elevation_ft: Fraction = Fraction(0)
    origin: str = "elevation"

    @property
    def boiling_f(self) -> float:
        """Boiling point in degrees Fahrenheit."""
        return self.boiling_c * 9 / 5 + 32


@dataclass(frozen=True, slots=True)
class Edit:
    """One correction before it is measured: a place, an exact figure, a reason.

    start, end: the amount or heat figure it changes (start == end for an insertion).
    exact, exact_max: the unrounded new figure in the old amount's unit (degrees F for a heat);
        for an addition, the unrounded amount added, in ``unit``.
    addition: the name of what is added beside or inserted ("water"), else "".
    target: what is changed, so that the writer can keep its manner; None for an insertion.
    step: "now", "next" (held back until it falls) or "offer" (a worked substitution beside the original).
    unguarded: the figure the guide alone would give, where a guard changed it.
    """

    rule: str
    start: int
    end: int
    direction: Direction
    exact: Fraction | None
    why: str
    source: str
    exact_max: Fraction | None = None
    unit: str = ""
    addition: str = ""
    target: Amount | Heat | Twin | None = None
    ingredient: Ingredient | None = None
    step: str = "now"
    unguarded: Fraction | None = None
    sure: bool = True
    group: int = 0


@dataclass(frozen=True, slots=True)
class Note:
    """A sentence for the block. kind: start, guide, watch, caution, next, kept, advice (the recipe's own), early.

    "kept" says why something was left as it is; "start" opens the block.
    """

    kind: str
    text: str
    source: str = ""
    start: int = -1
    end: int = -1


@dataclass(frozen=True, slots=True)
class Plan:
    """All that the correcting room says of one recipe in one kitchen by one guide."""

    edits: tuple[Edit, ...] = ()
    later: tuple[Edit, ...] = ()
    notes: tuple[Note, ...] = ()
    queries: tuple[Query, ...] = ()
    guide: str = "practice"
    strength: Strength = "middle"


@dataclass(frozen=True, slots=True)
class Change:
    """One measured change, as written out. ``old == text[start:end]``; an insertion has start == end and old "".

    new: rounded to what a person can measure, in the recipe's own manner.
    exact, exact_max: the unrounded new quantity in the old amount's unit; degrees F for a heat.
    step: "now", "next" or "offer", as in :class:`Edit`. addition: what is added beside, else "".
    """

    start: int
    end: int
    old: str
    new: str
    direction: Direction
    exact: Fraction | None
    rule: str
    why: str
    source: str
    exact_max: Fraction | None = None
    sure: bool = True
    addition: str = ""
    ingredient: str = ""
    step: str = "now"
    unguarded: Fraction | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Word:
    """A word on a page and its box in points, origin top left."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float
    page: int
    start: int
    end: int
    confidence: float = 1.0


@dataclass(frozen=True, slots=True)
class Page:
    """A page an intake read: its size in points and where each word stood.

    skew: how far its lines are turned, in degrees clockwise (a card photographed askew).
    """

    number: int
    width: float
    height: float
    words: tuple[Word, ...] = field(default_factory=tuple)
    skew: float = 0.0
