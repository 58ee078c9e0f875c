"""Two measures that are one amount: "1 cup plus 2 Tbsp", "2 lb 4 oz", "1 (14-oz) can", "2 x 400g tins".

>>> from rewriter.reading.amounts import find
>>> [(str(a.quantity), a.unit, str(a.count)) for a in find("1 lb 2 oz flour, 2 x 400g tins tomatoes")]
[('9/8', 'lb', 'None'), ('400', 'g', '2')]
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from rewriter.model import Amount
from rewriter.reading.numerals import NUMBER, NUMBER_WORDS
from rewriter.reading.units import (
    CONTAINER,
    CONTAINERS,
    FIRST_WORDS,
    HEDGE,
    MASS,
    NEVER,
    RUN_ON,
    UNIT,
    VOLUME,
    canonical,
    table,
    words_pattern,
)

_TABLE = table("amounts")
_AFTER_ARTICLE = rf"(?:{words_pattern(FIRST_WORDS | NUMBER_WORDS)}(?![a-z])|{RUN_ON}|[^a-z]|[yv][248]|[li]/)"
_STANDS = {
    "NUMBER": NUMBER, "UNIT": UNIT, "HEDGE": HEDGE, "CONTAINER": CONTAINER, "NEVER": NEVER,
    "OPENING": words_pattern(_TABLE["opening"]["words"]), "AFTER_ARTICLE": _AFTER_ARTICLE,
}  # fmt: skip
_SLOT = re.compile(r"\{([A-Z_]{4,}|half)\}")


def _filled(pieces: list[str]) -> str:
    return _SLOT.sub(lambda slot: _filled(_TABLE["half"]) if slot[1] == "half" else _STANDS[slot[1]], "".join(pieces))


@lru_cache(maxsize=3)
def patterns(*path: str, flags: int = re.IGNORECASE) -> dict[str, re.Pattern[str]]:
    """The compiled patterns of one table of ``patterns/amounts.toml``; unless told otherwise they ignore case."""
    rows = _TABLE
    for name in path:
        rows = rows[name]
    return {name: re.compile(_filled(row), flags) for name, row in rows.items() if isinstance(row, list)}


_COMPILED = patterns("pattern", "composite")
_TIMES, _OPEN, _CLOSE, _UNIT_AFTER = (_COMPILED[name] for name in ("times", "open", "close", "unit_after"))
_PLUS, _LESS, _TO = (_COMPILED[name] for name in ("plus", "less", "to"))
_CASCADE = frozenset(tuple(both.split()) for both in _TABLE["composite"]["cascade"])
_SPOONS = VOLUME | {"stick": VOLUME["cup"] / 2}
"""Volumes that may be added up; a stick of butter is half a cup."""


def _joined(text: str, first: Amount, second: Amount, sign: int) -> Amount:
    table = MASS if first.unit in MASS else _SPOONS
    scale = table[second.unit] / table[first.unit] if first.unit != second.unit else Fraction(1)
    quantity = (first.quantity or 0) + sign * (second.quantity or 0) * scale
    top = None if first.quantity_max is None else first.quantity_max + sign * (second.quantity or 0) * scale
    return replace(first, end=second.end, text=text[first.start : second.end], quantity=quantity, quantity_max=top)


def _same_dimension(first: Amount, second: Amount) -> bool:
    return (first.unit in MASS and second.unit in MASS) or (first.unit in _SPOONS and second.unit in _SPOONS)


def pair(text: str, first: Amount, second: Amount, stop: int) -> Amount | None:
    """The two as one amount, where the words between them make them one."""
    gap = text[first.end : second.start]
    if "   " in gap or "\t" in gap or "|" in gap:  # two columns of a table
        return None
    if (
        first.unit
        and second.unit
        and first.quantity is not None
        and second.quantity is not None
        and _same_dimension(first, second)
    ):
        smaller = (MASS.get(second.unit) or _SPOONS[second.unit]) <= (MASS.get(first.unit) or _SPOONS[first.unit])
        if smaller and _PLUS.fullmatch(gap):
            return _joined(text, first, second, 1)
        if smaller and _LESS.fullmatch(gap) and (second.quantity < first.quantity or first.unit != second.unit):
            closed = second.end + (text[second.end : second.end + 1] == ")" and "(" in gap)
            both = _joined(text, first, second, -1)
            return replace(both, end=closed, text=text[first.start : closed])
        if (first.unit, second.unit) in _CASCADE and gap.strip(" .,") in ("", "and", "&"):
            return _joined(text, first, second, 1)
        if (
            first.unit == second.unit
            and _TO.fullmatch(gap)
            and first.quantity_max is None
            and second.quantity > first.quantity
        ):
            top = second.quantity_max or second.quantity
            return replace(first, end=second.end, text=text[first.start : second.end], quantity_max=top)
    if (
        not first.unit
        and gap.strip() in ("+", "plus")
        and second.unit
        and second.quantity is not None
        and first.quantity
    ):
        return replace(
            second, start=first.start, text=text[first.start : second.end], quantity=first.quantity + second.quantity
        )
    if not first.unit and second.unit and first.quantity_max is None and second.unit != "each":
        return _counted(text, first, second, gap, stop)
    return None


def _counted(text: str, first: Amount, second: Amount, gap: str, stop: int) -> Amount | None:
    """Read "2 x 400g tins", "1 (14-oz) can", "two 400g tins": a count of things of one size."""
    if second.unit in CONTAINERS or not (second.unit in MASS or second.unit in VOLUME):
        return None
    after = _UNIT_AFTER.match(text, second.end, stop)
    if after and gap.strip() == "(" and canonical(after["unit"]) in VOLUME:  # "12 (3 l) cups"
        return replace(first, end=after.end(), text=text[first.start : after.end()], unit=canonical(after["unit"]))
    times = _TIMES.fullmatch(gap)
    box = _CLOSE.match(text, second.end, stop)
    opened = "(" in gap or "[" in gap
    if times or (box and _OPEN.fullmatch(gap)):
        end = box.end() if box else second.end
        return replace(second, start=first.start, end=end, text=text[first.start : end], count=first.quantity)
    if opened and _OPEN.fullmatch(gap) and second.unit in ("g", "oz", "kg", "lb") and "about" not in gap:
        end = second.end + 1 if text[second.end : second.end + 1] in ")]" else second.end
        return replace(second, start=first.start, end=end, text=text[first.start : end], count=first.quantity)
    return None
