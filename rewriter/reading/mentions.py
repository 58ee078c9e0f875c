"""Which words of the method mean which listed ingredient.

A mention fits a listed ingredient when they are the same pantry row or one name ends like the other
("sugar" and "light brown sugar"); "the dry ingredients" mean flour, leavener and salt.

>>> fits("sugar", "granulated sugar"), fits("powdered sugar", "granulated sugar"), fits("eggs", "large egg")
(True, False, True)
"""

from __future__ import annotations

import re
from functools import lru_cache

_WORD = re.compile(r"[a-zà-ÿ]+")
_ADJECTIVES = frozenset(
    "large small medium fresh unsalted salted softened melted cold warm hot cool sifted packed light dark fine "
    "pure extra virgin all purpose plain whole granulated white ground freshly of the unbleached bleached "
    "boiling lukewarm room temperature beaten well".split()
)


@lru_cache(maxsize=8192)
def _tokens(name: str) -> tuple[str, ...]:
    return tuple(_stem(word) for word in _WORD.findall(name.lower()))


def _stem(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith("oes"):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


@lru_cache(maxsize=16384)
def fits(mention: str, listed: str) -> bool:
    """Whether words in the method can mean a listed ingredient's name."""
    short, long = _tokens(mention), _tokens(listed)
    if not short or not long:
        return False
    if short == long:
        return True
    telling = [word for word in short if word not in _ADJECTIVES]
    other = [word for word in long if word not in _ADJECTIVES]
    if not telling or not other:
        return short[-1] == long[-1]
    if telling[-1] != other[-1] and not set(telling) <= set(other):
        return False
    return set(telling) <= set(other) or (set(other) <= set(telling) and telling[-1] == other[-1] and len(other) > 1)
