"""Which of many key words a text may hold: every word of it is looked at once and remembered for the next text.

>>> signs = Signs(["loaf", "bread m", " ft", "^rol", "1:1"])
>>> sorted(signs.of("bake the meatloaf and the bread;")), sorted(signs.of("roll it"))
(['1:1', 'bread m', 'loaf'], ['1:1', '^rol'])
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_LETTERS = re.compile("[a-z]+")
_BLANKS = str.maketrans({chr(i): " " for i in range(128) if not "a" <= chr(i) <= "z"})


class Signs:
    """Key words to look for, in small letters, with or without blanks and marks in or around them.

    A key ``^abc`` is held where a word of three letters or more starts with these three.
    """

    def __init__(self, keys: Iterable[str]) -> None:
        self._rows: dict[str, list[tuple[str, bool, bool, str]]] = {}
        always = set()
        for key in set(keys):
            run = max(_LETTERS.finditer(key), key=lambda run: len(run[0]), default=None)
            if run is None or len(run[0]) < 2:
                always.add(key)
            else:
                row = (run[0], run.start() > 0, run.end() < len(key), key)
                self._rows.setdefault(run[0][:2], []).append(row)
        self._always = frozenset(always)
        self._of_word = lru_cache(maxsize=8192)(self._held)

    def of(self, low: str) -> set[str]:
        """The keys that ``low`` (small letters) may hold, by its single words: never one too few."""
        words = low.encode("ascii", "replace").decode("ascii").translate(_BLANKS).split()
        return set(self._always).union(*map(self._of_word, words))

    def _held(self, word: str) -> frozenset[str]:
        """The keys that a word may hold: of a key of several words the longest is looked for."""
        found = set()
        for at in range(len(word) - 1):
            for part, opens, closes, key in self._rows.get(word[at : at + 2], ()):
                if word.startswith(part, at) and not (opens and at) and not (closes and at + len(part) < len(word)):
                    found.add(key)
        return frozenset(found)
