"""Which amounts on an ingredient line measure its own ingredient.

>>> from rewriter.reading.amounts import find
>>> text = "1 egg, beaten with 2 Tbsp milk"
>>> [amount.text for amount in own_amounts(text, 0, len(text), find(text))]
['1']
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from rewriter.model import Amount
from rewriter.reading.units import MASS, VOLUME

_DUAL = re.compile(
    r"[\s(\[/|,;=–—-]*(?:(?:about|approx(?:imately|\.)?|or|around|roughly|~|weighing|total|equals|i\.?e\.?|well|just|scant|generous|from)\s*)*(?:[x×]\s*)?[(\[]?\s*$",
    re.IGNORECASE,
)
_PAREN_BEFORE = re.compile(
    r"[(\[]\s*(?:(?:about|approx(?:imately|\.)?|around|roughly|~|weighing|measured|total(?:ing)?|a total of)\s*)*$",
    re.IGNORECASE,
)
MORE = re.compile(
    r"(?:\b(?:plus|and|with|an?)|\+)\s*(?:(?:some|a\s+little|a\s+bit)\s+)?(?:more|extra|additional)\b|\b(?:extra|more)\s+for\b|\bplus\b",
    re.IGNORECASE,
)
OR = re.compile(r"\bor\b|\bsubstitute\b", re.IGNORECASE)
LEAD = re.compile(
    r"(?:optional:?\s*)?[\s(\[*]*(?:(?:about|approximately|approx\.?|around|the|~|scant|heaping|heaped|level"
    r"|generous|a|an|roughly|up to|at least|juice|zest|peel|rind|grated|finely|freshly|squeezed|and|whites?|yolks?|of"
    r"|from|optional|extra|another|additional)\b[\s.:]*)*$",
    re.IGNORECASE,
)
_TRAILING_UNIT = re.compile(
    r"\s+(?:[a-z-]+\s+){0,3}?(?P<unit>(?:garlic\s+)(?P<clove>cloves?)|(?:celery|butter|margarine)\s+(?P<stick>sticks?)|(?:bread|lemon|lime|orange|bacon|cheese|ham|toast)\s+(?P<slice>slices?))\b",
    re.IGNORECASE,
)
_SECOND = frozenset((*MASS, *VOLUME, "stick", "packet", "cake"))


def own_amounts(text: str, start: int, end: int, amounts: Sequence[Amount]) -> list[Amount]:
    """The amounts of a line that measure its own ingredient, in the order written.

    Left out: bare counts in brackets, amounts of something else ("beaten with 2 Tbsp milk"), extra for the pan.
    """
    if not amounts:
        return []
    leading = amounts[0]
    if not leading.unit and not LEAD.match(text[start : leading.start]):
        leading = next((amount for amount in amounts if amount.unit), leading)
    if not leading.unit:
        leading = _unit_after(text, leading, end)
    own = [leading]
    for amount in amounts:
        if amount.unit not in _SECOND or amount.quantity is None or amount.start < own[-1].end:
            continue
        gap = text[own[-1].end : amount.start]
        if "+" in gap or "plus" in gap:
            continue
        if _DUAL.match(gap) or (_PAREN_BEFORE.search(gap) and not OR.search(gap) and not MORE.search(gap)):
            if not _agrees(leading, amount):
                continue
            own.append(amount)
    return own


def _agrees(first: Amount, second: Amount) -> bool:
    """Whether a second measure can be of the same quantity: the same dimension must agree within a third."""
    table_ = MASS if first.unit in MASS else VOLUME if first.unit in VOLUME else None
    if table_ is None or second.unit not in table_ or first.quantity is None or second.quantity is None:
        return True
    if first.unit == second.unit:
        return False
    ratio = first.quantity * table_[first.unit] / (second.quantity * table_[second.unit])
    count = first.count or 1
    return Fraction(2, 3) < ratio < Fraction(3, 2) or Fraction(2, 3) < ratio * count < Fraction(3, 2)


def _unit_after(text: str, amount: Amount, end: int) -> Amount:
    match = _TRAILING_UNIT.match(text, amount.end, end)
    if not match:
        return amount
    unit = "clove" if match["clove"] else "stick" if match["stick"] else "slice"
    return replace(amount, unit=unit)
