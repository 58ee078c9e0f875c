"""Oven words and gas marks: what "a moderate oven" and "gas 4" say in degrees Fahrenheit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from rewriter.pantry import shelf


@dataclass(frozen=True, slots=True)
class OvenWord:
    """An oven word: the degrees Fahrenheit it is read as, the range in use, and whether books disagree (check)."""

    key: str
    words: tuple[str, ...]
    fahrenheit: Fraction
    low: Fraction
    high: Fraction
    check: bool
    source: str


@cache
def _words() -> Mapping[str, OvenWord]:
    tables = shelf.tables()
    found: dict[str, OvenWord] = {}
    for key, row in tables["oven_words"]["rows"].items():
        heats = (Fraction(row["fahrenheit"]), Fraction(row["low"]), Fraction(row["high"]))
        source = tables["sources"][row["source"]]["text"]
        made = OvenWord(key, tuple(row["words"]), *heats, row.get("check", False), source)
        found.update(dict.fromkeys(made.words, made))
    return MappingProxyType(found)


def oven_phrases() -> list[str]:
    """Every word that describes an oven, longest first; "slow" says nothing unless an oven stands beside it.

    >>> "rather quick" in oven_phrases()
    True
    """
    return sorted(_words(), key=lambda word: (-len(word), word))


def oven_word(words: str) -> OvenWord | None:
    """What an oven word says, or None where it is not one. Case and the word "oven" do not count.

    >>> oven_word("Moderate oven").fahrenheit
    Fraction(350, 1)
    """
    plain = " ".join(words.lower().replace("-", " ").split()).removesuffix(" oven")
    return _words().get(plain)


@cache
def _gas() -> Mapping[Fraction, Fraction]:
    return MappingProxyType({Fraction(m): Fraction(f) for m, f in shelf.tables()["oven_words"]["gas"].items()})


def gas_mark(mark: Fraction) -> Fraction | None:
    """Degrees Fahrenheit of a British gas mark (1/4, 1/2, 1 to 10); halves between marks lie between; else None.

    >>> gas_mark(Fraction(4)), gas_mark(Fraction(1, 2)), gas_mark(Fraction(7, 2)), gas_mark(Fraction(11))
    (Fraction(350, 1), Fraction(250, 1), Fraction(675, 2), None)
    """
    marks = _gas()
    if mark in marks:
        return marks[mark]
    between = mark - Fraction(1, 2)
    if mark.denominator == 2 and between in marks and between + 1 in marks:
        return (marks[between] + marks[between + 1]) / 2
    return None


def to_gas_mark(fahrenheit: Fraction) -> Fraction:
    """The nearest gas mark to a heat; of two as near, the lower.

    >>> to_gas_mark(Fraction(375)), to_gas_mark(Fraction(360))
    (Fraction(5, 1), Fraction(4, 1))
    """
    return min(_gas(), key=lambda mark: (abs(_gas()[mark] - fahrenheit), mark))
