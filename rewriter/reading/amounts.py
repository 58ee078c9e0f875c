"""Amounts, wherever they stand: one pass of compiled patterns over the text, then neighbours joined.

``find`` gives every measure of a stretch of text as :class:`rewriter.model.Amount`, in order: "1 cup plus 2 Tbsp" and
"2 lb 4 oz" as one, "1 (14-oz) can" as 14 oz with count 1, dual measures as separate amounts. Pan sizes, times,
temperatures, prices and percentages are left out.

>>> [(str(a.quantity), a.unit, a.text) for a in find("1 cup plus 2 Tbsp sugar")]
[('9/8', 'cup', '1 cup plus 2 Tbsp')]
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter.model import Amount
from rewriter.reading.composites import pair, patterns
from rewriter.reading.numerals import value
from rewriter.reading.units import APPROXIMATE, canonical

_COMPILED = patterns("pattern")
_MEASURE, _ARTICLE, _SIZE = _COMPILED["measure"], _COMPILED["article"], _COMPILED["size"]
_NUMBERLESS, _DIMENSION, _BEFORE = _COMPILED["numberless"], _COMPILED["dimension"], _COMPILED["before"]
_STOP_AFTER, _HEDGED = _COMPILED["stop"], _COMPILED["hedged"]
_CANDIDATE = re.compile(_COMPILED["candidate"].pattern)  # of text in small letters: faster than ignoring case
_SCALED = {"dl": Fraction(100), "cl": Fraction(10)}


def _hedge(before: str, mid: str) -> str:
    words = mid.lower().replace("-", " ").split()
    last = before.rstrip(" ")[-1:]
    match = _HEDGED.search(before[-24:]) if last.isalpha() or last in "~." else None
    if match:
        words = (match["word"] or "~").lower().split() + words
    return next((word.strip(".") for word in words if word.strip(".") in APPROXIMATE), "")


@dataclass(slots=True)
class _Figures:
    """The figures of one match while they are settled."""

    quantity: Fraction
    top: Fraction | None
    unit: str
    end: int
    mid: str


def _figures(match: re.Match[str], article: bool) -> _Figures | None:
    """Quantity, range and unit of a match; None where its words are no number."""
    try:
        quantity = value(match["num"]) if match["num"] else Fraction(1)
        top = None if article or not match["num2"] else value(match["num2"])
    except (ValueError, ZeroDivisionError):
        return None
    raw = match["unit"] or ""
    if quantity == 0 or (raw in ("C", "F") and quantity >= 30):
        return None
    found = _Figures(quantity, top, canonical(raw) if raw else "", match.end(), match["mid"] or "")
    if top is not None and top <= quantity:  # "8-2 cups" is no range; "1/2-1/4 cup" is misprinted
        misprinted = found.unit and top < quantity < 1 and match["sep"].strip() in ("-", "–", "—")
        found = replace(found, top=None) if misprinted else _Figures(quantity, None, "", match.end("num"), "")
    return found


def _measured(text: str, match: re.Match[str], start: int, stop: int, article: bool) -> Amount | None:
    found = _figures(match, article)
    if found is None:
        return None
    quantity, top, unit, end = found.quantity, found.top, found.unit, found.end
    if match["post"] and unit:
        quantity += value(match["post"].split(None, 1)[1].strip())
    if unit in _SCALED:
        quantity, top, unit = quantity * _SCALED[unit], top and top * _SCALED[unit], "ml"
    raw = match["unit"] or ""
    if not unit:
        end = match.end("num2") if top is not None else match.end("num")
    elif raw.endswith(".") and text[end : end + 1] in ("", "\n") and len(raw) > 5:
        end -= 1  # the sentence's full stop, not the abbreviation's
    if end > stop:
        return None
    hedge = _hedge(text[max(0, start - 24) : start], found.mid)
    return Amount(start, end, text[start:end], quantity, top, unit, None, hedge)


def _sized(match: re.Match[str]) -> Amount:
    count = {"two": 2, "three": 3}.get(match["n"].lower(), 1)
    what = re.sub(r"\s+", " ", match["what"].lower().replace("-", " "))
    what = what if what == "peas" else what.rstrip("s")
    factor = {"half": Fraction(1, 2), "twice": Fraction(2)}.get((match["half"] or "").lower(), Fraction(1))
    article = "an" if what[0] in "aeiou" else "a"
    return Amount(
        match.start(), match.end(), match[0], count * factor, unit=f"size of {article} {what}", approximate="about"
    )


def _single(text: str, start: int, stop: int) -> tuple[Amount | None, int]:
    """The measure that starts here, if one does, and where to go on looking."""
    crossed = text[start - 1 : start] in ("x", "X", "×") and text[start - 2 : start - 1].isdigit()  # "2x400g tins"
    if (text[start - 1 : start].isalnum() and not crossed) or (
        text[start - 1 : start] == "." and text[start - 2 : start - 1].isdigit()
    ):
        return None, start + 1
    sized = _SIZE.match(text, start, stop)
    if sized:
        return _sized(sized), sized.end()
    dimension = _DIMENSION.match(text, start, stop)
    if dimension:
        return None, dimension.end()
    lone = _NUMBERLESS.match(text, start, stop)
    if lone:
        hedge, _, word = lone[0].rpartition(" ")
        unit = canonical(word)
        quantity = None if unit in ("pinch", "dash", "splash", "handful", "knob", "drizzle") else Fraction(1)
        return Amount(start, lone.end(), lone[0], quantity, unit=unit, approximate=hedge.strip().lower()), lone.end()
    return _numbered(text, start, stop)


def _numbered(text: str, start: int, stop: int) -> tuple[Amount | None, int]:
    """The measure that a number (or "a", "an") opens here, and where to go on looking."""
    article = text[start] in "aA"
    match = _ARTICLE.match(text, start, stop) if article else None
    if match is None:
        match, article = _MEASURE.match(text, start, stop), False
    if not match or _BEFORE.search(text[max(0, start - 12) : start]):
        return None, (match.end() if match else start + 1)
    amount = _measured(text, match, start, stop, article)
    if amount is None:
        return None, match.end("num") if match["num"] else start + 1
    if not amount.unit or amount.unit == "inch":
        if amount.unit and article:  # "an inch thick" has no figure to look behind
            return None, amount.end
        stopped = _STOP_AFTER.match(text, amount.end if not amount.unit else match.end("num"), stop)
        if stopped:
            return None, stopped.end()
    elif amount.unit == "can" and text[amount.end : amount.end + 1] == "'":
        return None, amount.end
    return amount, max(amount.end, start + 1)


def _join_back(text: str, found: list[Amount], amount: Amount, stop: int) -> int:
    """Join the amount with one of the last three found, or append it; the end of what now stands last."""
    for back in range(1, min(4, len(found) + 1)):
        if amount.start - found[-back].end > 60:
            break
        joined = pair(text, found[-back], amount, stop)
        if joined is not None:
            found[-back:] = [joined]
            return joined.end
    found.append(amount)
    return amount.end


def find(text: str, start: int = 0, end: int | None = None) -> list[Amount]:
    """Every measure in ``text[start:end]``, in order, neighbours joined where they are one amount.

    Returns amounts with offsets into ``text``; bare numbers have unit "". Numbers of times, heats, pan sizes, prices
    and percentages are left out. Never raises.

    >>> [(str(a.quantity), a.unit, a.count) for a in find("1 (14-oz) can condensed milk, in a 9x13 pan for 20 minutes")]
    [('14', 'oz', Fraction(1, 1))]
    >>> [(str(a.quantity), str(a.quantity_max), a.unit) for a in find("2-3 Tbsp milk or 1 cupful and a half of cream")]
    [('2', '3', 'tbsp'), ('3/2', 'None', 'cup')]
    """
    stop = len(text) if end is None else end
    low = text.lower()
    low = low if len(low) == len(text) else text
    found: list[Amount] = []
    at = start
    while True:
        candidate = _CANDIDATE.search(low, at, stop)
        if not candidate:
            return found
        amount, onwards = _single(text, candidate.start(), stop)
        at = max(onwards, candidate.start() + 1)
        if amount is None:
            continue
        joined_at = _join_back(text, found, amount, stop)
        at = max(at, joined_at)
