"""Lengths of time and what they time.

>>> [(t.text, str(t.minutes), t.of) for t in find_times("Bake 1 hr 15 min, then cool half an hour.")]
[('1 hr 15 min', '75', 'bake'), ('half an hour', '30', 'cool')]
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from rewriter.model import Time
from rewriter.reading.clauses import clause, cues, patterns, plain, word_table, words
from rewriter.reading.numerals import value

_UNITS: dict[str, int | Fraction] = {
    "minute": 1, "minutes": 1, "min": 1, "mins": 1, "minuets": 1, "m": 1,
    "hour": 60, "hours": 60, "hr": 60, "hrs": 60, "h": 60,
    "second": Fraction(1, 60), "seconds": Fraction(1, 60), "sec": Fraction(1, 60), "secs": Fraction(1, 60),
    "day": 1440, "days": 1440, "week": 10080, "weeks": 10080, "month": 43200, "months": 43200,
}  # fmt: skip
_STEMS = ("min", "hour", "hr", "sec", "day", "week", "month")
_UNIT = re.compile(r"(?:minutes?|mins?|minuets|hours?|hrs?|seconds?|secs?|days?|weeks?|months?)(?![a-z])")
_SHORT = re.compile(r"h(?:(?<=\dh)|(?<=\d h))(?:rs?)? ?(?:\d{1,2} ?(m))?(?![a-z])")
_FRACTION = r"(?:[½⅓⅔¼¾]|\d/\d)"
_DIGIT = rf"(?:\d+(?:\.\d+)?(?:[ ]?[-&]?[ ]?(?:and )?{_FRACTION})?|{_FRACTION})"
_LAP = r"(?:\s?(?:-|–|—|‑|−)\s?|\s?(?:to|or)\s?|\sand\s)"
_DIGITS = re.compile(rf"(?<![\d.,/½¼¾⅓⅔$])(?P<a>{_DIGIT})(?:{_LAP}(?P<b>{_DIGIT}))?[\s\u00a0]{{0,2}}[-–+]?[\s\u00a0]?$")
_MIXED = re.compile(rf"(\d+(?:\.\d+)?)[ ]?[-&]?[ ]?(?:and )?({_FRACTION})$")

_ONES = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
    " eighteen nineteen"
)
_NUMBERS = {word: i for i, word in enumerate(_ONES.split(), 1)} | {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
    "couple": 2,
}  # fmt: skip
_LONGEST_FIRST = "|".join(sorted(_NUMBERS, key=len, reverse=True))
_SMALL = rf"(?:(?:twenty|thirty|forty|fifty)[- ](?:one|two|three|four|five|six|seven|eight|nine)|{_LONGEST_FIRST})"
_HALF = r"(?:three[- ](?:quarters|fourths)|half|(?:an? |one[- ])?quarter)"
_WORDED = (
    rf"(?:(?:{_SMALL}|an?)\s+and\s+(?:an?\s+|one[- ])?{_HALF}|(?:an?\s+|one[- ])?{_HALF}(?:\s+of)?(?:\s+an?)?"
    rf"|(?:an?\s+)?couple(?:\s+of)?|{_SMALL}|an?)"
)
_SPELLED = re.compile(rf"(?<![a-z-])(?P<a>{_WORDED})(?:(?:\s+(?:to|or)\s+|\s?[-–—]\s?)(?P<b>{_WORDED}))?[\s-]+$")
_LAST = frozenset([*_NUMBERS, "a", "an", "half", "quarter", "quarters", "fourths", "of"])
_FILLERS = frozenset({"more", "additional", "full", "extra", "further", "long", "whole", "good"})
_OR_MORE = re.compile(r"\s+or\s+(two|three|four)\b")
_SCANS = ("o min", "l hour", "l min", "o to", "o-", "o hour", "l5 ", "l0 ", "lo ", "l to")
_LEADS_ON = r"(?=\s?(?:-|–|to\b|min|hour|hr))"
_AN_L, _AN_O = re.compile(rf"l(?:(?<=\d.)|(?<![a-z\d].)[\dlo]?){_LEADS_ON}"), re.compile(rf"o(?<=\d.){_LEADS_ON}")
_SCANNED = re.compile(rf"(?<![a-z\d])(?:l|[\dl][\dlo]){_LEADS_ON}")
_LETTERS = str.maketrans("lo", "10")
_ENDING = re.compile(r"\s+and\s+(?:an?\s+|one[- ])?(half|quarter|three[- ]quarters)\b")
_ENDED = {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}
_SUM = re.compile(r"\.?[\s,]*(?:and|&|\+|plus)?\s*")
_RANGE = re.compile(r"\.?\s*(?:to|-|–|—|or|up to)\s*")
_BEFORE = word_table(patterns("times")["before"])
_AFTER = word_table(patterns("times")["after"])
_AROUND = word_table(patterns("times")["around"])
_SET = re.compile(r"\d ?(?:[°º˚]|degrees|f\b|c\b)|\b[2-5]\d[05],? (?:for )?$")
_WEAK = frozenset(patterns("times")["weak"]["of"])


def _mended(low: str) -> str:
    """Scanned figures set right, character for character ("l hour", "4O to 45 min", "lO min")."""
    if (_AN_L.search(low) or _AN_O.search(low)) and any(sign in low for sign in _SCANS):
        return _SCANNED.sub(lambda match: match[0].translate(_LETTERS), low)
    return low


def _whole(number: Fraction) -> int | Fraction:
    """The number as an int where it is one: ints are quicker to reckon with."""
    return number.numerator if number.denominator == 1 else number


@lru_cache(maxsize=2048)
def _digits(text: str) -> int | Fraction:
    mixed = _MIXED.match(text)
    return _whole(value(mixed[1]) + value(mixed[2]) if mixed else value(text))


@lru_cache(maxsize=2048)
def _spelled(text: str) -> int | Fraction:
    total, tokens = Fraction(0), re.findall(r"[a-z]+", text)
    for i, token in enumerate(tokens):
        if token in ("quarters", "fourths"):
            total = total - 3 + Fraction(3, 4)
        elif token in ("half", "quarter"):
            total += Fraction(1, 2 if token == "half" else 4) - (1 if i and tokens[i - 1] == "one" else 0)
        elif token in ("a", "an"):
            total += 1 if tokens[i + 1 : i + 2] == ["and"] or len(tokens) == 1 else 0
        else:
            total += _NUMBERS.get(token, 0)
    return _whole(total)


_minutes = lru_cache(maxsize=2048)(Fraction)
"""The exact minutes of a whole number or a fraction."""


@dataclass(slots=True)
class _Length:
    """A length of time in the making, in minutes."""

    start: int
    end: int
    least: int | Fraction
    most: int | Fraction | None = None
    sure: bool = True


def _amount(low: str, at: int) -> tuple[int, int | Fraction, int | Fraction | None] | None:
    """The number (or range) that ends at ``at``: where it starts, its value and its upper end."""
    edge = at
    while edge > 0 and low[edge - 1] in " \t\n\u00a0-–+":
        edge -= 1
    if edge == 0 or at - edge > 4:
        return None
    if low[edge - 1].isdigit() or low[edge - 1] in "½¼¾⅓⅔":
        match, read = _DIGITS.search(low, max(0, at - 26), at), _digits
    else:
        word = edge
        while word > 0 and low[word - 1].isalpha():
            word -= 1
        if low[word:edge] in _FILLERS:
            return _amount(low, word)
        if low[word:edge] not in _LAST:
            return None
        match, read = _SPELLED.search(low, max(0, at - 52), at), _spelled
    if not match:
        return None
    try:
        first, second = read(match["a"]), read(match["b"]) if match["b"] else None
    except (ValueError, ZeroDivisionError):
        return None
    if second is not None and second <= first:
        return match.start("b"), second, None
    return match.start("a"), first, second


def _one(low: str, at: int, word: str) -> _Length | None:
    found = _amount(low, at)
    if not found:
        return None
    start, first, second = found
    if (
        first == 0
        or (word == "day" and low[start:at].strip() in ("a", "an", "one"))
        or (word == "second" and not low[start].isdigit())
    ):
        return None
    unit, end = _UNITS[word], at + len(word)
    if low[end : end + 5].lstrip(" -").startswith("old"):
        return None
    if unit == 60 and second is None and (more := _ENDING.match(low, end)):
        first, end = first + _ENDED.get(more[1], Fraction(3, 4)), more.end()
    if first == 1 and second is None and (more := _OR_MORE.match(low, end)):
        second, end = _NUMBERS[more[1]], more.end()
    return _Length(start, end, first * unit, None if second is None else second * unit)


def _units(low: str) -> list[tuple[int, str]]:
    """Where each unit word stands."""
    found = []
    for stem in _STEMS:
        at = low.find(stem)
        while at >= 0:
            if at and not low[at - 1].isalpha() and (match := _UNIT.match(low, at)):
                found.append((at, match[0]))
            at = low.find(stem, at + len(stem))
    for match in _SHORT.finditer(low):
        if not match[0].startswith("hr"):
            found.append((match.start(), "h"))
            found += [(match.start(1), "m")] if match[1] else []
    return sorted(set(found))


def _joined(low: str, times: list[_Length]) -> list[_Length]:
    """'1 hr 15 min' is one time; '30 minutes to 1 hour' is one range."""
    joined: list[_Length] = []
    for time in times:
        last = joined[-1] if joined else None
        if last and time.start < last.end:
            continue
        gap = low[last.end : time.start] if last else ""
        if last and len(gap) < 10:
            written = low[last.start : last.end]
            longer = written.rstrip().endswith(("r", "rs", "h")) or "hour" in written
            if longer and last.most is None and time.least < 60 and _SUM.fullmatch(gap):
                last.most = None if time.most is None else last.least + time.most
                last.end, last.least = time.end, last.least + time.least
                continue
            if _RANGE.fullmatch(gap) and last.most is None and time.least > last.least:
                last.end, last.most = time.end, time.most or time.least
                continue
        joined.append(time)
    return joined


_NOT_TIMED = re.compile(
    r"\b(?:do not|don't|don’t|never)\b[^.]{0,40}\b(?:open|peek|look|touch|lift)|\bfoil\b[^.]{0,40}\bafter\b"
    r"|\btalk(?:ed|ing)?\b"
)
"""What a time forbids or tells, rather than times."""


_FORBIDDEN = frozenset({"don", "not", "never", "foil", "talk", "talked", "talking"})
_AT_A_HEAT = re.compile(r"[\s,.]*(?:at|@) ?\d{3}")
_DOUGH = frozenset({"doubled", "double", "dough", "loaf", "loaves", "puffy"})
_CANNED = frozenset({"canner", "pints", "quarts", "jars"})


def _of(text: str, low: str, time: _Length) -> str:
    left, right = clause(text, time.start, time.end, ahead=70)
    leading, following = words(low, left, time.start), words(low, time.end, right)
    if not (_FORBIDDEN.isdisjoint(leading) and _FORBIDDEN.isdisjoint(following)) and _NOT_TIMED.search(
        low, left, right
    ):
        return "wait"
    before = next((of for of in cues(leading, _BEFORE, backwards=True) if of != "pass"), "other")
    if before in _WEAK:
        after = next(cues(following[:10], _AFTER), "")
        if after in ("rise", "proof") or (before == "other" and after):
            return after
    if before == "proof" and not _DOUGH.isdisjoint(words(low, left, right)):
        return "rise"
    if before == "mix" and not _CANNED.isdisjoint(words(low, left, right)):
        return "process"
    return _unled(low, time, left, right, following) if before == "other" else before


def _unled(low: str, time: _Length, left: int, right: int, following: list[str]) -> str:
    """What a time is for where no verb stands before it: by the words after it and around it, and a heat beside it."""
    noun = next(cues(following[:2], _BEFORE), "other")
    if noun not in ("other", "pass"):
        return noun
    if _AT_A_HEAT.match(low, time.end, time.end + 12) or _SET.search(low, left, time.start):
        return "bake"
    return next(cues(words(low, left, right), _AROUND), "other")


def find_times(text: str, start: int = 0, end: int | None = None) -> list[Time]:
    """Every length of time in ``text[start:end]``, in reading order, in exact minutes, with offsets into ``text``.

    "overnight" counts as 8 to 12 hours and is never sure. of: the verb nearest it (bake, rise, chill, cool, mix ...).
    Never raises.
    """
    piece = text[start:end]
    low = _mended(plain(piece))
    found = [length for at, word in _units(low) if (length := _one(low, at, word))]
    at = low.find("overnight")
    while at >= 0:
        if low[at + 9 : at + 15].lstrip()[:4] != "oats":
            found.append(_Length(at, at + 9, 480, 720, sure=False))
        at = low.find("overnight", at + 9)
    found.sort(key=lambda length: length.start)
    return [
        Time(
            one.start + start, one.end + start, piece[one.start : one.end], _minutes(one.least),
            None if one.most is None else _minutes(one.most), _of(piece, low, one), one.sure,
        )
        for one in _joined(low, found)
    ]  # fmt: skip
