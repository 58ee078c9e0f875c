r"""Numbers that are never ingredient amounts: pan sizes, years, prices, yields, nutrition, times, temperatures, steps.

>>> text = "Serves 8.\n1. Cut 2 cups fruit in 1/2-inch pieces; bake in a 9x13 pan at 350°F for 30 min."
>>> [text[start:end] for start, end in not_amount_spans(text)]
['Serves 8', '1.', '1/2-inch', '9x13', '350°F', '30 min']
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from rewriter.model import Heat, Time
from rewriter.reading.clauses import patterns, plain, windows
from rewriter.reading.heats import find_heats
from rewriter.reading.times import find_times

_ROWS = patterns("not_amounts")
_FRACTION = r"(?:[½⅓⅔¼¾⅛⅜⅝⅞]|\d/\d{1,2})"
_NUMBER = re.compile(rf"\d+(?:,\d{{3}})*(?:\.\d+)?(?:[ -]?{_FRACTION})?(?:/\d{{1,2}})?|[½⅓⅔¼¾⅛⅜⅝⅞]")
_TAIL = re.compile("|".join(f"(?P<{name}>{pattern})" for name, pattern in _ROWS["tail"].items()))
_LEAD = {name: re.compile(pattern) for name, pattern in _ROWS["lead"].items()}
_CROSSED = re.compile(
    r"[ \u00a0-]{0,2}(?:(?:inch(?:es)?|in\.?|[\"″”]|cm)[ -]?)?(?:x|×|✕|\*|-?by-?)[ \u00a0-]{0,2}"
    r"(\d+(?:\.\d+)?(?:[ -]?\d/\d|[½¼¾])?)(?![\d.]|[ ]?-?(?:g|kg|ml|oz|lb|ounce|gram)\b)"
    r"(?:[ -]?(?:inch(?:es)?|in\.?|[\"″”]|cm|mm))?"
)
_UNIT_AFTER = re.compile(r"[ \u00a0]?(?:g|kg|ml|l|cups?|grams?|oz|lbs?|tbsp|tsp|ounces?|pounds?)\b")
_YEAR = re.compile(r"(?:1[6-9]|20)\d\d$")
_STEP = re.compile(r"(?:^|\n)[ \t]*(?:[*#•-][ \t]*)?(\d{1,2}[.)](?![\d½¼¾⅓⅔])|\(\d{1,2}\)(?=\s)|step \d{1,2}\b[.:)]?)")
_WORD_INCH = re.compile(
    r"(?<![a-z-])(?:(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve|an?|half|quarter|eighth|third)"
    r"[ -](?:and |an? |of |-)*){1,4}inch(?:es)?\b"
)
_PHONE = re.compile(r"\d{3}\)?[-. ]\d{3}[-. ]\d{4}(?!\d)")
_URL = re.compile(r"https?://\S+|www\.\S+")
_CLOCK = re.compile(r"\d(?:\d?:\d\d\b|\d?/\d{1,2}/\d{2,4}\b|\d{3}-\d\d-\d\d\b)")
_PRICE = re.compile(r"[$£€][ ]?\d+(?:[,.]\d+)*")
_YIELDS = ("make", "serve", "yield", "serving", "feeds", "portion", "cuts into", "enough for")
_WORDS, _MONTHS = frozenset(_ROWS["before"]["words"]), frozenset(_ROWS["before"]["months"])
_DATE = re.compile(r"(?:st|nd|rd|th)?(?:,? (?:19|20)\d\d)?\b")
_NUTRIENTS = ("calorie", "kcal", "protein", "carb", "sodium", "cholesterol", "nutrition")


def _inches(low: str, found: list[tuple[int, int]]) -> None:
    if "-inch" in low or " inch" in low:
        near = windows(low, (" inch", "-inch"), 48, 8)
        found += [match.span() for start, end in near for match in _WORD_INCH.finditer(low, start, end)]


def _lone(low: str, start: int, end: int) -> int:
    """Where a number ends that the word before it, or its being a year, tells to be no amount; 0 where nothing does."""
    number = low[start:end]
    if _YEAR.match(number) and not _UNIT_AFTER.match(low, end) and low[end : end + 1] not in ("/", "½", "¼", "¾"):
        return end
    edge = start
    while edge > 0 and low[edge - 1] in " .:#":
        edge -= 1
    word = edge
    while word > 0 and low[word - 1].isalpha() and edge - word < 10:
        word -= 1
    before = low[word:edge]
    if before in _WORDS and edge < start and "\n" not in low[edge:start]:
        return 0 if _UNIT_AFTER.match(low, end) else end
    if before in _MONTHS and number.isdigit() and int(number) <= 31 and (date := _DATE.match(low, end)):
        return 0 if _UNIT_AFTER.match(low, end) else date.end()
    return 0


def _numbers(low: str, found: list[tuple[int, int]]) -> None:
    """Numbers told by what follows them."""
    reached = 0
    for match in _NUMBER.finditer(low):
        start, end = match.span()
        if start < reached:
            continue
        tail = _TAIL.match(low, end)
        if tail is None:
            if stop := _lone(low, start, end):
                reached = stop
                found.append((start, stop))
            continue
        reached = tail.end()
        if tail.lastgroup == "cross":
            crossed = _CROSSED.match(low, end)
            if not crossed:
                continue
            while more := _CROSSED.match(low, crossed.end()):
                crossed = more
            reached = crossed.end()
        found.append((start, reached))


def _leads(low: str, found: list[tuple[int, int]]) -> None:
    """Numbers told by the word before them."""
    for start, end in windows(low, _YIELDS, 8, 110):
        makes = _LEAD["yield"].finditer(low, start, end)
        found += [match.span() for match in makes if not match.start() or not low[match.start() - 1].isalpha()]
    near = windows(low, _NUTRIENTS, 160, 160)
    for start, end in near:
        found += [match.span() for name in ("nutrition", "panel") for match in _LEAD[name].finditer(low, start, end)]


def not_amount_spans(
    text: str, heats: Sequence[Heat] | None = None, times: Sequence[Time] | None = None
) -> list[tuple[int, int]]:
    """The spans of ``text`` whose numbers are never ingredient amounts, in order and without overlap.

    heats, times: those already found in the same text, so that they are not looked for again. Never raises.
    """
    low = plain(text)
    found: list[tuple[int, int]] = []
    for heat in find_heats(text) if heats is None else heats:
        found += [(heat.start, heat.end), *((twin.start, twin.end) for twin in heat.twins)]
    found += [(time.start, time.end) for time in (find_times(text) if times is None else times)]
    _numbers(low, found)
    _leads(low, found)
    _inches(low, found)
    found += [match.span(1) for match in _STEP.finditer(low)]
    for keys, pattern in (
        (("$", "£", "€"), _PRICE),
        (("http", "www."), _URL),
        ((":", "/", "-"), _CLOCK),
        (("-", "(", "."), _PHONE),
    ):
        near = windows(low, keys, 12, 30) if any(key in low for key in keys) else []
        found += [match.span() for start, end in near for match in pattern.finditer(low, start, end)]
    return _merged(found)


def _merged(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    merged: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if merged and start < merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return merged
