"""Lengths of time and what they time.

>>> [(t.text, str(t.minutes), t.of) for t in find_times("Bake 1 hr 15 min, then cool half an hour.")]
[('1 hr 15 min', '75', 'bake'), ('half an hour', '30', 'cool')]
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from rewriter.model import Time
from rewriter.reading.clauses import clause, cues, patterns, plain, word_table, words
from rewriter.reading.numerals import value

_UNITS = {
    "minute": Fraction(1), "minutes": Fraction(1), "min": Fraction(1), "mins": Fraction(1), "minuets": Fraction(1),
    "hour": Fraction(60), "hours": Fraction(60), "hr": Fraction(60), "hrs": Fraction(60),
    "h": Fraction(60), "m": Fraction(1),
    "second": Fraction(1, 60), "seconds": Fraction(1, 60), "sec": Fraction(1, 60), "secs": Fraction(1, 60),
    "day": Fraction(1440), "days": Fraction(1440), "week": Fraction(10080), "weeks": Fraction(10080),
    "month": Fraction(43200), "months": Fraction(43200),
}  # fmt: skip
_STEMS = ("min", "hour", "hr", "second", "sec", "day", "week", "month")
_UNIT = re.compile(r"(?:minutes?|mins?|minuets|hours?|hrs?|seconds?|secs?|days?|weeks?|months?)(?![a-z])")
_SHORT = re.compile(r"(\d) ?(h)(?:rs?)? ?(?:\d{1,2} ?(m))?(?![a-z])")
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
_SCANNED = re.compile(r"(?<![a-z\d])(?:l|[\dl][\dlo])(?=\s?(?:-|–|to\b|min|hour|hr))")
_LETTERS = str.maketrans("lo", "10")
_ENDING = re.compile(r"\s+and\s+(?:an?\s+|one[- ])?(half|quarter|three[- ]quarters)\b")
_SUM = re.compile(r"\.?[\s,]*(?:and|&|\+|plus)?\s*")
_RANGE = re.compile(r"\.?\s*(?:to|-|–|—|or|up to)\s*")
_BEFORE = word_table(patterns("times")["before"])
_AFTER = word_table(patterns("times")["after"])
_AROUND = word_table(patterns("times")["around"])
_SET = re.compile(r"\d ?(?:[°º˚]|degrees|f\b|c\b)|\b[2-5]\d[05],? (?:for )?$")
_WEAK = frozenset(patterns("times")["weak"]["of"])


def _mended(low: str) -> str:
    """Scanned figures set right, character for character ("l hour", "4O to 45 min", "lO min")."""
    if not any(sign in low for sign in _SCANS):
        return low
    return _SCANNED.sub(lambda match: match[0].translate(_LETTERS), low)


def _digits(text: str) -> Fraction:
    mixed = _MIXED.match(text)
    return value(mixed[1]) + value(mixed[2]) if mixed else value(text)


def _spelled(text: str) -> Fraction:
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
    return total


def _amount(low: str, at: int) -> tuple[int, Fraction, Fraction | None] | None:
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


def _one(low: str, at: int, word: str) -> Time | None:
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
        first, end = (
            first + {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}.get(more[1], Fraction(3, 4)),
            more.end(),
        )
    if first == 1 and second is None and (more := _OR_MORE.match(low, end)):
        second, end = Fraction(_NUMBERS[more[1]]), more.end()
    return Time(start, end, low[start:end], first * unit, None if second is None else second * unit)


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
        found += [
            (match.start(group), match[group])
            for group in (2, 3)
            if match[group] and not low.startswith("hr", match.start(2))
        ]
    return sorted(set(found))


def _joined(low: str, times: list[Time]) -> list[Time]:
    """'1 hr 15 min' is one time; '30 minutes to 1 hour' is one range."""
    joined: list[Time] = []
    for time in times:
        last = joined[-1] if joined else None
        if last and time.start < last.end:
            continue
        gap = low[last.end : time.start] if last else "x"
        if last and len(gap) < 10:
            longer = (
                low[last.start : last.end].rstrip().endswith(("r", "rs", "h")) or "hour" in low[last.start : last.end]
            )
            if longer and last.minutes_max is None and time.minutes < 60 and _SUM.fullmatch(gap):
                top = None if time.minutes_max is None else last.minutes + time.minutes_max
                joined[-1] = replace(last, end=time.end, minutes=last.minutes + time.minutes, minutes_max=top)
                continue
            if _RANGE.fullmatch(gap) and last.minutes_max is None and time.minutes > last.minutes:
                joined[-1] = replace(last, end=time.end, minutes_max=time.minutes_max or time.minutes)
                continue
        joined.append(time)
    return joined


_NOT_TIMED = re.compile(
    r"\b(?:do not|don't|don’t|never)\b[^.]{0,40}\b(?:open|peek|look|touch|lift)|\bfoil\b[^.]{0,40}\bafter\b"
    r"|\btalk(?:ed|ing)?\b"
)
"""What a time forbids or tells, rather than times."""


def _of(text: str, low: str, time: Time) -> str:
    left, right = clause(text, time.start, time.end, ahead=70)
    if _NOT_TIMED.search(low, left, right):
        return "wait"
    before = next((of for of in cues(words(low, left, time.start), _BEFORE, backwards=True) if of != "pass"), "other")
    if before in _WEAK:
        after = next(cues(words(low, time.end, right)[:10], _AFTER), "")
        if after in ("rise", "proof") or (before == "other" and after):
            return after
    if before == "proof" and any(
        w in ("doubled", "double", "dough", "loaf", "loaves", "puffy") for w in words(low, left, right)
    ):
        return "rise"
    if before == "mix" and {"canner", "pints", "quarts", "jars"}.intersection(words(low, left, right)):
        return "process"
    return _unled(low, time, left, right) if before == "other" else before


def _unled(low: str, time: Time, left: int, right: int) -> str:
    """What a time is for where no verb stands before it: by the words after it and around it, and a heat beside it."""
    noun = next(cues(words(low, time.end, right)[:2], _BEFORE), "other")
    if noun not in ("other", "pass"):
        return noun
    if re.match(r"[\s,.]*(?:at|@) ?\d{3}", low[time.end : time.end + 12]) or _SET.search(low, left, time.start):
        return "bake"
    return next(cues(words(low, left, right), _AROUND), "other")


def find_times(text: str, start: int = 0, end: int | None = None) -> list[Time]:
    """Every length of time in ``text[start:end]``, in reading order, in exact minutes, with offsets into ``text``.

    "overnight" counts as 8 to 12 hours and is never sure. of: the verb nearest it (bake, rise, chill, cool, mix ...).
    Never raises.
    """
    piece = text[start:end]
    low = plain(piece)
    low = _mended(low)
    found = [time for at, word in _units(low) if (time := _one(low, at, word))]
    at = low.find("overnight")
    while at >= 0:
        if low[at + 9 : at + 15].lstrip()[:4] != "oats":
            found.append(Time(at, at + 9, "overnight", Fraction(480), Fraction(720), sure=False))
        at = low.find("overnight", at + 9)
    joined = _joined(low, sorted(found, key=lambda time: time.start))
    return [
        replace(t, start=t.start + start, end=t.end + start, text=piece[t.start : t.end], of=_of(piece, low, t))
        for t in joined
    ]
