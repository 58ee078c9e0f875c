"""One amount, measured and written as it was written; and what is added beside one."""

from __future__ import annotations

import re
from fractions import Fraction

from rewriter.model import Amount, Edit
from rewriter.writing.figures import Bound, Figure, measured, terms
from rewriter.writing.manner import Manner, Voice, decimal, manner
from rewriter.writing.spoons import nearest
from rewriter.writing.units import dimension, size

_DASHED = re.compile(r"(?<=[\w¼-¾⅐-⅞])\s*[-–—]\s*(?=[\d¼-¾⅐-⅞])")
_SPOKEN = re.compile(r"\s+(?:to|or)\s+", re.I)
_COMPOUND = re.compile(r"\+| plus | less ")


def amount(old: Amount, exact: Fraction, exact_max: Fraction | None, voice: Voice, bound: Bound) -> Figure | None:
    """The new amount (value: of the lower end), or None where all of it rounds to the old one."""
    if old.quantity is None:
        return None
    how = manner(old.text, old.unit, voice)
    was = _all(old, old.quantity)
    low = measured(old, was, _all(old, exact), how, bound)
    if old.quantity_max is None or exact_max is None:
        return None if low.value == was else Figure(low.value, how.lead + low.words)
    most = _all(old, old.quantity_max)
    high = measured(old, most, _all(old, exact_max), how, bound)
    if low.value == was and high.value == most:
        return None
    return Figure(low.value, how.lead + _range(old, low.words, high.words, how))


def _all(old: Amount, size: Fraction) -> Fraction:
    """A figure of an amount, in all its containers together."""
    return size * old.count if old.count else size


def _range(old: Amount, low: str, high: str, how: Manner) -> str:
    """Both ends, joined as they were; the unit is written once where both are single measures of it."""
    if _COMPOUND.search(low + high):
        return f"{low} to {high}"
    found = _SPOKEN.search(old.text) or _DASHED.search(old.text)
    joint = found.group() if found else " to "
    for value in (Fraction(1), Fraction(2)):
        unit = how.unit(old.unit, value)
        if unit.strip() and low.endswith(unit):
            low = low.removesuffix(unit)
            break
    mixed = "/" in low + high or " " in low.strip()
    if joint.strip() in ("-", "–", "—") and mixed:
        joint = f" {joint.strip()} "
    return f"{low}{joint}{high}"


def addition(edit: Edit, voice: Voice) -> str:
    """What is added beside an amount or on a line of its own: "+ 3 Tbsp water"."""
    like = edit.target if isinstance(edit.target, Amount) else Amount(0, 0, "", None)
    how = manner(like.text, like.unit, voice)
    if edit.exact is None:
        return f"+ {edit.addition}"
    unit, exact = edit.unit or "tbsp", edit.exact
    if dimension(unit) == "volume":
        tsp = exact * size(unit)
        share = 12 if edit.step == "offer" else 4  # an offer is a whole amount, an addition a correction
        words = terms(nearest(tsp, tsp / share, "tbsp" if tsp < 21 else "cup").terms, how)
    else:
        extra = Amount(0, 0, "", Fraction(0), unit=unit)
        words = measured(extra, Fraction(0), exact, how, Bound()).words or decimal(exact)
    return f"+ {words} {edit.addition}"
