"""Amounts, wherever they stand: one pass of compiled patterns over the text, then neighbours joined.

``find`` gives every measure of a stretch of text as :class:`rewriter.model.Amount`, in order: "1 cup plus 2 Tbsp" and
"2 lb 4 oz" as one, "1 (14-oz) can" as 14 oz with count 1, dual measures as separate amounts. Pan sizes, times,
temperatures, prices and percentages are left out.

>>> [(str(a.quantity), a.unit, a.text) for a in find("1 cup plus 2 Tbsp sugar")]
[('9/8', 'cup', '1 cup plus 2 Tbsp')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from rewriter.model import Amount
from rewriter.reading.composites import pair, patterns
from rewriter.reading.numerals import NUMBER_WORDS, value
from rewriter.reading.units import APPROXIMATE, BEFORE_UNIT, HEDGES, SYSTEM_OF, canonical

_COMPILED = patterns("pattern")
_MEASURE, _ARTICLE, _SIZE = _COMPILED["measure"], _COMPILED["article"], _COMPILED["size"]
_NUMBERLESS, _DIMENSION, _BEFORE = _COMPILED["numberless"], _COMPILED["dimension"], _COMPILED["before"]
_STOP_AFTER, _HEDGED = _COMPILED["stop"], _COMPILED["hedged"]
_SMALL = patterns("small", flags=0)
_CANDIDATE, _PLAIN, _BETWEEN, _ASIDE = (_SMALL[name] for name in ("candidate", "plain", "between", "aside"))
_SCALED = {"dl": Fraction(100), "cl": Fraction(10)}
_GOING_ON = (
    BEFORE_UNIT
    | NUMBER_WORDS
    | frozenset("to or up no number the size bigness x by in inch inches cm i l o v y".split())
)
"""Words after a number with which the amount may go on: "1 large can", "2 to 3", "one and a half", "9 by 13"."""
_BARRING = frozenset("gas ark tep no. age p. ter eed vel at vol ol. $ £ € ¥ #".split())
"""Ends of what bars a number from being an amount: "step 3", "at 350", "$2"."""
_BLURRING = frozenset(word[-2:] for word in HEDGES)
"""The last two letters of the words that blur an amount."""
_LEADING = _BLURRING | {end[-2:] for end in _BARRING} | {"~", "."}
"""The last two letters, or the last mark, of all these."""
_Found: TypeAlias = "tuple[Amount | None, int, int]"
"""An amount or none, where to go on looking, and where to go on if the words before bar it."""


def _may_bar(before: str) -> bool:
    end = before.rstrip()[-3:].casefold()
    return end in _BARRING or end[-2:] in _BARRING or end[-1:] in _BARRING


def _barred(before: str) -> bool:
    """Whether the words before a number tell that it is no amount: "step 3"."""
    return _may_bar(before) and _BEFORE.search(before[-12:]) is not None


def _may_blur(before: str) -> bool:
    before = before.rstrip(" ")
    return before[-1:] == "~" or before.rstrip(".")[-2:].casefold() in _BLURRING


@lru_cache(maxsize=4096)
def _unled(ending: str) -> bool:
    """Whether the last three characters before a number show that no word there bars or blurs it."""
    letters = ending.rstrip()[-2:].casefold()[-2:]
    if len(letters) < 2:
        return not ending
    return letters not in _LEADING and letters[1] not in _LEADING


def _blurred(words: Sequence[str]) -> str:
    return next((word.strip(".") for word in words if word.strip(".") in APPROXIMATE), "")


def _hedge(before: str) -> str:
    """What blurs an amount right before it: "about 2 cups"."""
    if not _may_blur(before):
        return ""
    match = _HEDGED.search(before.rstrip(" "))
    return _blurred((match["word"] or "~").lower().split()) if match else ""


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
    if not quantity or (raw in ("C", "F") and quantity >= 30):
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
    if not found.mid:
        return Amount(start, end, text[start:end], quantity, top, unit)
    words = found.mid.lower().replace("-", " ").split()
    system = next((SYSTEM_OF[word] for word in words if word in SYSTEM_OF), "us")
    return Amount(start, end, text[start:end], quantity, top, unit, None, _blurred(words), system=system)


def _sized(match: re.Match[str]) -> Amount:
    count = {"two": 2, "three": 3}.get(match["n"].lower(), 1)
    what = re.sub(r"\s+", " ", match["what"].lower().replace("-", " "))
    what = what if what == "peas" else what.rstrip("s")
    factor = {"half": Fraction(1, 2), "twice": Fraction(2)}.get((match["half"] or "").lower(), Fraction(1))
    article = "an" if what[0] in "aeiou" else "a"
    return Amount(
        match.start(), match.end(), match[0], count * factor, unit=f"size of {article} {what}", approximate="about"
    )


def _single(text: str, low: str, start: int, stop: int, word: bool) -> tuple[Amount | None, int]:
    """The measure that starts here, if one does, and where to go on looking; ``word``: whether a word opens it."""
    before = text[start - 24 if start > 24 else 0 : start]
    last = before[-1:]
    if (last.isalnum() or last == ".") and _inside(before):
        return None, start + 1
    plain = _PLAIN.match(low, start, stop)
    if plain and plain[1] not in _GOING_ON:
        return _placed(before, start, _alone(text[start : plain.end()]))
    if word:
        sized = _SIZE.match(text, start, stop)
        if sized:
            return _sized(sized), sized.end()
        lone = _NUMBERLESS.match(text, start, stop)
        if lone:
            return _lone(lone), lone.end()
    else:
        dimension = _DIMENSION.match(text, start, stop)
        if dimension:
            return None, dimension.end()
    return _placed(before, 0, _numbered(text, start, stop))


def _inside(before: str) -> bool:
    """Whether a figure is the inner part of a word or of another figure."""
    last, second = before[-1:], before[-2:-1]
    if last.isalnum():
        return not (last in "xX×" and second.isdigit())  # "2x400g tins"
    return last == "." and second.isdigit()


def _lone(match: re.Match[str]) -> Amount:
    hedge, _, word = match[0].rpartition(" ")
    unit = canonical(word)
    quantity = None if unit in ("pinch", "dash", "splash", "handful", "knob", "drizzle") else Fraction(1)
    return Amount(match.start(), match.end(), match[0], quantity, unit=unit, approximate=hedge.strip().lower())


def _placed(before: str, shift: int, found: _Found) -> tuple[Amount | None, int]:
    """What was found, moved to its place in the text, as the words before it let it be."""
    amount, onwards, barred = found
    unled = _unled(before[-3:])
    if not unled and _barred(before):
        return None, shift + barred
    if amount is None:
        return None, shift + onwards
    hedge = "" if unled else _hedge(before)
    if not shift and not hedge:
        return amount, onwards
    placed = Amount(
        shift + amount.start,
        shift + amount.end,
        amount.text,
        amount.quantity,
        amount.quantity_max,
        amount.unit,
        None,
        hedge or amount.approximate,
        True,
        amount.system,
    )
    return placed, shift + onwards


@lru_cache(maxsize=8192)
def _alone(words: str) -> _Found:
    """What one number and one word tell by themselves."""
    return _numbered(words, 0, len(words))


def _numbered(text: str, start: int, stop: int) -> _Found:
    """The measure that a number (or "a", "an") opens here."""
    article = text[start] in "aA"
    match = _ARTICLE.match(text, start, stop) if article else None
    if match is None:
        match, article = _MEASURE.match(text, start, stop), False
    if not match:
        return None, start + 1, start + 1
    return *_read(text, match, start, stop, article), match.end()


def _read(text: str, match: re.Match[str], start: int, stop: int, article: bool) -> tuple[Amount | None, int]:
    """The measure of a match, if it is one, and where to go on looking."""
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


def _join_back(text: str, low: str, found: list[Amount], amount: Amount, stop: int) -> int:
    """Join the amount with one of the last three found, or append it; the end of what now stands last."""
    start, sign = amount.start, _BETWEEN
    for back, earlier in enumerate(reversed(found[-3:]), 1):
        if start - earlier.end > 60:
            break
        if sign.match(low, earlier.end, start) and (joined := pair(text, earlier, amount, stop)) is not None:
            found[-back:] = [joined]
            return joined.end
        sign = _ASIDE
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
    for candidate in _CANDIDATE.finditer("\n" + low, start, stop + 1):  # the line's end stands before a first word
        word = candidate.lastindex is not None
        begin = candidate.start() if word else candidate.start() - 1
        if begin < at:
            continue
        amount, onwards = _single(text, low, begin, stop, word)
        at = onwards if onwards > begin else begin + 1
        if amount is not None:
            joined = _join_back(text, low, found, amount, stop)
            at = joined if joined > at else at
    return found
