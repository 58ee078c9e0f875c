"""Amounts in the method that are part of one already listed: "1 cup of the sugar", "half the flour", "the remaining milk".

>>> from rewriter.reading.pipeline import read
>>> text = "Loaf\\n\\nIngredients\\n2 cups sugar\\n2 cups flour\\n\\nMethod\\nMix 1 cup of the sugar with half the flour. Bake at 350 F."
>>> [(p.text, p.ingredient.name, str(p.quantity or p.share), p.of) for p in read(text)[0].portions]
[('1 cup', 'sugar', '1', 'portion'), ('half', 'flour', '1/2', 'portion')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from rewriter.model import Ingredient, Portion
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.names import Name
from rewriter.reading.prose import Measured
from rewriter.reading.units import MASS, VOLUME

_SHARE = re.compile(
    r"\b(?P<share>(?:one[\s-])?half|(?:one|two|a)[\s-]thirds?|(?:one|three|a)[\s-](?:quarters?|fourths?)|½|⅓|⅔|¼|¾|[1-3]/[2-4])\s+(?:of\s+)?(?:the\s+)?(?:remaining\s+|reserved\s+)?(?=[a-z])"
    r"|\b(?P<rest>(?:the\s+)?(?:remaining|rest\s+of(?:\s+the)?|remainder\s+of(?:\s+the)?|reserved|other\s+half(?:\s+of(?:\s+the)?)?))\s+",
    re.IGNORECASE,
)
_SHARES = {
    "half": Fraction(1, 2), "third": Fraction(1, 3), "thirds": Fraction(2, 3), "quarter": Fraction(1, 4), "fourth": Fraction(1, 4),
    "quarters": Fraction(3, 4), "fourths": Fraction(3, 4), "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4), "¾": Fraction(3, 4), "1/2": Fraction(1, 2), "1/3": Fraction(1, 3), "2/3": Fraction(2, 3), "1/4": Fraction(1, 4), "3/4": Fraction(3, 4),
}  # fmt: skip
_REMAINING = re.compile(r"\b(?:remaining|rest|remainder|reserved|other)\s+(?:of\s+the\s+)?$", re.IGNORECASE)


def listed_for(name: str, key: str | None, part: str, ingredients: Sequence[Ingredient]) -> Ingredient | None:
    """The listed ingredient that words in the method mean: the same row and part first; None where none fits."""
    best: Ingredient | None = None
    rank = -1
    for one in ingredients:
        same = key is not None and one.key == key
        if not same and not fits(name, one.name):
            continue
        score = 2 * same + (one.part == part) * 3 + bool(one.amounts)
        if score > rank:
            best, rank = one, score
    return best


def comparable(first: str, second: str) -> Fraction | None:
    """What one of the first unit is in the second, where both measure the same dimension; else None."""
    for units in (MASS, VOLUME):
        if first in units and second in units:
            return units[first] / units[second]
    return Fraction(1) if first == second else None


def portion(text: str, found: Measured, one: Ingredient) -> Portion | None:
    """The portion an amount in the method is of a listed ingredient; None where it is no part of it."""
    amount = found.amount
    if amount.quantity is None:
        return None
    total = next(
        (own for own in one.amounts if own.quantity is not None and comparable(amount.unit, own.unit) is not None), None
    )
    remaining = bool(_REMAINING.search(text[max(0, amount.start - 24) : amount.start]))
    sure, of = True, "remaining" if remaining else "portion"
    if total is None or total.quantity is None:
        if not one.amounts and not found.the:
            return None
        sure = False
    else:
        scale = comparable(amount.unit, total.unit) or Fraction(1)
        whole = total.quantity * (total.count or 1)
        if amount.quantity * scale == whole:
            of = "restated"
        elif amount.quantity * scale > whole:
            return None
    return Portion(amount.start, amount.end, amount.text, one, amount.quantity, None, amount.unit, of, sure)


def shares(
    text: str, clauses: Sequence[Clause], names: Sequence[Name], ingredients: Sequence[Ingredient]
) -> list[Portion]:
    """ "half the flour", "the remaining milk": portions told by a share or by what is left."""
    out: list[Portion] = []
    for clause in clauses:
        for match in _SHARE.finditer(text, clause.start, clause.end):
            name = next((name for name in names if match.end() <= name.start < match.end() + 16), None)
            if name is None or name.end > clause.end or re.search(r"[,.;]", text[match.end() : name.start]):
                continue
            one = listed_for(name.text, name.key, clause.part_at(name.start), ingredients)
            if one is None or not one.amounts:
                continue
            words = match["share"]
            start, end = match.span("share" if words else "rest")
            share = _SHARES.get(re.split(r"[\s-]+", words.lower())[-1]) if words else None
            if words and share is None:
                continue
            if words and words.lower().startswith("two"):
                share = Fraction(2, 3)
            out.append(Portion(start, end, text[start:end], one, None, share, "", "portion" if words else "remaining"))
    return out
