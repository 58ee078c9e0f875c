"""Find cards: by word, ingredient, kind, role, elevation tried, outcome, or in a phrase that says several at once.

>>> query = asked("yeast breads with honey without nuts tried at 8,200 ft that sank")
>>> query.kinds, query.ingredients, query.without, query.elevation, query.fault
(('lean-yeast', 'rich-yeast'), ('honey',), ('nuts',), '8,200 ft', 'sank')
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from typing import Any

from rewriter import air, pantry
from rewriter.collection.index import base_text
from rewriter.collection.records import Card
from rewriter.collection.store import Store
from rewriter.correcting.faults import fault
from rewriter.errors import Unusable

NEAR_M = 152.4  # 500 ft: elevations nearer than this are one
OUTCOMES = ("worked", "failed", "unsaid")
_CUT = re.compile(r"\b(with(?:out)?|tried at|baked at|that)\s+", re.I)
_AND = re.compile(r"\s*(?:,|\band\b)\s*", re.I)


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked for. All of it must hold; of kinds and of roles, one each."""

    words: str = ""
    ingredients: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    roles: tuple[str, ...] = ()
    elevation: str = ""
    outcome: str = ""
    fault: str = ""


def asked(phrase: str) -> Query:
    """A phrase as a query: kind words, "with", "without", "tried at", "that worked"; the rest are words to find."""
    first, *rest = _CUT.split(phrase.strip())
    query = _kind(first)
    for word, value in zip(rest[::2], rest[1::2], strict=True):
        things = tuple(thing for thing in _AND.split(value.strip()) if thing)
        if word.lower() == "with":
            query = replace(query, ingredients=(*query.ingredients, *things))
        elif word.lower() == "without":
            query = replace(query, without=(*query.without, *things))
        elif word.lower() == "that":
            query = _came_out(query, value.strip())
        else:
            query = replace(query, elevation=value.strip())
    return query


def search(store: Store, query: Query | str) -> list[Card]:
    """The cards a query finds, best first; merged ones stand behind their twin and are not shown.

    Raises Unusable where a kind, role or elevation is none.
    """
    if isinstance(query, str):
        query = asked(query)
    _check(query)
    where, values = ["recipes.merged_into = ''"], []
    for clause, value in _clauses(query):
        where.append(clause)
        values += value
    source, order = "recipes", "recipes.title"
    if query.words.strip():
        source, order = "recipes JOIN words ON words.rowid = recipes.id", "bm25(words, 5.0, 1.0), recipes.title"
        where.append("words MATCH ?")
        values.append(_match(query.words))
    rows = store.rows(f"SELECT recipes.* FROM {source} WHERE {' AND '.join(where)} ORDER BY {order}", *values)
    return [card_of(store, row) for row in rows]


def card_of(store: Store, row: Any) -> Card:
    """A card from its row."""
    arrivals = store.rows("SELECT origin FROM arrivals WHERE original = ? ORDER BY id", row["original"])
    origins = tuple(one["origin"] for one in arrivals)
    text = base_text(store, row["id"])
    return Card(row["id"], row["uid"], row["title"], row["kind"], text, origins, bool(row["jars"]), row["merged_into"])


def _kind(words: str) -> Query:
    """Kind words at the end of a phrase ("honey yeast breads"); what stands before them are words to find."""
    rest = words.split()
    for size in (2, 1):
        name = " ".join(rest[-size:]).lower()
        found = _table()["kinds"].get(name) or _table()["kinds"].get(name.removesuffix("s"))
        if found and len(rest) >= size:
            return Query(" ".join(rest[:-size]), kinds=tuple(found))
    return Query(words.strip())


def _came_out(query: Query, said: str) -> Query:
    word = said.removeprefix("was ").removeprefix("came out ").strip()
    if word in OUTCOMES:
        return replace(query, outcome=word)
    return replace(query, fault=fault(word).name)


def _check(query: Query) -> None:
    for what, given, known in (
        ("kind", query.kinds, pantry.kinds()),
        ("role", query.roles, pantry.roles()),
        ("outcome", (query.outcome,) if query.outcome else (), OUTCOMES),
    ):
        for one in given:
            if one not in known:
                raise Unusable(f'there is no {what} "{one}"', f"choose one of {', '.join(known)}")


def _clauses(query: Query) -> list[tuple[str, list[object]]]:
    clauses = [_holds(thing) for thing in query.ingredients]
    clauses += [(f"NOT {clause}", values) for clause, values in map(_holds, query.without)]
    if query.kinds:
        clauses.append((f"recipes.kind IN ({_marks(query.kinds)})", list(query.kinds)))
    clauses += [("recipes.id IN (SELECT recipe FROM lines WHERE role = ?)", [role]) for role in query.roles]
    bakes: list[str] = []
    values: list[object] = []
    if query.elevation:
        bakes.append("abs(elevation_m - ?) < ?")
        values += [air.of(query.elevation).elevation_m, NEAR_M]
    if query.outcome:
        bakes.append("outcome = ?")
        values.append(query.outcome)
    if query.fault:
        bakes.append("faults LIKE ?")
        values.append(f'%"{query.fault}"%')
    if bakes:
        clauses.append((f"recipes.id IN (SELECT recipe FROM bakes WHERE {' AND '.join(bakes)})", values))
    return clauses


def _holds(thing: str) -> tuple[str, list[object]]:
    """Whether a recipe holds an ingredient: by its row in the pantry, by words of its name, or by its role."""
    row = pantry.find(thing)
    roles = _table()["roles"].get(thing.lower(), [])
    word = thing.lower().removesuffix("s")
    clause = "recipes.id IN (SELECT recipe FROM lines WHERE key = ? OR instr(lower(name), ?)"
    values: list[object] = [row.key if row else "-", word]
    if roles:
        clause += f" OR role IN ({_marks(roles)})"
        values += roles
    return f"{clause})", values


def _marks(values: Any) -> str:
    return ", ".join("?" for _ in values)


def _match(words: str) -> str:
    """Words for the full-text index: all of them, in any order; a phrase in quotation marks together."""
    parts = re.findall(r'"([^"]+)"|(\S+)', words)
    return " ".join('"' + (phrase or word).replace('"', '""') + '"' for phrase, word in parts)


@cache
def _table() -> dict[str, Any]:
    return tomllib.loads(files("rewriter.collection").joinpath("kinds.toml").read_text(encoding="utf-8"))
