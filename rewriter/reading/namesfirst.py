r"""A list run on in one line with the names before their amounts: "flour 2c, bp 4t, sugar 2T, eggs 2".

>>> from rewriter.reading.pipeline import read
>>> recipe = read("Waffles: flour 2c, bp 4t, sugar 2T, milk 1 3/4c, oil 1/2c, eggs 2. Bake in a hot iron.")[0]
>>> [(one.role, one.amounts[0].text) for one in recipe.ingredients][:3]
[('flour', '2c'), ('leavener', '4t'), ('sugar', '2T')]
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from rewriter.model import Amount
from rewriter.reading.names import Name

LEAST = 3
_AFTER = re.compile(r"\s*(?:[,;.)\n]|$|and\b|&)")
_STOP = re.compile(r"\s*(?:[,;)\n]|$|[A-Z])")  # after "1 tsp." as a sentence's end or before a comma
_BETWEEN = re.compile(r"[ \t]*(?:[:=–-][ \t]*|\.{2,}[ \t]*)?")
_CARD = re.compile(
    r"(?P<title>[A-Z][^:.,\d\n]{2,40}):\s+(?:[^\d,;:.\n]{2,30}\s\S{0,4}\d[^,;.\n]{0,24}(?:[,;.]\s*|$)){4}"
)


def card_title(line: str) -> str:
    """The title of a whole card in one line; "" where the line is none.

    >>> card_title("Waffles: flour 2c, bp 4t, sugar 2T, milk 1 3/4c, eggs 2. Hot iron.")
    'Waffles'
    """
    card = _CARD.match(line)
    return card["title"] if card else ""


def named_before(text: str, amounts: Sequence[Amount], names: Sequence[Name]) -> dict[int, Name]:
    """Amount's start -> the name right before it, where most amounts of the stretch stand so; else nothing."""
    if len(amounts) < LEAST:
        return {}
    ends = {name.end: name for name in names if amounts[0].start - 60 <= name.start < amounts[-1].start}
    found = {}
    for amount in amounts:
        if not (_STOP if amount.text.endswith(".") else _AFTER).match(text, amount.end):
            continue
        before = amount.start
        while before > 0 and text[before - 1] in " \t:=.–-":
            before -= 1
        name = ends.get(before)
        if name is not None and _BETWEEN.fullmatch(text, before, amount.start):
            found[amount.start] = name
    return found if len(found) >= LEAST and len(found) * 3 > len(amounts) * 2 else {}
