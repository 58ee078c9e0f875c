"""One ingredient line: its amounts, its name, its role, and what its other words tell.

>>> from rewriter.reading.pipeline import read_ingredient
>>> line = read_ingredient("1 cup (226 g) unsalted butter, softened, plus more for the pan")
>>> line.name, line.role, [(str(a.quantity), a.unit) for a in line.amounts], "plus-more" in line.flags
('unsalted butter', 'fat', [('1', 'cup'), ('226', 'g')], True)
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from rewriter import pantry
from rewriter.model import Amount, Ingredient
from rewriter.reading.headings import LABEL
from rewriter.reading.heads import head_name
from rewriter.reading.line_amounts import LEAD, MORE, OR, own_amounts
from rewriter.reading.names import Name
from rewriter.reading.units import MASS, VOLUME, table

_TABLE = table("lines")
_PURPOSE = re.compile("|".join(f"(?P<{part}>{pattern})" for part, pattern in _TABLE["purpose"].items()), re.IGNORECASE)
_PURPOSE_WORDS = frozenset(("for", "to", "dusting", "wash", "top", "serve", "garnish"))
_MORE_WORDS = frozenset(("more", "extra", "additional", "plus"))
_FLAG_OF: dict[str, str] = _TABLE["flag"]
_FLAG_WORDS = frozenset(_FLAG_OF)
_LABEL_OF: dict[str, str] = _TABLE["label"]
_WORD = re.compile(r"[a-zé]+")
_ZEST_FIRST = re.compile(r"\s*(?:[\w-]+\s+)?(?:zest|peel|rind)\b", re.IGNORECASE)
_SOME_MORE = re.compile(
    r"\b(?:extra|more|some|(?:and|plus)\s+a\s+(?:little|bit|touch))\s*$"
    r"|\d.*\b(?:and|plus)\s+(?:a\s|[\d¼-¾⅐-⅞])[^,;]*$",
    re.IGNORECASE,
)
"""Words before a purpose that leave the line's main amount out of it: "extra", "and 1 tbsp milk"."""
_JUICE_OF = re.compile(r"\bjuice\b.*\bof\b|\bjuiced\b", re.IGNORECASE)
_PART_OF_EGG = re.compile(r"\b(yolk|white)s?\s+(?:of|from)\b", re.IGNORECASE)
_CITRUS = frozenset(
    f"{fruit}{ending}"
    for fruit in ("lemon", "lime", "orange", "grapefruit", "clementine", "tangerine")
    for ending in ("", "s")
)
_OF = re.compile(r"\s*(?:of\s+(?:the\s+)?)?", re.IGNORECASE)


def purpose(body: str, words: frozenset[str]) -> str:
    """The part that a line's own words put it in ("for dusting"); "" where they do not, or only some extra is for it.

    >>> purpose("3 tbsp flour, for dusting", frozenset(("flour", "for", "dusting")))
    'dusting'
    >>> purpose("2 cups flour, extra for the board", frozenset(("flour", "for", "the", "board")))
    ''
    """
    if _PURPOSE_WORDS.isdisjoint(words):
        return ""
    match = _PURPOSE.search(body)
    if not match:
        return ""
    before = body[: match.start()]
    if (
        MORE.search(before)
        or _SOME_MORE.search(before)
        or (re.search(r"\b(?:and|or)\s+(?:for\s+)?$", before) and re.search(r"\d", before))
    ):
        return ""
    return next(part for part, found in match.groupdict().items() if found)


def weigh(key: str | None, amounts: Sequence[Amount]) -> tuple[float | None, tuple[float, float] | None]:
    """Grams of an ingredient by the first amount that can be weighed (a weight before a volume), and their range."""
    for amount in amounts if len(amounts) < 2 else sorted(amounts, key=lambda amount: amount.unit not in MASS):
        if amount.quantity is None:
            continue
        quantity = amount.quantity * amount.count if amount.count else amount.quantity
        found = _weight(key, quantity.numerator, quantity.denominator, amount.unit, amount.system)
        if found is not None:
            return found
    return None, None


@lru_cache(maxsize=4096)
def _weight(
    key: str | None, numerator: int, denominator: int, unit: str, system: str
) -> tuple[float, tuple[float, float]] | None:
    """Grams and their range of numerator/denominator units; None where neither the unit nor the pantry tells."""
    quantity = Fraction(numerator, denominator)
    if unit in MASS:
        grams = float(quantity * MASS[unit])
        return grams, (grams, grams)
    found = pantry.grams(pantry.entry(key), quantity, unit or "each", system) if key else None
    return (found[1], (found[0], found[2])) if found is not None else None


def _role(head: Name | None, body: str, words: frozenset[str]) -> tuple[str, str | None, bool]:
    """Role, pantry key and whether it is sure, from the head name and the line's words."""
    citrus = not _CITRUS.isdisjoint(words)
    if head is None:
        juice = citrus and ("juice" in words or "juiced" in words)
        return ("liquid", "lemon-juice", True) if juice else ("other", None, False)
    role = pantry.entry(head.key).role
    if citrus and role == "other" and _JUICE_OF.search(body):
        return "liquid", "lemon-juice", True
    if head.key == "egg" and (part := _PART_OF_EGG.search(body)):
        return role, f"egg-{part[1].lower()}", True
    if role == "liquid" and _ZEST_FIRST.match(body):
        return "other", head.key, True
    if (
        role == "thick-liquid"
        and "banana" in head.key
        and not words.isdisjoint(("sliced", "chopped", "diced", "chunks"))
    ):
        return "other", head.key, True
    return role, head.key, True


def _flags(body: str, words: frozenset[str], head: Name | None, rest: str, label: str) -> frozenset[str]:
    flags = {_FLAG_OF[word] for word in words & _FLAG_WORDS}
    if (not _MORE_WORDS.isdisjoint(words) or "+" in body) and MORE.search(body):
        flags.add("plus-more")
    if head is not None and ("or" in words or "substitute" in words) and OR.search(rest):
        flags.add("alternative")
    part = purpose(body, words)
    if label and not part:
        part = next((_LABEL_OF[word] for word in _WORD.findall(label) if word in _LABEL_OF), "")
    if head is not None and head.key == "cooking-spray":
        part = part or "dusting"
    if part:
        flags.add(f"for-{part}")
    return frozenset(flags)


def _headed(
    text: str, start: int, end: int, own: Sequence[Amount], leads: bool, names: Sequence[Name]
) -> tuple[Name | None, int, int]:
    """The head name of the line and its phrase: after the leading amounts, or before a trailing one."""
    if not own:
        return head_name(text, start, end, names)
    after = own[0].end
    if not leads:
        found = head_name(text, start, own[0].start, names)
        return found if found[0] is not None else head_name(text, start, end, names)
    last = after if len(own) == 1 else max(amount.end for amount in own if amount.start < after + 30)
    found = head_name(text, last, end, names)
    if found[0] is None and last != after:
        found = head_name(text, after, end, names)
    return found if found[0] is not None else (_with_unit(text, own[0], names) or found)


def _with_unit(text: str, amount: Amount, names: Sequence[Name]) -> tuple[Name, int, int] | None:
    """A name that takes in the unit before it: "1 cake yeast", "3 cloves garlic", "5 cloves"; else None."""
    name = next((name for name in names if amount.start < name.start < amount.end <= name.end), None)
    if name is None:
        return None
    bare = text[amount.end : name.end].strip(" .-")
    entry = pantry.find(bare) if bare and amount.unit in VOLUME else None  # "1 C sugar" is a cup, no abbreviation
    key = entry.key if entry is not None else name.key
    begin = name.end - len(bare) if bare else name.start
    return Name(begin, name.end, key, text[begin : name.end]), begin, name.end


def read_line(
    text: str, start: int, end: int, names: Sequence[Name], amounts: Sequence[Amount], listed: bool = True
) -> Ingredient:
    """The ingredient on one line.

    text[start:end]: the line without its bullet. names, amounts: those found inside it, in order.
    Never raises; a line without a known name has role "other" and ``sure`` False.
    """
    label = None if text[start : start + 1].isnumeric() else LABEL.match(text, start, end)
    labelled = ""
    if label and amounts and amounts[0].start >= label.end() and not _names_itself(names, label.end()):
        labelled, start = label["label"].lower(), label.end()
    own = own_amounts(text, start, end, amounts)
    before = text[start : own[0].start] if own else ""
    leads = len(before.strip(" (*[")) < 3 or bool(LEAD.match(before))
    body = text[start:end]
    words = frozenset(_WORD.findall(body.lower()))
    head, first, last = _headed(text, start, end, own, leads, names)
    role, key, sure = _role(head, body, words)
    name_start, name_end = _trim(text, first, last, head)
    own = [amount if amount.unit and amount.unit != "stick" else _each(amount, head) for amount in own]
    grams, spread = weigh(key, own)
    begin, stop = start if leads else name_start, name_end
    if own:  # in the order written
        begin, stop = min(begin, own[0].start), max(stop, own[-1].end)
    rest = text[head.end : end] if head is not None else ""
    return Ingredient(
        begin, stop, text[name_start:name_end], role, "batter", tuple(own), grams, sure, key, 0,
        spread, _flags(body, words, head, rest, labelled), listed, name_start, name_end,
    )  # fmt: skip


def _names_itself(names: Sequence[Name], end: int) -> bool:
    """Whether what looks like a label is the ingredient's own name ("Flour: 2 cups")."""
    return bool(names) and names[-1].end <= end


def _each(amount: Amount, head: Name | None) -> Amount:
    """A bare count is of pieces; so are sticks of a spice, which are none of butter's."""
    counted = not amount.unit or (amount.unit == "stick" and head is not None and _spice(head.key))
    return replace(amount, unit="each") if counted and amount.quantity is not None else amount


def _spice(key: str) -> bool:
    return pantry.entry(key).aisle == "spices"


def _trim(text: str, first: int, last: int, head: Name | None) -> tuple[int, int]:
    """The span of the name's phrase without what stands round it."""
    match = _OF.match(text, first, last)
    begin, stop = match.end() if match else first, max(first, last)
    while stop > begin and (text[stop - 1].isspace() or text[stop - 1] in "*-–"):
        stop -= 1
    while begin < stop and (text[begin].isspace() or text[begin] in "*-–.)]"):
        begin += 1
    if head is not None and not (begin <= head.start and head.end <= stop):
        return head.start, head.end
    if head is not None:  # "2 cups (1 cup) flour": what a bracket closes before the name is no part of it
        closed = text.rfind(")", begin, head.start)
        if closed >= 0 and "(" not in text[begin:closed]:
            return _trim(text, closed + 1, last, head)
    return begin, max(stop, begin)
