r"""Amounts in the method that are part of one already listed: "1 cup of the sugar", "half the flour", "the rest".

>>> from rewriter.reading.pipeline import read
>>> text = "Loaf\n\nIngredients\n2 cups sugar\n2 cups flour\n\nMethod\nMix 1 cup of the sugar with half the flour."
>>> [(p.text, p.ingredient.name, str(p.quantity or p.share), p.of) for p in read(text)[0].portions]
[('1 cup', 'sugar', '1', 'portion'), ('half', 'flour', '1/2', 'portion')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache

from rewriter.model import Amount, Ingredient, Portion
from rewriter.reading.mentions import fits
from rewriter.reading.method import Clause
from rewriter.reading.names import Name
from rewriter.reading.prose import Measured
from rewriter.reading.units import MASS, UNIT, VOLUME, canonical

_SHARE = re.compile(
    rf"\b(?P<share>(?:one[\s-])?half|(?:one|two|a)[\s-]thirds?|(?:one|three|a)[\s-](?:quarters?|fourths?)|½|⅓|⅔|¼|¾|(?<!\d\s)[1-3]/[2-4])\s+(?!{UNIT})(?:of\s+)?(?:the\s+)?(?:remaining\s+|reserved\s+)?(?=[a-z])"
    r"|\b(?P<rest>(?:the\s+)?(?:remaining|rest\s+of(?:\s+the)?|remainder\s+of(?:\s+the)?|reserved|other\s+half(?:\s+of(?:\s+the)?)?))\s+(?![\d½⅓⅔¼¾⅛])",
    re.IGNORECASE,
)
_SHARES = {
    "half": Fraction(1, 2), "third": Fraction(1, 3), "thirds": Fraction(2, 3), "quarter": Fraction(1, 4),
    "fourth": Fraction(1, 4),
    "quarters": Fraction(3, 4), "fourths": Fraction(3, 4), "½": Fraction(1, 2),
    "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4), "¾": Fraction(3, 4), "1/2": Fraction(1, 2), "1/3": Fraction(1, 3),
    "2/3": Fraction(2, 3), "1/4": Fraction(1, 4), "3/4": Fraction(3, 4),
}  # fmt: skip
_REMAINING = re.compile(r"\b(?:remaining|rest|remainder|reserved|other)\s+(?:of\s+the\s+)?$", re.IGNORECASE)


def listed_for(
    name: str, key: str | None, part: str, ingredients: Sequence[Ingredient], amount: Amount | None = None
) -> Ingredient | None:
    """The listed ingredient that words in the method mean; None where none fits.

    The same amount first, then one large enough to hold it, then the same row and part.
    """
    best: Ingredient | None = None
    rank = -1
    for one in ingredients:
        same = key is not None and one.key == key
        if not same and not fits(name, one.name):
            continue
        score = 2 * same + (one.part == part) * 3 + bool(one.amounts) + (6 * holds(one, amount) if amount else 0)
        if score > rank:
            best, rank = one, score
    return best


def holds(one: Ingredient, amount: Amount) -> int:
    """How an amount fits a listed ingredient: 2 where it is the whole of it, 1 where it can be part of it, else 0."""
    for own in one.amounts:
        scale = comparable(amount.unit, own.unit) if own.quantity is not None else None
        if scale is None or amount.quantity is None or own.quantity is None:
            continue
        part, whole = _times(amount.quantity, scale), _times(own.quantity, own.count)
        return 2 if part == whole else 1 if part < whole else 0
    return 0


def _times(quantity: Fraction, times: Fraction | None) -> Fraction:
    return quantity * times if times and times != 1 else quantity


@lru_cache(maxsize=2048)
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
        part, whole = _times(amount.quantity, scale), _times(total.quantity, total.count)
        if part == whole:
            of = "restated"
        elif part > whole:
            return None
    return Portion(amount.start, amount.end, amount.text, one, amount.quantity, None, amount.unit, of, sure)


def extra(text: str, one: Ingredient, amount: Amount) -> bool:
    """Whether an amount is the one a line has beside its own ("3/4 cup sugar, plus 1 tablespoon for the berries")."""
    if "plus-more" not in one.flags:
        return False
    stop = text.find("\n", one.name_end)
    rest = text[one.name_end : stop if stop >= 0 else len(text)].lower()
    return re.search(rf"\bplus\s+(?:an?\s+(?:extra|additional)\s+)?{re.escape(amount.text.lower())}", rest) is not None


def shares(
    text: str, clauses: Sequence[Clause], names: Sequence[Name], ingredients: Sequence[Ingredient]
) -> list[Portion]:
    """Portions told by a share, by what is left or by one unit: "half the flour", "the rest", "the cup of sugar"."""
    out: list[Portion] = []
    marked = _FRACTION.search(text) is not None
    for clause in clauses:
        start, end = clause.start, clause.end
        found: list[Portion | None] = []
        if not _SHARE_WORDS.isdisjoint(clause.words) or (marked and _FRACTION.search(text, start, end)):
            found = [_share(text, match, clause, names, ingredients) for match in _SHARE.finditer(text, start, end)]
        units = _UNIT_OF.finditer(text, start, end) if "the" in clause.words else ()
        found += [_unit(text, one, clause, names, ingredients) for one in units if _SIGN.search(text, start, end)]
        out += [one for one in found if one is not None]
    return out


_SHARE_WORDS = frozenset("half third thirds quarter quarters fourth fourths remaining rest remainder reserved".split())
_FRACTION = re.compile("[½⅓⅔¼¾/]")
_SIGN = re.compile(
    "[½⅓⅔¼¾/]|half|third|quarter|fourth|remain|rest|reserved|the cup|the stick|spoon|other", re.IGNORECASE
)
"""Without one of these "the cup" or "the last spoon" is no portion."""
_UNIT_OF = re.compile(
    r"[Tt](?<!\w\w)(?i:he\s+(?P<last>(?:other|last|remaining)\s+)?"
    rf"(?P<unit>(?:heaped\s+|heaping\s+)?{UNIT}\.?)\s+(?:of\s+)?(?=[a-z]))"
)
"""Its first letter in two sizes, so that a scan for it is quick."""


def _share(
    text: str, match: re.Match[str], clause: Clause, names: Sequence[Name], ingredients: Sequence[Ingredient]
) -> Portion | None:
    one = _meant(text, match.end(), clause, names, ingredients)
    if one is None:
        return None
    words = match["share"]
    start, end = match.span("share" if words else "rest")
    share = _SHARES.get(re.split(r"[\s-]+", words.lower())[-1]) if words else None
    if words and share is None:
        return None
    if words and words.lower().startswith("two"):
        share = Fraction(2, 3)
    return Portion(start, end, text[start:end], one, None, share, "", "portion" if words else "remaining")


def _unit(
    text: str, match: re.Match[str], clause: Clause, names: Sequence[Name], ingredients: Sequence[Ingredient]
) -> Portion | None:
    one = _meant(text, match.end(), clause, names, ingredients)
    unit = canonical(match["unit"].split()[-1])
    if one is None or not (unit in MASS or unit in VOLUME or unit == "stick"):
        return None
    start, end = match.start("unit"), match.end("unit")
    amount = Amount(start, end, text[start:end], Fraction(1), unit=unit)
    held = holds(one, amount)
    if not held:
        return None
    of = "remaining" if match["last"] else "restated" if held == 2 else "portion"
    return Portion(start, end, text[start:end], one, Fraction(1), None, unit, of)


def _meant(
    text: str, at: int, clause: Clause, names: Sequence[Name], ingredients: Sequence[Ingredient]
) -> Ingredient | None:
    """The listed ingredient, with an amount, that is named right after this place."""
    stop = min(at + 16, clause.end)
    name = next((name for name in names if at <= name.start < stop), None)
    if name is None or re.search(r"[,.;]", text[at : name.start]):
        return None
    one = listed_for(name.text, name.key, clause.part_at(name.start), ingredients)
    return one if one is not None and one.amounts else None


_LEFT = re.compile(r"\b(?:remaining|last|other|reserved|final|the\s+rest\s+of\s+the)\s+$", re.IGNORECASE)
_REST_WORDS = frozenset(("rest", "half", "remainder", "left"))
_REST = re.compile(
    r"\b(?:the\s+rest|the\s+other\s+half|the\s+remainder|what\s+is\s+left|what's\s+left)\b(?!\s+of\s+the\s+time)",
    re.IGNORECASE,
)


def left_over(text: str, amount: Amount, before: Sequence[Portion]) -> Portion | None:
    """Read "add the last 2 tablespoons": the rest of what the method measured before; None where nothing fits."""
    if amount.quantity is None or not _LEFT.search(text[max(0, amount.start - 24) : amount.start]):
        return None
    for earlier in reversed(before):
        if earlier.start < amount.start and holds(earlier.ingredient, amount) == 1:
            return Portion(
                amount.start,
                amount.end,
                amount.text,
                earlier.ingredient,
                amount.quantity,
                None,
                amount.unit,
                "remaining",
            )
    return None


def rests(text: str, clauses: Sequence[Clause], before: Sequence[Portion]) -> list[Portion]:
    """Read "then the rest": what is left of the ingredient last portioned out."""
    out = []
    for clause in clauses:
        if not before or _REST_WORDS.isdisjoint(clause.words):
            continue
        for match in _REST.finditer(text, clause.start, clause.end):
            if any(one.start <= match.start() < one.end for one in before):
                continue
            earlier = [one for one in before if one.end <= match.start() and one.of == "portion"]
            if earlier and match.start() - earlier[-1].end < 400:
                out.append(Portion(match.start(), match.end(), match[0], earlier[-1].ingredient, of="remaining"))
    return out
