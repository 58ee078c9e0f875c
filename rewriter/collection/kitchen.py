"""A kitchen's own difference from the guide: what its bakes that worked did otherwise, and how many say so."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from statistics import fmean

from rewriter.collection.bakes import bakes
from rewriter.collection.fitting import place_of
from rewriter.collection.records import Bake
from rewriter.collection.search import NEAR_M
from rewriter.collection.store import Store

APART = 0.05  # of what is written; nearer to the guide than this is the guide
APART_F = 3.0  # degrees
_SHARES = {
    Fraction(1, 16): "a sixteenth", Fraction(1, 8): "an eighth", Fraction(1, 4): "a quarter",
    Fraction(1, 3): "a third", Fraction(3, 8): "three eighths", Fraction(1, 2): "a half",
    Fraction(5, 8): "five eighths", Fraction(2, 3): "two thirds", Fraction(3, 4): "three quarters",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Habit:
    """What a kitchen does otherwise than the guide with one role.

    own, guide: the mean change in its bakes that worked otherwise, and in the guide's for the same bakes: a share (-1/2
    is a half less), for "oven" degrees F. count: bakes that worked so. by_guide, against: bakes that worked, and that
    failed, as the guide has it. words: all of it in a sentence.
    """

    role: str
    own: float
    guide: float
    count: int
    by_guide: int
    against: int
    words: str


def kitchen(store: Store, elevation: str | None = None) -> list[Habit]:
    """What this kitchen (the bakes within 500 ft of an elevation, or all of them) does otherwise, most bakes first."""
    found = bakes(store)
    if elevation is not None:
        here = place_of(elevation).elevation_m
        found = [one for one in found if abs(one.elevation_m - here) < NEAR_M]
    roles = sorted({role for one in found for role in one.formula.get("roles", {})})
    habits = [habit for role in roles if (habit := _habit(role, found)) is not None]
    return sorted(habits, key=lambda habit: (-habit.count, habit.role))


def _habit(role: str, found: list[Bake]) -> Habit | None:
    told = [(one, *_change(role, one)) for one in found if role in one.formula.get("roles", {})]
    apart = APART_F if role == "oven" else APART
    otherwise = [(own, guide) for one, own, guide in told if one.outcome == "worked" and abs(own - guide) > apart]
    if not otherwise:
        return None
    same = [one.outcome for one, own, guide in told if abs(own - guide) <= apart]
    own, guide = fmean(own for own, _ in otherwise), fmean(guide for _, guide in otherwise)
    count, by_guide, against = len(otherwise), same.count("worked"), same.count("failed")
    return Habit(role, own, guide, count, by_guide, against, _words(role, own, guide, count, by_guide, against))


def _change(role: str, one: Bake) -> tuple[float, float]:
    used, guide = one.formula["roles"][role]
    return (used, guide) if role == "oven" else (used - 1, guide - 1)


def _words(role: str, own: float, guide: float, count: int, by_guide: int, against: int) -> str:
    better = "works better than" if count > by_guide else "works as well as"
    said = f"here, {_said(role, own)} {better} {_said(role, guide, short=True)}"
    said += f" ({count} {'bake says' if count == 1 else 'bakes say'} so"
    if by_guide or against:
        said += f"; as the guide has it, {by_guide} worked and {against} failed"
    return said + ")"


def _said(role: str, change: float, short: bool = False) -> str:
    """A change in words.

    >>> _said("leavener", -0.33), _said("leavener", -0.5, short=True), _said("oven", 15.0)
    ('a third less leavener', 'a half', 'an oven 15 F hotter')
    """
    if role == "oven":
        return (
            f"{round(change)} F" if short else f"an oven {abs(round(change))} F {'hotter' if change >= 0 else 'cooler'}"
        )
    size = Fraction(abs(change)).limit_denominator(100)
    if size < Fraction(1, 32):
        return f"the {role} as written"
    nearest = min(_SHARES, key=lambda share: abs(share - size))
    share = _SHARES[nearest] if abs(nearest - size) < Fraction(1, 32) else f"{round(float(size) * 100)} %"
    return share if short else f"{share} {'less' if change < 0 else 'more'} {role}"
