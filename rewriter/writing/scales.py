"""Weights and metric volumes: the coarsest step a kitchen scale or jug shows within a bound.

>>> on_scale(Fraction(375, 2), Fraction(25, 8))
Fraction(188, 1)
>>> on_scale(Fraction(9, 4), Fraction(3, 16))
Fraction(23, 10)
"""

from __future__ import annotations

from fractions import Fraction

GRAM_STEPS = (Fraction(1), Fraction(1, 2), Fraction(1, 10))
OUNCE_STEPS = (Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 8), Fraction(1, 10))


def to_step(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value`` (half goes up)."""
    top, bottom = value.numerator * step.denominator, value.denominator * step.numerator
    return Fraction((2 * top + bottom) // (2 * bottom) * step.numerator, step.denominator)


def first_within(value: Fraction, bound: Fraction, steps: tuple[Fraction, ...]) -> Fraction:
    """The coarsest step's figure whose error is within ``bound``; the finest step's where none is."""
    for step in steps:
        near = to_step(value, step)
        if near > 0 and abs(near - value) <= bound:
            return near
    return max(near, steps[-1])


def on_scale(grams: Fraction, bound: Fraction) -> Fraction:
    """Grams as a kitchen scale shows them: 5 g steps from a kilogram up, else whole grams, finer only where needed."""
    return first_within(grams, bound, (Fraction(5), *GRAM_STEPS) if grams >= 1000 else GRAM_STEPS)


def in_jug(ml: Fraction, bound: Fraction) -> Fraction:
    """Millilitres: to 5 where the bound allows, else to 1, finer only where needed."""
    return first_within(ml, bound, (Fraction(5), *GRAM_STEPS) if ml >= 15 else GRAM_STEPS)


def in_ounces(ounces: Fraction, bound: Fraction) -> Fraction:
    """Ounces in halves, quarters and eighths, else in tenths as a scale shows them."""
    return first_within(ounces, bound, OUNCE_STEPS)
