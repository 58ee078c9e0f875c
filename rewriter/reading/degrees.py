"""Numbers of degrees and gas marks: where they stand, before anything is known of what they heat.

>>> [(str(f.low), str(f.high), f.scale) for f in scan("Bake at 325-350F (gas 3).", "bake at 325-350f (gas 3).")]
[('325', '350', 'F'), ('325', 'None', 'gas')]
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from rewriter.pantry.oven import gas_mark, to_gas_mark
from rewriter.reading.clauses import windows

Degrees = int | Fraction
"""Degrees or a gas mark: an int where they are whole, because ints are quicker to compare."""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of heat: its span, its value (a range has ``high``) and how plainly it is marked.

    scale: F, C, gas or word (both with their value in degrees F), or "" where no letter tells.
    kind: "marked" (letter or degree sign), "weak" (what scanning makes of a degree sign), "bare", "gas" or "word".
    scanned: True where a digit was mended.
    """

    start: int
    end: int
    low: Degrees
    high: Degrees | None
    scale: str
    kind: str
    scanned: bool = False

    def text(self, text: str) -> str:
        """The words of the figure."""
        return text[self.start : self.end]


_SPACE = r"[ \t\u00a0\u202f]{0,2}"
_SIGN = (
    rf"{_SPACE}(?:[°º˚ᵒ∘⁰]{{1,2}}|&deg;|&#176;|-?degrees?(?=[fc](?![a-z])|(?![a-z]))|deg(?![a-z])\.?"
    r"|[-\s]degrees?(?![a-z]))"
)
_WEAK = rf"(?:['\"”“″’*`´^~]|(?:[o0q]| 0)(?={_SPACE}[fc](?![a-z])))"
_F = r"℉|f(?:ah?renheit|ahr(?:en(?:heit)?)?)?(?![a-z'’])"
_C = r"℃|c(?:el[sc]ius|elsuis|entigrade|ent)?(?![a-z'’])"


def _one(name: str) -> str:
    letter = rf"{_SPACE}(?:(?P<{name}f>{_F})|(?P<{name}c>{_C}))(?:{_SPACE}degrees?(?![a-z]))?"
    return rf"(?P<{name}>\d[\do]{{1,2}}(?:\.\d)?)(?:(?P<{name}s>{_SIGN})|(?P<{name}w>{_WEAK}))?(?:{letter})?"


_SINGLE = re.compile(_one("a"))
_SECOND = re.compile(rf"{_SPACE}(?P<join>-|–|—|‑|−|to\b|and\b|or\b|through\b)[\s\u00a0]{{0,2}}{_one('b')}")
_THOUSANDS = re.compile(r"[1-5]\d[05]0(?![\d,.:/]|[ ]?(?:g|ml|grams?|k?cal|feet|ft|m|mg|lbs?|watts?|w)\b)")
_UNIT = re.compile(
    rf"[\d\u2150-\u215e¼½¾⁄]|[.,:]\d|/\d(?!\d\d(?:\D|$))|{_SPACE}[-–—+]?{_SPACE}(?:%|g\b|gr\b|gm|gram|kg|ml|mil+ili|cl\b|dl\b|cc\b|l\b"
    r"|k?cals?\b|calorie|kj"
    r"|mg|mcg|µg|iu\b|oz|ounce|lb|pound|cups?\b|tb?sp|min|hour|hrs?\b|h\b|sec|day|year|people|person|serving|cookie|piece|inch|in\b\.?|cm|mm"
    r"|feet|ft\b|foot|m\b|vote|rating|review|comment|star|share|people|watt|w\b|psi|pt\b|quart|qt|½|¼|¾"
    r"|percent|x\b(?! \d{1,3} ?(?:min|h))|×|[$€£]|(?:large|medium|small)\b)"
)
_GAS = re.compile(
    r"(?:\bgas|\bregulo|(?<=[/(,;] )mark|(?<=[/(,;])mark)(?:[ \t]*(?:mark|no\.?|number|regulo))?[\s:.\-]{0,3}"
    r"(?P<a>10|[1-9](?!\d|/\d)|[¼½]|1/[24])(?![\d°º˚])(?:[ ]?(?:-|–|to|or)[ ]?(?P<b>10|[1-9]))?"
    r"(?![\d°º˚]|[ ]?(?:min|hour|hr|cm|inch|lb|kg))"
)
_QUARTERS = {"¼": "1/4", "½": "1/2", "¾": "3/4"}

_SPELLED = ("hundred", "fifty", "twenty-five", "seventy-five")
_TENS = {
    "twenty": 20,
    "thirty": 30,
    "forty": 40,
    "fifty": 50,
    "sixty": 60,
    "seventy": 70,
    "eighty": 80,
    "ninety": 90,
    "ten": 10,
    "fifteen": 15,
}
_ONES = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "a": 1}
_SMALL = rf"(?:{'|'.join(_TENS)})(?:[ -](?:{'|'.join(_ONES)})\b)?"
_HUNDRED = re.compile(
    rf"\b(?P<h>one|two|three|four|five|a)(?:[ -]hundred(?:(?:[ -]and)?[ -](?P<r>{_SMALL}))?"
    r"|[ -](?P<q>twenty[ -]five|fifty|seventy[ -]five))"
    rf"(?P<s>(?:{_SIGN}))?(?:{_SPACE}(?:(?P<f>{_F})|(?P<c>{_C})))?"
)


def _number(text: str) -> Degrees:
    digits = text.replace("o", "0")
    return Fraction(digits) if "." in digits else int(digits)


@lru_cache(maxsize=1024)
def fahrenheit(celsius: Degrees) -> Degrees:
    """Degrees F, exact.

    >>> fahrenheit(180), fahrenheit(177)
    (356, Fraction(1753, 5))
    """
    degrees = celsius * Fraction(9, 5) + 32
    return degrees.numerator if degrees.denominator == 1 else degrees


@lru_cache(maxsize=64)
def gas(mark: str) -> Fraction:
    """Degrees F of a gas mark as written, by the pantry's table.

    >>> gas("4"), gas("½")
    (Fraction(350, 1), Fraction(250, 1))
    """
    found = gas_mark(Fraction(_QUARTERS.get(mark, mark)))
    return Fraction(250) if found is None else found


@lru_cache(maxsize=64)
def mark(fahrenheit: Degrees) -> Fraction:
    """The gas mark of these degrees F."""
    return to_gas_mark(Fraction(fahrenheit))


def _letter(match: re.Match[str], name: str) -> str:
    return "F" if match[name + "f"] else "C" if match[name + "c"] else ""


def _kind(text: str, match: re.Match[str], name: str) -> str:
    """How plainly the figure is marked; "" where its letter is only a unit of another kind ("12 c. flour")."""
    letter = match[name + "f"] or match[name + "c"]
    if match[name + "s"]:
        return "marked"
    value = _number(match[name])
    if letter:
        at = match.start(name + "f") if match[name + "f"] else match.start(name + "c")
        if len(letter) > 1 or match[name + "f"]:
            return "marked" if value >= 60 or len(letter) > 1 else ""
        if text[at] == "C" and value >= 100:
            return "marked"
        return "weak" if value >= 25 and (text[at] == "C" or value >= 100) else ""
    if match[name + "w"]:
        return "weak" if value >= 100 else ""
    return "bare" if value >= 100 else ""


def _figure(match: re.Match[str], name: str, kind: str) -> Figure:
    end = match.end()
    if kind == "weak" and not (match[name + "f"] or match[name + "c"]):
        end = match.end(name)
    return Figure(match.start(name), end, _number(match[name]), None, _letter(match, name), kind, "o" in match[name])


def _left_open(low: str, start: int) -> bool:
    """Whether a number may start here: no digit, letter, decimal point, slash of a fraction or money sign before it."""
    before = low[start - 1 : start]
    if not before or before in " \t\n(":
        return True
    if before.isalnum() or before in "$£€#¼½¾_":
        return False
    return not (before in ".,/⁄:" and low[start - 2 : start - 1].isdigit() and start - 2 >= 0) or before == "/"


def _ranged(first: Figure, second: Figure, joiner: str, low: str) -> Figure | None:
    """One figure of two joined ("325-350F"), or None where the second stands for itself."""
    if joiner == "and" and "between" not in low[max(0, first.start - 30) : first.start]:
        return None
    if first.scale and second.scale and first.scale != second.scale:
        return None
    if second.low <= first.low or second.low > 2 * first.low:
        return None
    if "marked" not in (first.kind, second.kind) and "bare" not in (first.kind, second.kind):
        return None
    kind = "marked" if "marked" in (first.kind, second.kind) else first.kind
    scale = first.scale or second.scale
    return Figure(first.start, second.end, first.low, second.low, scale, kind, first.scanned or second.scanned)


def _numbers(text: str, low: str) -> list[Figure]:
    found: list[Figure] = []
    at = 0
    while match := _SINGLE.search(low, at):
        at = match.end()
        start = match.start()
        if not _left_open(low, start):
            at = match.end("a")
            continue
        kind = _kind(text, match, "a")
        unmarked = kind in ("bare", "weak") and not _letter(match, "a")
        if kind == "bare" and (thousands := _THOUSANDS.match(low, start)):
            found.append(Figure(start, thousands.end(), int(thousands[0]) // 10, None, "", "weak", True))
            at = thousands.end()
            continue
        if unmarked and _UNIT.match(low, match.end("a")):
            at = match.end("a")
            while at < len(low) and low[at].isdigit():
                at += 1
            continue
        following = _SECOND.match(low, match.end("a") if not kind else match.end())
        if following:
            other = _kind(text, following, "b")
            lone = other in ("bare", "weak") and not _letter(following, "b") and _UNIT.match(low, following.end("b"))
            if other and not lone:
                first = _figure(match, "a", kind or "bare")
                joined = _ranged(first, _figure(following, "b", other), following["join"], low)
                if joined:
                    found.append(joined)
                    at = following.end()
                    continue
        if kind:
            found.append(_figure(match, "a", kind))
            at = found[-1].end
        else:
            at = match.end("a")
    return found


def _gas_marks(low: str) -> list[Figure]:
    found = []
    near = windows(low, ("gas", "regulo", "mark"), 2, 30)
    for match in (m for start, end in near for m in _GAS.finditer(low, start, end)):
        high = gas(match["b"]) if match["b"] else None
        found.append(Figure(match.start(), match.end(), gas(match["a"]), high, "gas", "gas"))
    return found


def _spelled(low: str) -> list[Figure]:
    """Degrees in words: "three hundred and fifty degrees", "four twenty-five"."""
    found = []
    near = windows(low, _SPELLED, 24, 60)
    for match in (m for start, end in near for m in _HUNDRED.finditer(low, start, end)):
        rest = re.split(r"[ -]", match["r"] or match["q"] or "")
        value = 100 * _ONES[match["h"]] + sum(_TENS.get(w, 0) or _ONES.get(w, 0) for w in rest)
        scale = "F" if match["f"] else "C" if match["c"] else ""
        kind = "marked" if match["s"] or (match["f"] or match["c"] or "")[1:] else "bare"
        found.append(Figure(match.start(), match.end(), value, None, scale if kind == "marked" else "", kind))
    return found


def scan(text: str, low: str) -> list[Figure]:
    """Every figure that may be a heat, in reading order. low: the text in small letters, character for character."""
    found = _numbers(text, low)
    if "gas" in low or "regulo" in low or "mark" in low:
        found += _gas_marks(low)
    if any(word in low for word in _SPELLED):
        found += _spelled(low)
    return sorted(found, key=lambda figure: figure.start)
