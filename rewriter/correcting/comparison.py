"""The four guides side by side for one recipe: what each changes, how far they differ, and which to start from."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path

from rewriter.correcting.adding import WATER_CUP_G
from rewriter.correcting.guide import NAMES
from rewriter.correcting.heating import figures
from rewriter.correcting.plan import plan
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import unit_size
from rewriter.model import Air, Amount, Answer, Edit, Heat, Plan, Recipe, Strength, Twin

TABLE = Path(__file__).parent / "recommended.toml"
PUBLISHED = (
    "Published recipes with a high-altitude version of their own are gentler still and change flour most. Of 19 for "
    "4,000 to 6,500 ft, 10 add flour (about 8 %), 10 take sugar (11 %), 5 of 10 take baking powder (21 %), 4 of 10 "
    "add liquid, 3 of 12 heat the oven by 25 F: so gentle is an honest choice."
)
PUBLISHED_SOURCE = "a count of 40 printed recipes that have a sea-level base and a high-altitude version"
COURSES = ("leavener", "liquid", "sugar", "oven")


@dataclass(frozen=True, slots=True)
class Compared:
    """One amount or heat that some guide changes.

    was: the figure as written (None for water that is added). by: each guide's edit, None where it changes nothing.
    differ: the largest less the smallest new figure, as a share of the written one (of the largest, where nothing is
    written).
    """

    start: int
    end: int
    label: str
    was: Fraction | None
    unit: str
    by: dict[str, Edit | None]
    differ: Fraction


@dataclass(frozen=True, slots=True)
class Comparison:
    """The guides side by side. plans: each guide's plan. start_from: (kind, guide, why) for each kind of batter."""

    rows: tuple[Compared, ...]
    plans: dict[str, Plan]
    start_from: tuple[tuple[str, str, str], ...]
    published: str
    published_source: str


def compare(
    recipe: Recipe,
    air: Air,
    written_for: Air,
    strength: Strength = "middle",
    answers: Sequence[Answer] = (),
    guides: Iterable[str] = NAMES,
) -> Comparison:
    """Correct one recipe by every guide and set the changes that apply now side by side.

    >>> from rewriter import air
    >>> compare(Recipe("Toast", "uncooked"), air.of("6500 ft"), air.of("0 ft")).rows
    ()
    """
    plans = {name: plan(recipe, air, written_for, name, strength, answers) for name in guides}
    found: dict[tuple[int, int, str], dict[str, Edit | None]] = {}
    settings = {(f.start, f.end): heat for heat in recipe.heats for f in list(figures(heat))[:1]}
    for name, made in plans.items():
        for edit in made.edits:
            if _counts(edit, recipe, settings):
                found.setdefault((edit.start, edit.end, edit.addition), dict.fromkeys(plans))[name] = edit
    rows = tuple(_row(place, by, settings.get(place[:2])) for place, by in sorted(found.items()))
    return Comparison(rows, plans, _start_from(recipe) if rows else (), PUBLISHED, PUBLISHED_SOURCE)


def _counts(edit: Edit, recipe: Recipe, settings: dict[tuple[int, int], Heat]) -> bool:
    """Not offers, not the further figures of one setting, not the method's repetitions."""
    if edit.step != "now" or edit.exact is None:
        return False
    if isinstance(edit.target, (Heat, Twin)):
        return (edit.start, edit.end) in settings
    return not any(p.start <= edit.start < p.end for p in recipe.portions)


def _row(place: tuple[int, int, str], by: dict[str, Edit | None], heat: Heat | None) -> Compared:
    edits = [edit for edit in by.values() if edit is not None]
    first = edits[0]
    was = written(first) if heat is None else heat.fahrenheit
    new = [edit.exact if edit is not None and edit.exact is not None else was or Fraction(0) for edit in by.values()]
    size, differ = was or max(new), max(new) - min(new)
    what = label(first) if heat is None else heat.place
    return Compared(place[0], place[1], what, was, first.unit, by, differ / size if size else Fraction(0))


def written(edit: Edit) -> Fraction | None:
    """The figure an edit changes, in its own unit; None where it adds something."""
    if edit.addition:
        return None
    if isinstance(edit.target, Heat):
        return edit.target.fahrenheit
    return edit.target.quantity if isinstance(edit.target, Amount) else None


def label(edit: Edit) -> str:
    """What an edit is about."""
    if edit.addition:
        return f"{edit.addition} added"
    return edit.ingredient.name if edit.ingredient is not None else edit.rule


@lru_cache(maxsize=1)
def recommended() -> dict[str, tuple[str, str]]:
    """By kind of bake: the guide to start from, and why."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return {kind: (row["guide"], row["why"]) for kind, row in table.items()}


def _start_from(recipe: Recipe) -> tuple[tuple[str, str, str], ...]:
    kinds = dict.fromkeys(part.kind for part in recipe.parts if part.name == "batter")
    return tuple((kind, *recommended()[kind]) for kind in kinds if kind in recommended())


def course(
    recipe: Recipe, written_for: Air, airs: Iterable[Air], guide: str, strength: Strength = "middle"
) -> dict[str, list[Fraction]]:
    """What a guide does to a recipe over a course of elevations: four lists as long as ``airs``.

    leavener, sugar: percent left of the largest one; liquid: Tbsp added; oven: degrees F added.
    """
    found: dict[str, list[Fraction]] = {what: [] for what in COURSES}
    for air in airs:
        made = plan(recipe, air, written_for, guide, strength)
        for what in COURSES:
            found[what].append(_measure(what, [e for e in made.edits if e.rule == what and e.step == "now"]))
    return found


def _measure(what: str, edits: list[Edit]) -> Fraction:
    edit = next((e for e in edits if not isinstance(e.target, Twin)), None)
    whole = Fraction(100 if what in ("leavener", "sugar") else 0)
    if edit is None or edit.exact is None:
        return whole
    if what == "liquid":
        return tbsp_of(edit)
    was = written(edit) or Fraction(0)
    return edit.exact - was if what == "oven" else 100 * edit.exact / was


def tbsp_of(edit: Edit) -> Fraction:
    """Tbsp of liquid that an edit adds."""
    step = (edit.exact or Fraction(0)) - (written(edit) or Fraction(0))
    system = edit.target.system if isinstance(edit.target, Amount) and not edit.addition else "us"
    measures, size = unit_size(edit.unit, system)
    cup_g = stuff(edit.ingredient).cup_g if edit.ingredient is not None and not edit.addition else WATER_CUP_G
    return 16 * step * size / (cup_g if measures == "mass" else 1)
