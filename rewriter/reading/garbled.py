r"""Names a scanner garbled: look-alike letters made one and hyphenated words joined, the pantry is asked again.

>>> garbled("melted short-\nening")
'shortening'
>>> garbled("white fIour"), garbled("vanllla"), garbled("mo1asses"), garbled("zanthe")
('all-purpose-flour', 'vanilla-extract', 'molasses', None)
"""

from __future__ import annotations

import re
from functools import lru_cache

from rewriter import pantry

_ALIKE = str.maketrans({"1": "l", "i": "l", "|": "l", "!": "l", "0": "o", "5": "s", "8": "b"})
_PAIRS = (("rn", "m"), ("vv", "w"), ("cl", "d"))
_HYPHENATED = re.compile(r"-[ \t]*\r?\n[ \t]*")
_SHORTEST = 4  # letters: below that too many words look alike ("oil", "oll", "all")


def fold(words: str) -> str:
    """The words as a scanner may see them.

    >>> fold("Butterrni1k") == fold("buttermilk")
    True
    """
    folded = " ".join(words.lower().translate(_ALIKE).split())
    for pair, one in _PAIRS:
        folded = folded.replace(pair, one)
    return folded


@lru_cache(maxsize=1)
def _folded() -> dict[str, str | None]:
    """Key of each folded phrase of the pantry; None where two of them fold alike."""
    keys: dict[str, str | None] = {}
    for phrase, key in pantry.phrases():
        folded = fold(phrase)
        keys[folded] = key if keys.get(folded, key) == key else None
    return keys


@lru_cache(maxsize=512)
def garbled(name: str) -> str | None:
    """The pantry row that a garbled name means: of its last words, the most that fit; None where none or two do."""
    words = re.findall(r"[^\s(),;]+", _HYPHENATED.sub("", name))
    for start in range(len(words)):
        tail = " ".join(words[start:])
        if len(tail) < _SHORTEST:
            return None
        if fold(tail) in _folded():
            return _folded()[fold(tail)]
    return None
