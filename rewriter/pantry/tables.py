"""Lookups into the small tables: kinds of bake, roles, and old household measures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from rewriter.pantry import shelf
from rewriter.pantry.plural import plural


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of bake: what it holds, and whether altitude changes anything in its batter or dough."""

    key: str
    text: str
    rises: bool


@dataclass(frozen=True, slots=True)
class Measure:
    """An old household measure.

    words: how it is written, singular. unit: its name in the unit file. quantity of base: what it is taken to be.
    others: what other tables give, in words. check: whether the reading must be put as a question.
    of: the ingredient it is a measure of, "" for any.
    """

    key: str
    words: tuple[str, ...]
    unit: str
    quantity: Fraction
    base: str
    others: tuple[str, ...]
    check: bool
    of: str
    source: str


@cache
def kinds() -> Mapping[str, Kind]:
    """The fourteen kinds of bake by their name.

    >>> len(kinds()), kinds()["custard"].rises
    (14, False)
    """
    rows = shelf.tables()["kinds"]
    return MappingProxyType({key: Kind(key, row["text"], row["rises"]) for key, row in rows.items()})


@cache
def roles() -> Mapping[str, str]:
    """The roles an ingredient can play, each with one line that says what it is.

    >>> "thick-liquid" in roles()
    True
    """
    return MappingProxyType({key: row["text"] for key, row in shelf.tables()["roles"].items()})


@cache
def measures() -> Mapping[str, Measure]:
    """The household measures by their unit name.

    >>> measures()["wineglass"].quantity, measures()["wineglass"].base, measures()["wineglass"].check
    (Fraction(1, 4), 'cup', True)
    """
    tables = shelf.tables()
    found: dict[str, Measure] = {}
    for key, row in tables["measures"]["rows"].items():
        words, others = tuple(row["words"]), tuple(row["others"])
        source = tables["sources"][row["source"]]["text"]
        quantity, base, of = Fraction(row["quantity"]), row["base"], row.get("of", "")
        found[row["unit"]] = Measure(key, words, row["unit"], quantity, base, others, row["check"], of, source)
    return MappingProxyType(found)


def measure(unit: str) -> Measure | None:
    """The household measure with this unit name, or None where the unit is an exact one.

    >>> measure("saltspoon").others, measure("cup")
    (('1/2 tsp',), None)
    """
    return measures().get(unit)


@cache
def _measure_words() -> Mapping[str, str]:
    found: dict[str, str] = {}
    for unit, row in measures().items():
        for word in row.words:
            found[word] = unit
            if not word.startswith(("size ", "the ", "as ", "bigness ")):
                found[plural(word)] = unit
    return MappingProxyType(found)


def measure_phrases() -> list[tuple[str, str]]:
    """Every spelling of a household measure (lower case, singular and plural) with its unit name.

    >>> ("wine glasses", "wineglass") in measure_phrases(), ("teacupfuls", "teacup") in measure_phrases()
    (True, True)
    """
    return list(_measure_words().items())
