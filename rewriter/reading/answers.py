"""A person's answers, applied to what was read: any reading can be overruled by its id.

>>> given = Given([Answer("role@4", "flour")])
>>> given.get("role", 4), given.get("part", 4)
('flour', None)
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from rewriter import pantry
from rewriter.model import Amount, Answer, Heat, Ingredient
from rewriter.reading.lines import weigh
from rewriter.reading.numerals import NUMBER, value
from rewriter.reading.units import canonical

_QUANTITY = re.compile(rf"\s*(?P<number>{NUMBER})\s*(?P<unit>[A-Za-z. ]+?)?\s*(?:\(.*\))?\s*$", re.IGNORECASE)


class AnswerError(ValueError):
    """An answer that does not fit its question; the message says what would."""


class Given:
    """The answers by what they are about and where."""

    def __init__(self, answers: Sequence[Answer]) -> None:
        self._by_id = {answer.query: answer.value.strip() for answer in answers}

    def __bool__(self) -> bool:
        return bool(self._by_id)

    def get(self, what: str, at: int) -> str | None:
        """The answer about ``what`` at this offset, or None."""
        return self._by_id.get(f"{what}@{at}")

    def kind(self, at: int) -> str | None:
        """The kind of bake given for the recipe or part at this offset, or None."""
        told = self.get("kind", at)
        return None if told is None else _legal(told, pantry.kinds(), "kind of bake")

    def ingredient(self, one: Ingredient) -> Ingredient:
        """The ingredient with the role, part and amounts the person gave."""
        if not self._by_id:
            return one
        role, part = self.get("role", one.start), self.get("part", one.start)
        if role is not None:
            one = replace(one, role=_legal(role, pantry.roles(), "role"), sure=True)
        if part is not None:
            one = replace(one, part=_legal(part, _PARTS, "part"), sure=True)
        amounts = tuple(self._amount(amount) for amount in one.amounts)
        if amounts != one.amounts:
            grams, spread = weigh(one.key, amounts)
            one = replace(one, amounts=amounts, grams=grams, grams_range=spread)
        return one

    def _amount(self, amount: Amount) -> Amount:
        unit, quantity = self.get("unit", amount.start), self.get("quantity", amount.start)
        if unit is not None:
            match = _QUANTITY.match(unit)
            if match:  # "3/4 cup": what one of the old measure holds
                scale = value(match["number"])
                return replace(
                    amount, quantity=(amount.quantity or 1) * scale, unit=canonical(match["unit"] or ""), sure=True
                )
            amount = replace(amount, unit=canonical(unit), sure=True)
        if quantity is not None:
            match = _QUANTITY.match(quantity)
            if not match:
                raise AnswerError(
                    f"quantity@{amount.start}: “{quantity}” is no amount; write one such as 1 1/2 or 1 1/2 cups"
                )
            given = canonical(match["unit"]) if match["unit"] else amount.unit
            amount = replace(amount, quantity=value(match["number"]), quantity_max=None, unit=given, sure=True)
        return amount

    def heat(self, heat: Heat) -> Heat:
        """The heat with the place or the degrees F the person gave."""
        told = self.get("heat", heat.start)
        if told is None:
            return heat
        if told.lower() in ("no", "not oven", "not the oven"):
            return replace(heat, place="food", purpose="doneness", sure=True)
        try:
            degrees = Fraction(told.lower().removesuffix("f").strip(" °"))
        except ValueError:
            raise AnswerError(f"heat@{heat.start}: “{told}” is neither degrees F nor “not oven”") from None
        return replace(heat, fahrenheit=degrees, celsius=(degrees - 32) * Fraction(5, 9), place="oven", sure=True)


_PARTS = ("batter", "topping", "frosting", "dusting", "filling", "bloom", "serving", "dish")


def _legal(told: str, choices: object, what: str) -> str:
    name = told.lower().strip()
    if name not in choices:  # type: ignore[operator]
        raise AnswerError(f"“{told}” is no {what}; choose one of {', '.join(choices)}")  # type: ignore[arg-type]
    return name
