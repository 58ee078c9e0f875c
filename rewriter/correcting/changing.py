"""Turning a figure into edits: one for each measure of an ingredient, or a question where the reading is not sure."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import lru_cache

from rewriter.correcting.batch import Batch
from rewriter.model import Amount, Direction, Edit, Ingredient, Portion, Query

ONE = Fraction(1)


def words(value: Fraction) -> str:
    """A figure in plain digits: whole, or to two places.

    >>> words(Fraction(5, 2)), words(Fraction(6)), words(Fraction(1, 3))
    ('2.5', '6', '0.33')
    """
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.2f}".rstrip("0").rstrip(".")


def percent(share: Fraction) -> str:
    """A share as a percentage, to two places at most.

    >>> percent(Fraction(1, 16)), percent(Fraction(1, 2))
    ('6.25 %', '50 %')
    """
    return _percent(*share.as_integer_ratio())


@lru_cache(maxsize=2048)
def _percent(top: int, bottom: int) -> str:
    return words(Fraction(100 * top, bottom)) + " %"


def measured(ingredient: Ingredient) -> list[Amount]:
    """Its amounts that have a figure above nothing."""
    return [a for a in ingredient.amounts if a.quantity is not None and a.quantity.numerator > 0]


def doubt(ingredient: Ingredient) -> Query | None:
    """The question to ask before this ingredient may change, or None where the reading is sure of it.

    >>> from rewriter.model import Ingredient
    >>> doubt(Ingredient(4, 20, "panela", "sugar", "batter", sure=False)).id
    'role@4'
    """
    if not ingredient.sure:
        question = (
            f"Is {ingredient.name} {_article(ingredient.role)} in this batter? It is left as it is until you say."
        )
        choices = (ingredient.role, "other")
        return Query(f"role@{ingredient.start}", ingredient.start, ingredient.end, ingredient.name, question, choices)
    for amount in ingredient.amounts:
        if amount.quantity is not None and not amount.sure:
            what, asked = ("unit", "In what unit is") if not amount.unit else ("quantity", "How much is")
            question = f'{asked} "{amount.text}" of {ingredient.name}? It is left as it is until you say.'
            return Query(f"{what}@{amount.start}", amount.start, amount.end, amount.text, question)
    return None


def _article(role: str) -> str:
    return f"an {role}" if role[:1] in "aeiou" else f"a {role}" if role in ("leavener", "liquid", "syrup") else role


def scaled(
    batch: Batch, ingredient: Ingredient, factor: Fraction, rule: str, why: str, source: str, unguarded: Fraction = ONE
) -> Iterator[Edit | Query]:
    """Multiply every measure of an ingredient; ``unguarded`` is the factor the guide alone would give (1: the same)."""
    amounts = measured(ingredient)
    if factor == 1 or not amounts:
        return
    asked = doubt(ingredient)
    if asked is not None:
        yield asked
        return
    direction: Direction = "up" if factor > 1 else "down"
    for amount in amounts:
        yield changed(ingredient, amount, direction, lambda q: q * factor, rule, why, source, unguarded)
    for amount in portions(batch, ingredient):
        yield changed(ingredient, amount, direction, lambda q: q * factor, rule, why, source, unguarded)


def changed(
    ingredient: Ingredient,
    amount: Amount,
    direction: Direction,
    move: Callable[[Fraction], Fraction],
    rule: str,
    why: str,
    source: str,
    unguarded: Fraction = ONE,
    step: str = "now",
) -> Edit:
    """An edit of one measure, a range with both its ends."""
    assert amount.quantity is not None
    return Edit(
        rule,
        amount.start,
        amount.end,
        direction,
        move(amount.quantity),
        why,
        source,
        exact_max=None if amount.quantity_max is None else move(amount.quantity_max),
        unit=amount.unit,
        target=amount,
        ingredient=ingredient,
        step=step,
        unguarded=None if unguarded == 1 else amount.quantity * unguarded,
        group=ingredient.group,
    )


def portions(batch: Batch, ingredient: Ingredient) -> Iterator[Amount]:
    """The measures of this ingredient that the method repeats or divides, as amounts."""
    start = ingredient.start
    for portion in batch.recipe.portions:
        if portion.ingredient.start == start and portion.sure and portion.quantity:
            yield as_amount(portion)


def as_amount(portion: Portion) -> Amount:
    """A portion of the method as an amount."""
    return Amount(portion.start, portion.end, portion.text, portion.quantity, unit=portion.unit)
