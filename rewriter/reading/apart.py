"""Clauses that work beside the batter: fruit put up by itself, sugar set out to roll in, what is poured over."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from rewriter import pantry
from rewriter.reading.method import Clause
from rewriter.reading.names import Name

_SWEETENING = frozenset(("sugar", "syrup", "starch"))
_BATTER_ROLES = frozenset(("flour", "self-rising", "leavener", "yeast", "egg", "fat"))
_STEW = re.compile(
    r"\b(?:toss|combine|cook|mash|macerate|slice|crush|sweeten|sprinkle|simmer|boil|heat|place|put|spread|(?:stir|mix)(?!\s+(?:in|through|into)\b))\b",
    re.IGNORECASE,
)
_FRUIT_WORDS = frozenset(("berries", "fruit", "apples", "peaches", "cherries", "plums", "pears"))
_FRUIT_WORD = re.compile(rf"\b(?:{'|'.join(sorted(_FRUIT_WORDS))})\b", re.IGNORECASE)
_FOLDED = re.compile(r"\b(?:fold|stir|mix|add|beat|blend)(?:ed|ing)?\b", re.IGNORECASE)


def names_within(clauses: Sequence[Clause], names: Sequence[Name]) -> list[Sequence[Name]]:
    """For each clause, the names that stand in it, of names in order."""
    out: list[Sequence[Name]] = []
    at = 0
    for clause in clauses:
        while at < len(names) and names[at].start < clause.start:
            at += 1
        stop = at
        while stop < len(names) and names[stop].end <= clause.end:
            stop += 1
        out.append(names[at:stop])
    return out


def _stewed(clauses: Sequence[Clause], within: Sequence[Sequence[Name]], text: str) -> frozenset[int]:
    """The clauses that put fruit and sugar up by themselves, to go under or over the dough, not into it."""
    found: dict[int, set[str]] = {}
    folded: set[str] = set()
    for clause, names in zip(clauses, within, strict=True):
        if clause.part != "batter":
            continue
        entries = [pantry.entry(name.key) for name in names]
        fruit = {entry.key for entry in entries if entry.aisle == "fruit"}
        if not _FRUIT_WORDS.isdisjoint(clause.words) and _FRUIT_WORD.search(text, clause.start, clause.end):
            fruit.add("fruit")
        if not fruit:
            continue
        words = text[clause.start : clause.end]
        roles = {entry.role for entry in entries}
        if not roles.isdisjoint(_SWEETENING) and roles.isdisjoint(_BATTER_ROLES) and _STEW.search(words):
            found[clause.start] = fruit
        elif _FOLDED.search(words):
            folded |= fruit
    return frozenset(start for start, fruit in found.items() if not fruit & folded)


_LAID = frozenset(("spread", "pour", "spoon", "scatter", "sprinkle", "drizzle", "dollop"))
_UPON = frozenset(("over", "top"))
_OVER = re.compile(
    r"\b(?:spread|pour|spoon|scatter|sprinkle|drizzle|dollop)\b[^.,;]{0,40}\b(?:over|on\s+top)\b\s*(?:,|;|and\b|$|of\s+the\b|all\b|everything\b|the\s+(?:dough|batter|top|fruit|apples|berries))",
    re.IGNORECASE,
)


_UNSTIRRED = re.compile(
    r"\bpour\b[^.;]{0,60}\b(?:water|coffee)\b[^.;]{0,40}\bover\b[^.;]{0,40}[.;,]\s*(?:\d+[.)]\s*)?(?:but\s+)?(?:do\s+not|don['’]t|never)\s+(?:stir|mix)\b",
    re.IGNORECASE,
)
"""Water poured over a pudding cake: it makes the sauce below."""
_POURED = re.compile(r"[Pp](?<!\w\w)(?i:our\b[^.;]{0,60}\b(?:water|coffee)\b[^.;]{0,40}\bover\b)")
"""How such a sentence begins; its first letter in two sizes, so that a scan for it is quick."""


def _over(clauses: Sequence[Clause], names: Sequence[Name], text: str) -> list[int]:
    """The clauses that put something without flour, egg or leavener over the dough or batter before it bakes."""
    out = []
    poured = _POURED.search(text) is not None
    for clause in clauses:
        if clause.part != "batter":
            continue
        if poured and _UNSTIRRED.search(text, clause.start, min(clause.end + 60, len(text))):
            out.append(clause.start)
            continue
        if _LAID.isdisjoint(clause.words) or _UPON.isdisjoint(clause.words):
            continue
        if not _OVER.search(text, clause.start, clause.end):
            continue
        roles = {pantry.entry(name.key).role for name in names if clause.start <= name.start < clause.end}
        if roles and not roles & {"flour", "self-rising", "leavener", "yeast", "egg", "liquid"}:
            out.append(clause.start)
    return out


_PUT = frozenset(("place", "put", "pour", "add", "mix", "combine", "stir", "spread", "sift"))
_INTO = frozenset(("bowl", "plate", "dish", "saucer", "bag", "together"))
_ROLLED = frozenset(
    f"{verb}{ending}"
    for verb in ("roll", "coat", "cover", "toss", "dip", "dredge", "shake")
    for ending in ("", "ed", "ing", "s")
)
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
        if clause.part != "batter" or _PUT.isdisjoint(clause.words) or _INTO.isdisjoint(clause.words):
            continue
        if _ROLLED.isdisjoint(following.words) or not _COAT.search(text, following.start, following.end):
            continue
        if not _BOWL.search(text, clause.start, clause.end):
            continue
        entries = [pantry.entry(name.key) for name in names if clause.start <= name.start < clause.end]
        if entries and all(entry.role == "sugar" or entry.aisle == "spices" for entry in entries):
            out.append(clause.start)
    return out


def set_apart(
    clauses: Sequence[Clause], names: Sequence[Name], within: Sequence[Sequence[Name]], text: str
) -> dict[int, str]:
    """The part of each clause (by its start) that works beside the batter though no heading says so.

    within: the names of each clause, as :func:`names_within` gives them.
    """
    apart = dict.fromkeys(_stewed(clauses, within, text), "filling")
    apart |= dict.fromkeys(_over(clauses, names, text), "topping")
    apart |= dict.fromkeys(_coating(clauses, names, text), "dusting")
    return apart
