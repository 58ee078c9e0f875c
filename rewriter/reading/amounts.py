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
from rewriter.reading.numerals import NUMBER, value
from rewriter.reading.units import APPROXIMATE, CONTAINER, CONTAINERS, HEDGE, MASS, NEVER, UNIT, VOLUME, canonical

_RANGE = r"(?:\s?[-–—−‑~]\s?|\s+(?:to|or|up\s+to|and\s+up\s+to)\s+)"
_MID = rf"(?:(?:[\s-]+|(?<=\d)(?=[a-z]))(?:{HEDGE})\b\.?,?){{0,3}}"
_CAN_SIZE = r"(?:\s+(?:no\.?|number|#)\s?\d{1,3}(?:\s?½|[\s-]1/2)?(?=[\s-](?:cans?|tins?)\b))?"
"""Cans by their trade number: "1 No. 2 can", "2 #303 cans"."""
_STOP = rf"\s*-?\s*(?:(?:{NEVER})\b|[°º˚%\"”″′]|''|degrees?)"
_DEMAND = r"(?:\s+(?:and|&)\s+(?:an?|one|three)[\s-](?:half|halves|quarters?|thirds?|fourths?)(?!\s*-?\s*(?:of\s+an?\s+)?(?:{unit})))?".replace(
    "{unit}", UNIT
)
_MEASURE = re.compile(
    rf"(?P<num>{NUMBER})(?:(?P<sep>{_RANGE})(?P<num2>{NUMBER}))?(?P<mid>{_MID}){_CAN_SIZE}(?:,(?=\s(?:cups?|tbsp|tsp|tea|table)))?[\s-]*(?P<unit>{UNIT}\.?)?(?P<post>{_DEMAND})",
    re.IGNORECASE,
)
_ARTICLE = re.compile(
    rf"(?:an?|another)(?P<mid>(?:\s+(?:{HEDGE})\b)*)\s+(?:(?P<num>{NUMBER})\s+(?:an?\s+)?)?(?P<unit>{UNIT}\.?)(?P<post>{_DEMAND})",
    re.IGNORECASE,
)
_SIZE = re.compile(
    r"(?:(?P<half>half|twice)\s+)?(?:the\s+)?(?:(?:size|bigness)\s+of|as\s+(?:large|big)\s+as)\s+(?P<n>an?|one|two|three)\s+(?:(?:large|small|good-sized|big|hen's|english)\s+)?"
    r"(?P<what>eggs?|walnuts?|nutmegs?|hickory[\s-]nuts?|butternuts?|hazel[\s-]?nuts?|almonds?|peas?|lemons?|oranges?|apples?)\b",
    re.IGNORECASE,
)
_NUMBERLESS = re.compile(
    r"(?:tablespoonful|teaspoonful|cupful|teacupful|saltspoonful|dessertspoonful|wineglassful|handful|pinch(?:es)?|dash(?:es)?|splash|knob|drizzle)\b"
    r"|(?:(?:scant|heap(?:ing|ed)|rounded|generous)\s+)(?:cup|tablespoon|teaspoon|tbsp|tsp)(?:ful)?\b",
    re.IGNORECASE,
)
_CANDIDATE = re.compile(
    r"[\d½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒⁰¹²³]|&(?:frac|#)|\.(?=\d)"
    r"|\b(?:an?|another|half|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|"
    r"eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|third|quarter|dozen|[yv][234]|[li](?=/\d|\s[li]/\d|\s[yv][234]|\s\d/\d|\s[½⅓⅔¼¾]|\s(?:c|t|lb|oz|pt|qt|cup|tsp|tbsp|tea|table|pound|pint|quart|large|egg|stick|pkg|pk|env|clove|doz|onion|medium|small|package|can)))\b"
    r"|\b(?:size|bigness)\s+of\b|\bas\s+(?:large|big)\s+as\b"
    r"|\b(?:tablespoonful|teaspoonful|cupful|teacupful|saltspoonful|dessertspoonful|wineglassful|handful|pinch(?:es)?|dash(?:es)?|splash|knob|drizzle)\b"
    r"|(?:^|(?<=\n)|(?<=[•▢☐*-]\s))(?:scant|heap(?:ing|ed)|rounded|generous)\s",
)
_DIMENSION = re.compile(
    r"\d+(?:\.\d+|\s?[½¼¾]|[\s-]\d/\d)?\s?(?:[\"”″]|-?\s?(?:inch(?:es)?|in\.?|cm))?\s*(?:[x×]|-?by-?)\s*\d+(?:\.\d+|\s?[½¼¾]|[\s-]\d/\d)?(?:\s*[x×]\s*\d+)?"
    r"(?!\s*(?:g|kg|oz|ml|lb|ounce|gram)s?\b)(?![\d.]*\s*(?:g|kg|oz|ml|lb|ounce|gram)s?\b)(?!\d)",
    re.IGNORECASE,
)
_BEFORE = re.compile(
    r"(?:[$£€¥#]|\b(?:gas|gas\s+mark|mark|step|no\.|page|p\.|chapter|speed|level|at|vol\.?)\s?)$", re.IGNORECASE
)
_STOP_AFTER = re.compile(_STOP, re.IGNORECASE)
_HEDGED = re.compile(rf"(?:\b(?P<word>{HEDGE})\b\.?\s*|(?P<tilde>~)\s*)+$", re.IGNORECASE)
_TIMES = re.compile(r"\s?[x×]\s?", re.IGNORECASE)
_OPEN = re.compile(r"[\s-]*[(\[]?\s*(?:about|approx(?:imately|\.)?|~|each|around|of\s+an?)?\s*$", re.IGNORECASE)
_CLOSE = re.compile(
    rf"(?:\s?/\s?[\d½¼¾⅓⅔.]+\s?-?[a-z]+\.?)?\s*[)\]]?[\s,-]*(?:(?:each|or|size[d]?|large|small|medium|standard|regular|jumbo|frozen|refrigerated)\s+)*(?P<box>{CONTAINER})\b",
    re.IGNORECASE,
)
_PLUS = re.compile(
    r"\.?\s*(?:\([^()]{0,40}\)|/\s?[\d.½¼¾]+\s?(?:g|ml|oz))?\s*,?\s*(?:plus|\+|and|&|with)(?:\s+an?(?:other|\s+additional|\s+extra)?)?\s+$|\s*\+\s*$",
    re.IGNORECASE,
)
_LESS = re.compile(r"\.?\s*,?\s*[(]?(?:less|minus|–|−)\s+$", re.IGNORECASE)
_TO = re.compile(r"\.?\s*(?:[-–—]|\bto\b|\bor\b|\bup to\b)\s*$", re.IGNORECASE)
_CASCADE = {
    ("lb", "oz"),
    ("kg", "g"),
    ("cup", "tbsp"),
    ("tbsp", "tsp"),
    ("quart", "cup"),
    ("pint", "floz"),
    ("l", "ml"),
    ("quart", "pint"),
    ("gal", "quart"),
}
_UNIT_AFTER = re.compile(rf"\)\s*(?P<unit>{UNIT})\.?", re.IGNORECASE)
_SPOONS = VOLUME | {"stick": VOLUME["cup"] / 2}
"""Volumes that may be added up; a stick of butter is half a cup."""
_SCALED = {"dl": Fraction(100), "cl": Fraction(10)}


def _hedge(before: str, mid: str) -> str:
    words = mid.lower().replace("-", " ").split()
    match = _HEDGED.search(before[-24:])
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
        stopped = _STOP_AFTER.match(text, amount.end if not amount.unit else match.end("num"), stop)
        if stopped:
            return None, stopped.end()
    elif amount.unit == "can" and text[amount.end : amount.end + 1] == "'":
        return None, amount.end
    return amount, max(amount.end, start + 1)


def _joined(text: str, first: Amount, second: Amount, sign: int) -> Amount:
    table = MASS if first.unit in MASS else _SPOONS
    scale = table[second.unit] / table[first.unit] if first.unit != second.unit else Fraction(1)
    quantity = (first.quantity or 0) + sign * (second.quantity or 0) * scale
    top = None if first.quantity_max is None else first.quantity_max + sign * (second.quantity or 0) * scale
    return replace(first, end=second.end, text=text[first.start : second.end], quantity=quantity, quantity_max=top)


def _same_dimension(first: Amount, second: Amount) -> bool:
    return (first.unit in MASS and second.unit in MASS) or (first.unit in _SPOONS and second.unit in _SPOONS)


def _pair(text: str, first: Amount, second: Amount, stop: int) -> Amount | None:
    """The two as one amount, where the words between them make them one."""
    gap = text[first.end : second.start]
    if "   " in gap or "\t" in gap or "|" in gap:  # two columns of a table
        return None
    if (
        first.unit
        and second.unit
        and first.quantity is not None
        and second.quantity is not None
        and _same_dimension(first, second)
    ):
        smaller = (MASS.get(second.unit) or _SPOONS[second.unit]) <= (MASS.get(first.unit) or _SPOONS[first.unit])
        if smaller and _PLUS.fullmatch(gap):
            return _joined(text, first, second, 1)
        if smaller and _LESS.fullmatch(gap) and (second.quantity < first.quantity or first.unit != second.unit):
            closed = second.end + (text[second.end : second.end + 1] == ")" and "(" in gap)
            both = _joined(text, first, second, -1)
            return replace(both, end=closed, text=text[first.start : closed])
        if (first.unit, second.unit) in _CASCADE and gap.strip(" .,") in ("", "and", "&"):
            return _joined(text, first, second, 1)
        if (
            first.unit == second.unit
            and _TO.fullmatch(gap)
            and first.quantity_max is None
            and second.quantity > first.quantity
        ):
            top = second.quantity_max or second.quantity
            return replace(first, end=second.end, text=text[first.start : second.end], quantity_max=top)
    if (
        not first.unit
        and gap.strip() in ("+", "plus")
        and second.unit
        and second.quantity is not None
        and first.quantity
    ):
        return replace(
            second, start=first.start, text=text[first.start : second.end], quantity=first.quantity + second.quantity
        )
    if not first.unit and second.unit and first.quantity_max is None and second.unit != "each":
        return _counted(text, first, second, gap, stop)
    return None


def _counted(text: str, first: Amount, second: Amount, gap: str, stop: int) -> Amount | None:
    """Read "2 x 400g tins", "1 (14-oz) can", "two 400g tins": a count of things of one size."""
    if second.unit in CONTAINERS or not (second.unit in MASS or second.unit in VOLUME):
        return None
    after = _UNIT_AFTER.match(text, second.end, stop)
    if after and gap.strip() == "(" and canonical(after["unit"]) in VOLUME:  # "12 (3 l) cups"
        return replace(first, end=after.end(), text=text[first.start : after.end()], unit=canonical(after["unit"]))
    times = _TIMES.fullmatch(gap)
    box = _CLOSE.match(text, second.end, stop)
    opened = "(" in gap or "[" in gap
    if times or (box and _OPEN.fullmatch(gap)):
        end = box.end() if box else second.end
        return replace(second, start=first.start, end=end, text=text[first.start : end], count=first.quantity)
    if opened and _OPEN.fullmatch(gap) and second.unit in ("g", "oz", "kg", "lb") and "about" not in gap:
        end = second.end + 1 if text[second.end : second.end + 1] in ")]" else second.end
        return replace(second, start=first.start, end=end, text=text[first.start : end], count=first.quantity)
    return None


def _join_back(text: str, found: list[Amount], amount: Amount, stop: int) -> int:
    """Join the amount with one of the last three found, or append it; the end of what now stands last."""
    for back in range(1, min(4, len(found) + 1)):
        if amount.start - found[-back].end > 60:
            break
        joined = _pair(text, found[-back], amount, stop)
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
        amount, at = _single(text, candidate.start(), stop)
        if amount is None:
            continue
        joined_at = _join_back(text, found, amount, stop)
        at = max(at, joined_at)
