"""Numbers as recipes write them, read as exact fractions.

Digits, decimals, vulgar fractions of one character or typed, mixed numbers ("1 1/2", "1-1/2", "1&1/2", "1 and 1/2"),
HTML entities, words ("one and one-half", "three-fourths", "half a dozen") and the usual scanning errors ("Y2", "l/2").

>>> value("1 1/2"), value("1½"), value("three-fourths")
(Fraction(3, 2), Fraction(3, 2), Fraction(3, 4))
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache

from rewriter.reading.units import words_pattern

_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_ENTITIES = {
    "&frac12;": "½", "&frac14;": "¼", "&frac34;": "¾", "&frac13;": "⅓", "&frac23;": "⅔", "&frac18;": "⅛",
    "&#189;": "½", "&#188;": "¼", "&#190;": "¾", "&#8531;": "⅓", "&#8532;": "⅔", "&#8539;": "⅛",
    "&#xbd;": "½", "&#xbc;": "¼", "&#xbe;": "¾",
}  # fmt: skip
_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70,
    "eighty": 80, "ninety": 90,
}  # fmt: skip
_TENS = tuple(word for word, number in _ONES.items() if number >= 20)
_BELOW = words_pattern(word for word in _ONES if word not in _TENS)
_ONES |= {f"{tens}-{ones}": _ONES[tens] + _ONES[ones] for tens in _TENS for ones in _ONES if _ONES[ones] < 10}
_PARTS = {
    "half": 2, "halves": 2, "third": 3, "fourth": 4, "quarter": 4, "fifth": 5, "sixth": 6, "eighth": 8, "sixteenth": 16,
}  # fmt: skip
NUMBER_WORDS = frozenset(
    (*(word for word in _ONES if "-" not in word), *_PARTS, *(f"{part}s" for part in _PARTS), "a", "an", "and", "of")
) | {"hundred", "dozen", "doz", "couple"}
"""The words of numbers, and those that go on with one ("half a dozen", "a couple of")."""
_SLASH = "[/⁄∕]"
_SUPER = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"

_words = rf"(?:{words_pattern(_TENS)})(?:[\s-](?:one|two|three|four|five|six|seven|eight|nine)\b)?|{_BELOW}"
_parts = "halves|half|thirds?|fourths?|quarters?|fifths?|sixths?|eighths?|sixteenths?"
_entity = words_pattern(_ENTITIES)

_TYPED = rf"(?:\d{{1,2}}\s?{_SLASH}\s?\d{{1,2}}(?![\d/])|[{_SUPER}]+{_SLASH}[{_SUPER}]+)"
_SCANNED = rf"(?:[YV][248]|[lI]{_SLASH}[2348]|1{_SLASH}[lI]6)(?!\w)"
_FRACTION = rf"(?:{_TYPED}|[{_VULGAR}]|{_entity}|{_SCANNED})"
_JOIN = r"(?:\s?[-–&+]\s?|\s{1,3}and\s{1,3}|\.(?=\d\s?[/⁄∕])|\s{0,2})"
_DIGITS = (
    rf"(?:(?:\d{{1,3}}|[lI](?=\s)){_JOIN}{_FRACTION}"
    rf"|{_FRACTION}"
    r"|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+|(?<!\.)\.\d+|\d+,\d{1,2}(?!\d)"
    r"|\d+(?:[lO](?=\s?(?:g|oz|ml)\b)|O(?=\s(?:cups?|c|t|tsp|tbsp|lbs?|large|eggs?)\b))|\d+"
    r"|[lI](?=\s(?:c\b|cups?\b|t\b|T\b|tsp|tbsp|tea|table|lb|pound|pint|quart|qt|pt|egg|large|oz|pkg|pk|can|stick|package|env|clove|dozen|doz|onion|medium|small)))"
)
_FRACTION_WORD = rf"(?:(?:an?|{_words})(?:\s?-\s?|\s)(?:{_parts})\b(?:\s+of(?=\s+an?\b))?|half\b(?:\s+of(?=\s+an?\b))?)"
_HUNDREDS = rf"(?:\b(?:(?:an?|{_words})\s+)?hundred\b(?:\s+and\s+(?:{_words})\b)?)"
_DOZENS = rf"(?:(?:\d{{1,2}}{_JOIN})?{_FRACTION}\s+(?:dozen|doz)\b\.?|\b(?:an?|one|1)\s+dozen\s+and\s+a\s+half\b)"
_UNFIGURED = rf"(?![\d{_VULGAR}])"
"""No figure: a word is only looked for where none stands, for there are many words to try."""
_SPELLED = (
    rf"(?:{_UNFIGURED}(?:\b(?:{_words})(?:\s+and\s+|\s+)(?:{_FRACTION_WORD})|{_HUNDREDS})|{_DOZENS}"
    rf"|{_UNFIGURED}(?:\b(?:{_words})\s+and\s+{_FRACTION}"
    rf"|\b{_FRACTION_WORD}(?:\s+an?\b(?=\s+(?:dozen|\w)))?(?:\s+dozen\b)?)"
    rf"|\b(?:(?:\d+|{_UNFIGURED}(?:{_words}|an?))\s+)?(?:dozen|couple)\b(?:\s+of\b)?|\b(?:an?|\d+)\s+doz\b\.?"
    rf"|{_UNFIGURED}\b(?:{_words})\b)"
)
NUMBER = rf"(?:{_SPELLED}|{_DIGITS})"
"""Pattern text of one number, for use inside larger patterns compiled with ``re.IGNORECASE`` off or on."""

ARTICLE = r"(?:an?\b)"

_MIXED = re.compile(rf"(\d+|[lI](?=\s)){_JOIN}({_FRACTION})$")
_SPLIT = re.compile(rf"(\S+?)\s?{_SLASH}\s?(\S+)$")
_LETTERS = re.compile(r"[a-z]{2}", re.IGNORECASE)
_SCAN = str.maketrans("lIO", "110")


def _fraction(text: str) -> Fraction:
    text = _ENTITIES.get(text.lower(), text)
    if len(text) == 1 and text in _VULGAR:
        return Fraction(unicodedata.normalize("NFKC", text).replace("⁄", "/"))
    if text[:1] in "YV":
        return Fraction(1, int(text[1:]))
    match = _SPLIT.match(unicodedata.normalize("NFKC", text).translate(_SCAN))
    if not match or int(match[2]) == 0:
        raise ValueError(text)
    return Fraction(int(match[1]), int(match[2]))


def _spelled(text: str) -> Fraction:
    """The value of number words: "three-fourths", "half a dozen", "twenty-four", "a couple"."""
    total: Fraction | None = None
    ones: int | None = None
    for word in re.split(r"[\s-]+", re.sub(r"(enty|irty|orty|ifty)-", r"\1_", text.lower())):
        stem = word[:-1] if word.endswith("s") and word != "halves" else word
        number = _ONES.get(word.replace("_", "-")) or (int(word) if word.isdigit() else None)
        if word == "couple":
            ones = 2
        elif number is not None:
            total, ones = total if ones is None else (total or Fraction(0)) + ones, number
        elif stem in _PARTS:
            total, ones = (total or Fraction(0)) + Fraction(1 if ones is None else ones, _PARTS[stem]), None
        elif word in ("a", "an"):
            total, ones = (total, 1) if ones is None and total is None else (total or Fraction(ones or 0), None)
        elif word not in ("and", "of", "dozen", "doz", "doz.", ""):
            raise ValueError(text)
    if ones is not None:
        total = (total or Fraction(0)) + ones
    dozens = "doz" in text.lower()
    if total is None and not dozens:
        raise ValueError(text)
    return (Fraction(1) if total is None else total) * (12 if dozens else 1)


_WHOLE_AND = re.compile(rf"({_words})\s+and\s+((?:an?|{_words})?[\s-]*(?:{_parts}))(?:\s+of)?")
_WHOLE_TYPED = re.compile(rf"({_words})\s+and\s+({_FRACTION})", re.IGNORECASE)
_HUNDRED = re.compile(rf"(?:(an?|{_words})\s+)?hundred(?:\s+and\s+({_words}))?")


def _count(words: str) -> int:
    """The whole number that words name: "a", "twelve", "twenty-four", "forty five"."""
    return 1 if words in ("a", "an") else _ONES["-".join(words.split())]


def _whole_and(text: str) -> Fraction | None:
    """Read "one and one-half", "two and 1/2", "two hundred and fifty"; None where the words are none of these."""
    if match := _WHOLE_AND.fullmatch(text):
        return _count(match[1]) + _spelled(match[2])
    if match := _WHOLE_TYPED.fullmatch(text):
        return _count(match[1]) + _fraction(match[2])
    if match := _HUNDRED.fullmatch(text):
        return Fraction(100 * _count(match[1] or "a") + (_count(match[2]) if match[2] else 0))
    return None


def _dozens(text: str) -> Fraction | None:
    """Read "1 1/2 dozen", "a dozen and a half"; None where no figure stands before the dozen."""
    if text.endswith("dozen and a half"):
        return Fraction(18)
    count = re.sub(r"\s+doz(?:en|\.)?$", "", text)
    if count == text:
        return None
    return 12 * value(count) if count[:1].isdigit() or count[:1] in _VULGAR else None


def _close(text: str) -> Fraction | None:
    """Read a fraction typed without a gap: "15/16" is one fraction, "11/2" has lost the blank of "1 1/2"."""
    match = re.fullmatch(rf"(\d{{2}})\s?{_SLASH}\s?(\d{{1,2}})", text)
    if not match or not int(match[2]):
        return None
    top, bottom = int(match[1]), int(match[2])
    whole = top > bottom and 0 < top % 10 < bottom
    return top // 10 + Fraction(top % 10, bottom) if whole else Fraction(top, bottom)


@lru_cache(maxsize=4096)
def value(text: str) -> Fraction:
    """The exact value of a number as written.

    Raises ValueError where the text is no number this module knows.

    >>> value("one and one-half"), value("half a dozen"), value("2,5"), value("1,500"), value("Y2")
    (Fraction(3, 2), Fraction(6, 1), Fraction(5, 2), Fraction(1500, 1), Fraction(1, 2))
    """
    text = text.strip()
    if not text:
        raise ValueError(text)
    close = _close(text)
    if close is not None:
        return close
    match = _MIXED.match(text)
    if match and not re.fullmatch(r"\d+", text):
        fraction = _fraction(match[2])
        return int(match[1].translate(_SCAN)) + fraction
    if re.fullmatch(_FRACTION, text):
        return _fraction(text)
    if _LETTERS.search(text):
        low = text.lower()
        return _whole_and(low) or _dozens(low) or _spelled(text)
    text = text.translate(_SCAN)
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", text):
        return Fraction(text.replace(",", ""))
    return Fraction(text.replace(",", "."))
