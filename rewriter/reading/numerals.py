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

_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
_ENTITIES = {
    "&frac12;": "½", "&frac14;": "¼", "&frac34;": "¾", "&frac13;": "⅓", "&frac23;": "⅔", "&frac18;": "⅛",
    "&#189;": "½", "&#188;": "¼", "&#190;": "¾", "&#8531;": "⅓", "&#8532;": "⅔", "&#8539;": "⅛",
    "&#xbd;": "½", "&#xbc;": "¼", "&#xbe;": "¾",
}  # fmt: skip
_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "eighteen": 18,
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60,
}  # fmt: skip
_ONES |= {
    f"{tens}-{ones}": _ONES[tens] + _ONES[ones]
    for tens in ("twenty", "thirty", "forty", "fifty")
    for ones in ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
}
_PARTS = {
    "half": 2, "halves": 2, "third": 3, "fourth": 4, "quarter": 4, "fifth": 5, "sixth": 6, "eighth": 8, "sixteenth": 16,
}  # fmt: skip
_SLASH = "[/⁄∕]"
_SUPER = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉"

_words = "|".join(sorted(_ONES, key=len, reverse=True))
_parts = "halves|half|thirds?|fourths?|quarters?|fifths?|sixths?|eighths?|sixteenths?"
_entity = "|".join(re.escape(e) for e in _ENTITIES)

_TYPED = rf"(?:\d{{1,2}}\s?{_SLASH}\s?\d{{1,2}}(?![\d/])|[{_SUPER}]+{_SLASH}[{_SUPER}]+)"
_SCANNED = rf"(?:[YV][248]|[lI]{_SLASH}[2348]|1{_SLASH}[lI]6)(?!\w)"
_FRACTION = rf"(?:{_TYPED}|[{_VULGAR}]|{_entity}|{_SCANNED})"
_JOIN = r"(?:\s?[-–&+]\s?|\s{1,3}and\s{1,3}|\s{0,2})"
_DIGITS = (
    rf"(?:(?:\d{{1,3}}|[lI](?=\s)){_JOIN}{_FRACTION}"
    rf"|{_FRACTION}"
    r"|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+|\.\d+|\d+,\d{1,2}(?!\d)|\d+[lO](?=\s?(?:g|oz|ml)\b)|\d+"
    r"|[lI](?=\s(?:c\b|cups?\b|t\b|T\b|tsp|tbsp|tea|table|lb|pound|pint|quart|qt|pt|egg|large|oz|pkg|pk|can|stick|package|env|clove|dozen|doz|onion|medium|small)))"
)
_FRACTION_WORD = rf"(?:(?:an?|{_words})(?:\s?-\s?|\s)(?:{_parts})\b(?:\s+of(?=\s+an?\b))?|half\b(?:\s+of(?=\s+an?\b))?)"
_SPELLED = (
    rf"(?:\b(?:{_words})(?:\s+and\s+|\s+)(?:{_FRACTION_WORD})"
    rf"|\b{_FRACTION_WORD}(?:\s+an?\b(?=\s+(?:dozen|\w)))?(?:\s+dozen\b)?"
    rf"|\b(?:(?:{_words}|an?|\d+)\s+)?(?:dozen|couple)\b(?:\s+of\b)?"
    rf"|\b(?:{_words})\b)"
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
            total, ones = total if ones is None else (total or 0) + Fraction(ones), number
        elif stem in _PARTS:
            total, ones = (total or Fraction(0)) + Fraction(1 if ones is None else ones, _PARTS[stem]), None
        elif word in ("a", "an"):
            total, ones = (total, 1) if ones is None and total is None else (total or (ones and Fraction(ones)), None)
        elif word not in ("and", "of", "dozen", "doz", "doz.", ""):
            raise ValueError(text)
    if ones is not None:
        total = (total or 0) + Fraction(ones)
    return (Fraction(1) if total is None else total) * (12 if "doz" in text.lower() else 1)


def _whole_and(text: str) -> Fraction | None:
    """Read "one and one-half", "two and two-thirds": a whole and a spelled fraction."""
    match = re.fullmatch(rf"({_words})\s+and\s+((?:an?|{_words})?[\s-]*(?:{_parts}))(?:\s+of)?", text)
    return _ONES[match[1]] + _spelled(match[2]) if match else None


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
    match = _MIXED.match(text)
    if match and not re.fullmatch(r"\d+", text):
        fraction = _fraction(match[2])
        return int(match[1].translate(_SCAN)) + fraction
    if re.fullmatch(_FRACTION, text):
        return _fraction(text)
    if _LETTERS.search(text):
        return _whole_and(text.lower()) or _spelled(text)
    text = text.translate(_SCAN)
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", text):
        return Fraction(text.replace(",", ""))
    return Fraction(text.replace(",", "."))
