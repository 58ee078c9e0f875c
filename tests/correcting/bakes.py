"""Recipes built by hand for the tests of the correcting room: no text is read, offsets are laid out line by line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from rewriter import air, pantry
from rewriter.correcting import plan
from rewriter.model import Amount, Answer, Edit, Fact, Heat, Ingredient, Part, Plan, Portion, Recipe, Time, Twin

SEA = air.of("0 ft")


@dataclass(frozen=True)
class Line:
    """One ingredient line to lay out: a pantry key and its measures ("5/2 cup", "2-3 tbsp", "14 oz x 2")."""

    key: str
    measures: tuple[str, ...]
    role: str = ""
    part: str = "batter"
    group: int = 0
    sure: bool = True
    amount_sure: bool = True
    flags: frozenset[str] = frozenset()
    system: str = "us"


def line(key: str, *measures: str, **said: object) -> Line:
    """A line by pantry key; ``role`` by the pantry unless it is said."""
    return Line(key, measures, **said)  # type: ignore[arg-type]


def _amount(text: str, at: int, sure: bool, system: str) -> Amount:
    figure, _, unit = text.partition(" ")
    unit, _, count = unit.partition(" x ")
    low, _, high = figure.partition("-")
    quantity = None if low == "?" else Fraction(low)
    return Amount(
        at, at + len(text), text, quantity, Fraction(high) if high else None, unit,
        Fraction(count) if count else None, sure=sure, system=system,
    )  # fmt: skip


def _ingredient(said: Line, at: int) -> Ingredient:
    amounts, here = [], at
    for text in said.measures:
        amounts.append(_amount(text, here, said.amount_sure, said.system))
        here += len(text) + 1
    role = said.role or pantry.entry(said.key).role_in(said.part)
    return Ingredient(
        at, here + len(said.key), said.key, role, said.part, tuple(amounts), None, said.sure, said.key,
        said.group, flags=said.flags, name_start=here, name_end=here + len(said.key),
    )  # fmt: skip


def heat(fahrenheit: int | str, at: int = 5000, **said: object) -> Heat:
    """An oven figure; say place, purpose, group, maximum or twins to change it."""
    value = Fraction(fahrenheit)
    said.setdefault("value", value)
    return Heat(at, at + 5, f"{fahrenheit} F", value, (value - 32) * 5 / 9, **said)  # type: ignore[arg-type]


def twin(value: int, scale: str, at: int) -> Twin:
    """Another figure of a setting."""
    return Twin(at, at + 5, f"{value} {scale}", Fraction(value), scale)


def bake(
    kind: str,
    *lines: Line,
    facts: Iterable[str | Fact] = (),
    heats: Iterable[Heat] = (),
    times: Iterable[Time] = (),
    parts: Iterable[Part] = (),
    portions: Iterable[tuple[int, str, str]] = (),
) -> Recipe:
    """A recipe of one kind of bake. portions: (index of its line, measure, "portion" or "restated")."""
    made, at = [], 10
    for said in lines:
        made.append(_ingredient(said, at))
        at = made[-1].end + 1
    shares = []
    for number, (index, text, of) in enumerate(portions):
        spot = 7000 + 20 * number
        amount = _amount(text, spot, True, "us")
        share = None if amount.quantity else Fraction(1)
        shares.append(Portion(spot, spot + len(text), text, made[index], amount.quantity, share, amount.unit, of))
    return Recipe(
        "A bake",
        kind,
        tuple(made),
        tuple(shares),
        tuple(heats),
        tuple(times),
        tuple(parts) or (Part("batter", kind),),
        0,
        9999,
        tuple(fact if isinstance(fact, Fact) else Fact(fact, 9000, 9010, "the words") for fact in facts),
    )


def corrected(
    recipe: Recipe,
    feet: float | Fraction | int,
    guide: str = "practice",
    strength: str = "middle",
    written_for: float | Fraction | int = 0,
    answers: tuple[Answer, ...] = (),
) -> Plan:
    """The plan for a kitchen at ``feet``."""
    return plan(recipe, up(feet), up(written_for), guide, strength, answers)  # type: ignore[arg-type]


def up(feet: float | Fraction | int) -> air.Air:
    """The air at an elevation in feet, exactly."""
    return air.of(Fraction(feet) * air.FOOT_M)


def edits_of(made: Plan, key: str) -> list[Edit]:
    """The edits of one ingredient that apply now."""
    return [e for e in made.edits if e.ingredient is not None and e.ingredient.key == key and e.step == "now"]


def exact(made: Plan, key: str) -> Fraction | None:
    """The exact new figure of an ingredient's first measure, or None where it stays."""
    found = edits_of(made, key)
    return found[0].exact if found else None


LAYER_CAKE = (
    line("all-purpose-flour", "5/2 cup"),
    line("baking-powder", "3 tsp"),
    line("granulated-sugar", "2 cup"),
    line("butter", "1 cup"),
    line("egg", "4 each"),
    line("milk", "1 cup"),
)
