"""How a recipe writes its amounts: fractions, unit words, spacing; and writing new ones the same way.

A :class:`Voice` is what the whole recipe does; a :class:`Manner` is what one amount does, the voice filling the gaps.

>>> from fractions import Fraction
>>> manner("1½ cups", "cup", Voice()).number(Fraction(7, 4))
'1¾'
>>> manner("one and one-half cupfuls", "cup", Voice()).number(Fraction(5, 4))
'one and one-quarter'
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from rewriter.writing.units import UNITS, is_full, spelled, unit_of

VULGAR = {
    Fraction(1, 2): "½", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔", Fraction(1, 4): "¼", Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip
_ONES = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_PARTS = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 8: "eighth", 16: "sixteenth"}

# A figure, and the word after it; single letters only where they are abbreviations (T, t, c; not the C of 180 C).
# Its first sign is sought by two ranges, which is quicker than asking of every letter whether it is a digit.
_SEEN = re.compile(r"([0-9¼-¾\u0660-\U0010ffff](?<=[\d¼-¾⅐-⅞]))(?:(?<=\d)(\d)?([/⁄]\d+)?)? ?([A-Za-z]+\.?)?")
_SPELLED = ("tablespoonful", "teaspoonful", "tablespoon", "teaspoon", "cupful")
_FULL_STOP = re.compile(r"\.[ \t]*(?=[\r\n]|\Z)")
_NUMBER = re.compile(
    r"(?:(?P<whole>\d+)(?P<join>\s*(?:-|&|\+|and)?\s*))??(?:(?P<vulgar>[¼-¾⅐-⅞])|\d+(?P<slash>[/⁄])\d+)|\d+(?P<point>[.,])\d+"
)
_WORD_NUMBER = re.compile(rf"\b(?:half|halves|thirds?|fourths?|quarters?|{'|'.join(_ONES[1:])}|a|an)\b", re.I)
_BLUR = re.compile(
    r"[\w¼-¾⅐-⅞]\s+((?:(?:level|even|rounded|heaped|heaping|generous|large|small|good|metric|imperial|australian)\s+)+)$",
    re.I,
)
_THOUSANDS = re.compile(r"\d,\d{3}(?!\d)")
_LEAD = re.compile(r"(?:[^\W\d_]{2,9}\.?\s+|~\s*)*")
_TOKEN = re.compile(r"[^\W\d_¼-¾⅐-⅞]+(?:\s+(?:oz|ounces?)\b)?\.?")


@dataclass(frozen=True, slots=True)
class Voice:
    """What a recipe does as a whole: its fractions ("typed" 1/2 or "vulgar" ½) and its word for each unit."""

    fractions: str = "typed"
    words: dict[str, str] = field(default_factory=dict)


@lru_cache(maxsize=64)
def listen(text: str, start: int = 0, end: int | None = None) -> Voice:
    """The voice of ``text[start:end]``, by the majority of its fractions and its first word for each unit.

    >>> listen("2 c. flour, 3 tblsp milk, ½ tsp salt, 180 C").words
    {'cup': 'c.', 'tbsp': 'tblsp', 'tsp': 'tsp'}
    """
    vulgar = slash = 0
    words: dict[str, str] = {}
    stop = len(text) if end is None else end
    for match in _SEEN.finditer(text, start, stop):
        first, more, part, word = match.groups()
        vulgar += not first.isdecimal()
        slash += part is not None
        if word and not (more and word in ("C", "c")):
            unit = unit_of(word)
            if unit and unit not in words:
                ends = word[-1] == "." and _FULL_STOP.match(text, match.end() - 1)
                words[unit] = word[:-1] if ends else word
    for word in _SPELLED:
        if unit_of(word) not in words and text.find(word, start, stop) >= 0:
            words[unit_of(word)] = word
    return Voice("vulgar" if vulgar > slash else "typed", words)


@dataclass(frozen=True, slots=True)
class Look:
    """How one amount looks: fractions, joint of a mixed number, unit word, space before it, words before it.

    blur: what stands between figure and unit ("1 heaped tsp", "1 metric cup"). thousands: whether it writes 1,800.
    """

    fractions: str
    joint: str
    word: str
    space: str
    lead: str
    quarter: str = "quarter"
    blur: str = ""
    thousands: bool = False


@dataclass(frozen=True, slots=True)
class Manner:
    """How one amount is written: its own look, and the voice of its recipe for what it does not show."""

    look: Look
    voice: Voice

    @property
    def fractions(self) -> str:
        """How it writes fractions: typed, vulgar, words, a decimal sign, or the sign of a typed one."""
        return self.look.fractions

    @property
    def lead(self) -> str:
        """The words before its figure."""
        return self.look.lead

    def number(self, value: Fraction) -> str:
        """A quantity in this manner; fractions that it cannot hold are typed."""
        return _number(*value.as_integer_ratio(), self.look.fractions, self.look.joint, self.look.quarter)

    def plain(self, value: Fraction) -> str:
        """A decimal figure; thousands are set off where they were."""
        return f"{value.numerator:,}" if self.look.thousands and value.denominator == 1 else decimal(value)

    def unit(self, name: str, value: Fraction) -> str:
        """The word for a unit, as this amount or else this recipe writes it, with the space before it."""
        look = self.look
        if look.word and name == unit_of(look.word):
            return f"{look.space}{look.blur}{spelled(look.word, value)}"
        word = self.voice.words.get(name) or self.default(name)
        return (" " if look.space or len(word) > 2 else "") + spelled(word, value)

    def unblurred(self, words: str) -> str:
        """Words without the one that blurs this amount."""
        return words.replace(self.look.blur, "", 1)

    def default(self, name: str) -> str:
        """A word for a unit the recipe never names: written out where its own units are."""
        unit = UNITS.get(name)
        if unit is None:
            return name
        own = self.look.word
        said = [word for word in (own, *self.voice.words.values()) if word]
        spelt = [word for word in said if is_full(word) and word.lower() not in ("cup", "cups")]
        full = unit.words[1] if len(unit.words) > 1 and any("ful" in word for word in spelt) else unit.words[0]
        in_full = not unit.short or (all(map(is_full, said)) and bool(spelt or self.look.fractions == "words"))
        word = full if in_full else unit.short[0]
        return word.upper() if len(own) > 1 and own.isupper() else word

    @property
    def plus(self) -> str:
        """The joint of two terms."""
        return "plus" if self.look.fractions == "words" else "+"


@lru_cache(maxsize=4096)
def _number(top: int, bottom: int, fractions: str, joint: str, quarter: str) -> str:
    value = Fraction(top, bottom)
    if fractions == "words":
        return in_words(value, quarter)
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if fractions in (".", ","):
        return decimal(value, fractions)
    part = VULGAR.get(rest) if fractions == "vulgar" else None
    if part is None:
        part, joint = f"{rest.numerator}{'⁄' if fractions == '⁄' else '/'}{rest.denominator}", joint or " "
    return f"{whole}{joint}{part}" if whole else part


@lru_cache(maxsize=512)
def in_words(value: Fraction, quarter: str = "quarter") -> str:
    """A quantity in words, as old cards have it.

    >>> in_words(Fraction(11, 4)), in_words(Fraction(1, 2)), in_words(Fraction(24))
    ('two and three-quarters', 'one-half', 'twenty-four')
    """
    whole, rest = divmod(value, 1)
    name = quarter if rest.denominator == 4 else _PARTS.get(rest.denominator, "")
    if whole > 99 or (rest and not name):
        return str(float(value)) if rest else str(whole)
    count = _ONES[whole] if whole < 20 else _TENS[whole // 10 - 2] + (f"-{_ONES[whole % 10]}" if whole % 10 else "")
    if not rest:
        return count
    many = "s" if rest.numerator > 1 else ""
    part = f"{_ONES[rest.numerator]}-{name}{many}"
    return f"{count} and {part}" if whole else part


def decimal(value: Fraction, point: str = ".", places: int = 3) -> str:
    """A decimal figure without trailing zeros.

    >>> decimal(Fraction(7, 4)), decimal(Fraction(1410, 1000), ",")
    ('1.75', '1,41')
    """
    figure = f"{float(value):.{places}f}"
    return (figure.rstrip("0").rstrip(".") if "." in figure else figure).replace(".", point)


def unit_token(text: str, unit: str) -> re.Match[str] | None:
    """The first word of an amount that names its unit, or None."""
    for token in _TOKEN.finditer(text):
        if unit_of(token.group()) == unit:
            return token
    return None


def manner(text: str, unit: str, voice: Voice) -> Manner:
    """The manner of an amount written as ``text`` whose unit is ``unit``."""
    return Manner(_look(text, unit, voice.fractions), voice)


@lru_cache(maxsize=4096)
def _look(text: str, unit: str, usual: str) -> Look:
    """The look of an amount in a recipe whose fractions are as ``usual``."""
    token = unit_token(text, unit)
    word = token.group() if token else ""
    space = " " if token is None or (token.start() and text[token.start() - 1].isspace()) else ""
    number = _NUMBER.search(text)
    first = re.search(r"\d|[¼-¾⅐-⅞]", text)
    fractions, joint, quarter = usual, " " if usual == "typed" else "", "quarter"
    lead = ""
    if number is not None:
        fractions = "vulgar" if number["vulgar"] else number["point"] or ("⁄" if number["slash"] == "⁄" else "typed")
        if number["whole"] or fractions == "typed":
            joint = number["join"] or ("" if number["vulgar"] else " ")
    elif first is None:
        spoken = _WORD_NUMBER.search(text)
        if spoken:
            fractions, lead = "words", text[: spoken.start()]
            quarter = "fourth" if "fourth" in text.lower() else "quarter"
    if first is not None:
        lead = text[: first.start()]
    blur = _BLUR.search(text, 0, token.start()) if token else None
    return Look(
        "typed" if (thousands := bool(_THOUSANDS.search(text))) else fractions,
        joint,
        word,
        space,
        lead if _LEAD.fullmatch(lead) else "",
        quarter,
        blur.group(1) if blur else "",
        thousands,
    )
