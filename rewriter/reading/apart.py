"""Clauses that work beside the batter: fruit put up by itself, sugar set out to roll in, what is poured over."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from rewriter import pantry
from rewriter.reading.method import Clause
from rewriter.reading.names import Name

_BATTER_ROLES = frozenset(("flour", "self-rising", "leavener", "yeast", "egg", "fat"))
_STEW = re.compile(
    r"\b(?:toss|combine|cook|mash|macerate|slice|crush|sweeten|sprinkle|simmer|boil|heat|place|put|spread|(?:stir|mix)(?!\s+(?:in|through|into)\b))\b",
    re.IGNORECASE,
)
_FRUIT_WORD = re.compile(r"\b(?:berries|fruit|apples|peaches|cherries|plums|pears)\b", re.IGNORECASE)
_FOLDED = re.compile(r"\b(?:fold|stir|mix|add|beat|blend)(?:ed|ing)?\b", re.IGNORECASE)


def _stewed(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> frozenset[int]:
    """The clauses that put fruit and sugar up by themselves, to go under or over the dough, not into it."""
    found: dict[int, set[str]] = {}
    folded: set[str] = set()
    at = 0
    for clause in clauses:
        while at < len(names) and names[at].start < clause.start:
            at += 1
        k = at
        fruit: set[str] = set()
        roles: set[str] = set()
        while k < len(names) and names[k].end <= clause.end:
            entry = pantry.entry(names[k].key)
            roles.add(entry.role)
            if entry.aisle == "fruit":
                fruit.add(names[k].key)
            k += 1
        words = text[clause.start : clause.end]
        if _FRUIT_WORD.search(words):
            fruit.add("fruit")
        if not fruit or clause.part != "batter":
            continue
        if roles & {"sugar", "syrup", "starch"} and not roles & _BATTER_ROLES and _STEW.search(words):
            found[clause.start] = fruit
        elif _FOLDED.search(words):
            folded |= fruit
    return frozenset(start for start, fruit in found.items() if not fruit & folded)


_OVER = re.compile(
    r"\b(?:spread|pour|spoon|scatter|sprinkle|drizzle|dollop)\b[^.,;]{0,40}\b(?:over|on\s+top)\b\s*(?:,|;|and\b|$|of\s+the\b|all\b|everything\b|the\s+(?:dough|batter|top|fruit|apples|berries))",
    re.IGNORECASE,
)


_UNSTIRRED = re.compile(
    r"\bpour\b[^.;]{0,60}\b(?:water|coffee)\b[^.;]{0,40}\bover\b[^.;]{0,40}[.;,]\s*(?:\d+[.)]\s*)?(?:but\s+)?(?:do\s+not|don['’]t|never)\s+(?:stir|mix)\b",
    re.IGNORECASE,
)
"""Water poured over a pudding cake: it makes the sauce below."""


def _over(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> list[int]:
    """The clauses that put something without flour, egg or leavener over the dough or batter before it bakes."""
    out = []
    for clause in clauses:
        if clause.part == "batter" and _UNSTIRRED.search(text, clause.start, min(clause.end + 60, len(text))):
            out.append(clause.start)
            continue
        if clause.part != "batter" or not _OVER.search(text, clause.start, clause.end):
            continue
        roles = {pantry.entry(name.key).role for name in names if clause.start <= name.start < clause.end}
        if roles and not roles & {"flour", "self-rising", "leavener", "yeast", "egg", "liquid"}:
            out.append(clause.start)
    return out


_BOWL = re.compile(
    r"\b(?:place|put|pour|add|mix|combine|stir|spread|sift)\b.*\b(?:bowl|plate|dish|saucer|bag|together)\b",
    re.IGNORECASE | re.DOTALL,
)
_COAT = re.compile(
    r"\b(?:roll|coat|cover|toss|dip|dredge|shake)(?:ed|ing|s)?\b.{0,80}\b(?:in|with|to\s+coat|sugar|mixture)\b",
    re.IGNORECASE | re.DOTALL,
)


def _coating(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> list[int]:
    """The clauses that put sugar (and spice) in a bowl of its own, for the dough to be rolled in."""
    out = []
    for clause, following in itertools.pairwise(clauses):
        if clause.part != "batter" or not _BOWL.search(text, clause.start, clause.end):
            continue
        if not _COAT.search(text, following.start, following.end):
            continue
        entries = [pantry.entry(name.key) for name in names if clause.start <= name.start < clause.end]
        if entries and all(entry.role == "sugar" or entry.aisle == "spices" for entry in entries):
            out.append(clause.start)
    return out


def set_apart(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> dict[int, str]:
    """The part of each clause (by its start) that works beside the batter though no heading says so."""
    apart = dict.fromkeys(_stewed(clauses, names, text), "filling")
    apart |= dict.fromkeys(_over(clauses, names, text), "topping")
    apart |= dict.fromkeys(_coating(clauses, names, text), "dusting")
    return apart
