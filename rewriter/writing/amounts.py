"""One amount, measured and written as it was written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from rewriter.model import Amount, Edit
from rewriter.writing.manner import Manner, Voice, decimal, manner
from rewriter.writing.scales import in_jug, in_ounces, on_scale, to_step
from rewriter.writing.spoons import CUP, Measure, Term, nearest
from rewriter.writing.units import dimension, size

EGG_TBSP = Fraction(13, 4)  # a large egg beaten; USDA weights (50 g an egg), from memory
FINE = ("leavener", "yeast")  # ingredients a sixteenth of a teaspoon matters to
_GRAMS_OF_TSP = Fraction(46, 10)  # baking powder and soda (USDA, from memory)
_SPLIT = re.compile(r"\s*(?:-|–|—|\bto\b|\bor\b)\s*", re.I)
_METRIC_CUP = {"metric": 800, "imperial": 909}
_TINY = Fraction(1, 4)


@dataclass(frozen=True, slots=True)
class Bound:
    """How far a rounded figure may stand from the exact one: a quarter of the correction, or 1/16 tsp for leaveners.

    fine: whether it is a leavener or yeast. grams_each: grams of one of the amount's unit, where known.
    factor: share of the correction, a quarter.
    """

    fine: bool = False
    egg: bool = False
    grams_each: float | None = None
    factor: Fraction = Fraction(1, 4)

    @classmethod
    def of(cls, edit: Edit) -> Bound:
        """The bound of an edit, from its ingredient's role and weight."""
        item = edit.ingredient
        if item is None:
            return cls()
        first = next((a for a in item.amounts if a.quantity and a == edit.target), None)
        known = item.grams and first and not any(dimension(a.unit) == "mass" for a in item.amounts)
        each = item.grams / float(first.quantity or 1) if known and item.grams and first else None
        return cls(item.role in FINE, item.role == "egg", each)

    def tsp(self, correction: Fraction) -> Fraction:
        """The bound of a correction in teaspoons."""
        part = abs(correction) * self.factor
        return max(part, Fraction(1, 16)) if self.fine else part

    def grams(self, correction: Fraction) -> Fraction:
        """The bound of a correction in grams."""
        part = abs(correction) * self.factor
        return max(part, _GRAMS_OF_TSP / 16) if self.fine else part


def amount(text: str, old: Amount, new: Fraction, new_max: Fraction | None, voice: Voice, bound: Bound) -> str | None:
    """The new amount as written, or None where it rounds to the old one."""
    if old.quantity is None:
        return None
    how = manner(old.text, old.unit, voice)
    whole = old.count or Fraction(1)
    low = one(old, old.quantity * whole, new * whole, how, bound)
    if old.quantity_max is None or new_max is None:
        return None if low is None else how.lead + low
    high = one(old, old.quantity_max * whole, new_max * whole, how, bound)
    if low is None and high is None:
        return None
    return how.lead + _range(old, low, high, how)


def _range(old: Amount, low: str | None, high: str | None, how: Manner) -> str:
    """Both ends, joined as they were; the unit is written once where both ends are single measures of it."""
    first = low or _plain(old.quantity, old.unit, how)
    second = high or _plain(old.quantity_max, old.unit, how)
    found = re.search(r"(?<=[\d\w¼-¾⅐-⅞])\s*(?:-|–|—)\s*(?=[\d¼-¾⅐-⅞])|\s+(?:to|or)\s+", old.text)
    joint = found.group() if found else " to "
    tail = how.unit(old.unit, Fraction(1)), how.unit(old.unit, Fraction(2))
    simple = not re.search(r"[+]| plus | less ", first + second)
    if not simple:
        return f"{first} to {second}"
    short = next(
        (first[: -len(t)] for t in tail[::-1] if t.strip() and first.endswith(t) and second.endswith(tail)), None
    )
    if short is None:
        return f"{first}{joint if not joint.strip() in '-–—' else f' {joint.strip()} '}{second}"
    if "/" in short + second and joint in "-–—":
        joint = f" {joint} "
    return f"{short}{joint}{second}"


def _plain(value: Fraction | None, unit: str, how: Manner) -> str:
    return "" if value is None else _terms((Term(value, unit),), how)


def one(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> str | None:
    """One figure of an amount, measured and written; None where it equals the old figure."""
    unit, kind = old.unit, dimension(old.unit)
    if kind == "volume":
        return _volume(old, was, exact, how, bound)
    if kind in ("mass", "metric"):
        return _weight(unit, was, exact, how, bound)
    if unit == "each" and bound.egg:
        return _eggs(was, exact, how)
    steps = Fraction(1, 4) if exact >= Fraction(1, 4) else Fraction(1, 8)
    near = max(to_step(exact, steps), steps)
    if near == was or unit in ("pinch", "dash"):
        return None
    return _terms((Term(near, unit),), how)


def _volume(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> str | None:
    each = size(old.unit)
    if old.unit in ("cup", "tbsp", "tsp"):
        unit, cup = old.unit, _METRIC_CUP.get(old.system, CUP) if old.unit == "cup" else CUP
        each = Fraction(cup, 16) if old.unit == "cup" else each
    elif old.unit in ("pinch", "dash"):
        return None
    elif each > 12:
        return _beside(old, was, exact, how, bound)
    else:
        unit, cup = ("tbsp" if each >= 3 else "tsp"), CUP
    found = nearest(exact * each, bound.tsp((exact - was) * each), unit, was * each, cup)
    if found.tsp == was * each:
        return None
    return _terms(found.terms, how) + _tiny(found, each, bound, how)


def _tiny(found: Measure, each: Fraction, bound: Bound, how: Manner) -> str:
    """Grams beside an amount too small for a spoon to be trusted, where the ingredient's weight is known."""
    if found.tsp > _TINY or bound.grams_each is None:
        return ""
    grams = to_step(Fraction(bound.grams_each).limit_denominator(1000) * found.tsp / each, Fraction(1, 10))
    return f" ({decimal(grams)} g)" if grams else ""


def _beside(old: Amount, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> str | None:
    """A big or old-fashioned measure stays, and spoons are added to it or taken from it."""
    each = size(old.unit)
    more = (exact - was) * each
    if old.unit == "stick" and (exact * 4).denominator == 1:
        return _terms((Term(exact, "stick"),), how)
    if -more > was * each / 2:
        found = nearest(exact * each, bound.tsp(more), "cup")
        return _terms(found.terms, how)
    if abs(more) < Fraction(1, 16):
        return None
    found = nearest(abs(more), bound.tsp(more), "tbsp" if abs(more) < 24 else "cup")
    sign = 1 if more > 0 else -1
    terms = tuple(Term(sign * term.count, term.unit, term.shade) for term in found.terms)
    return _terms((Term(was, old.unit), *terms), how)


def _weight(unit: str, was: Fraction, exact: Fraction, how: Manner, bound: Bound) -> str | None:
    each, more = size(unit), exact - was
    if unit in ("oz", "lb"):
        ounces = Fraction(16) if unit == "lb" else Fraction(1)
        limit = bound.grams(more * each) / size("oz")
        near = in_ounces(exact * ounces, limit)
        return None if near == was * ounces else _pounds(near, unit, how)
    limit = bound.grams(more * each)
    near = (on_scale if unit in ("g", "kg") else in_jug)(exact * each, limit)
    if near == was * each:
        return None
    small = "g" if unit in ("g", "kg") else "ml"
    if unit in ("kg", "l") and near >= 1000:
        point = how.fractions if how.fractions in (".", ",") else "."
        return decimal(near / each, point) + how.unit(unit, near / each)
    return decimal(near) + how.unit(small, near)


def _pounds(ounces: Fraction, unit: str, how: Manner) -> str:
    pounds, rest = divmod(ounces, 16)
    if unit == "oz" or not pounds:
        return _terms((Term(ounces, "oz"),), how)
    head = _terms((Term(Fraction(pounds), "lb"),), how)
    return f"{head} {_terms((Term(rest, 'oz'),), how)}" if rest else head


def _eggs(was: Fraction, exact: Fraction, how: Manner) -> str | None:
    """Whole eggs, and the part of one as tablespoons of beaten egg."""
    whole, part = divmod(exact, 1)
    spoons = to_step(part * EGG_TBSP, Fraction(1, 2))
    if spoons >= 3:
        whole, spoons = whole + 1, Fraction(0)
    if whole == was and not spoons:
        return None
    head = how.number(Fraction(whole)) if whole else ""
    beaten = f"{_terms((Term(spoons, 'tbsp'),), how)} beaten egg" if spoons else ""
    return f"{head} {how.plus} {beaten}" if head and beaten else head or beaten


def addition(edit: Edit, voice: Voice, target: object) -> str:
    """What is added beside an amount or on a line of its own: "+ 3 Tbsp water"."""
    like = target if isinstance(target, Amount) else None
    how = manner(like.text if like else "", like.unit if like else "", voice)
    if edit.exact is None:
        return f"+ {edit.addition}"
    unit = edit.unit or "tbsp"
    extra = Amount(0, 0, "", Fraction(0), unit=unit)
    if dimension(unit) == "volume" and size(unit) > 3 and unit != "cup":
        edit_exact, unit = edit.exact * size(unit), "tsp"
        found: str | None = _terms(nearest(edit_exact, edit_exact / 4, "cup").terms, how)
    else:
        found = one(extra, Fraction(0), edit.exact, how, Bound())
    return f"+ {found or decimal(edit.exact)} {edit.addition}"


def _terms(terms: tuple[Term, ...], how: Manner) -> str:
    """Terms as words: "1 1/2 cups + 2 Tbsp", "1 cup less 1 Tbsp", "a pinch"."""
    out = ""
    for term in terms:
        count = abs(term.count)
        if term.unit == "pinch" and count == 1:
            words = "a pinch"
        elif term.unit in ("", "each"):
            words = how.number(count)
        else:
            words = f"{term.shade} {how.number(count)}{how.unit(term.unit, count)}".lstrip()
        if not out:
            out = words
        else:
            out += f" less {words}" if term.count < 0 else f" {how.plus} {words}"
    return out
