"""The plural of an ingredient name, by rule.

English kitchen nouns only: the head of "cream of X" or "X in Y" takes the ending, everything else takes it last.
"""

from __future__ import annotations

_SPLITS = (" of ", " in ", " with ", " on the ", " for ")
_IRREGULAR = {
    "leaf": "leaves",
    "loaf": "loaves",
    "half": "halves",
    "knife": "knives",
    "calf": "calves",
    "goose": "geese",
    "radish": "radishes",
    "squash": "squash",
    "fish": "fish",
    "shrimp": "shrimp",
    "couscous": "couscous",
    "asparagus": "asparagus",
    "hummus": "hummus",
    "molasses": "molasses",
    "swiss": "swiss",
    "oats": "oats",
    "grits": "grits",
    "greens": "greens",
    "salmon": "salmon",
    "beef": "beef",
    "tuna": "tuna",
    "cod": "cod",
}
_O_TAKES_ES = frozenset(("potato", "tomato", "mango"))
_SIBILANT = ("s", "x", "z", "ch", "sh")


def plural_word(word: str) -> str:
    """The plural of one noun.

    >>> [plural_word(w) for w in ("egg", "cherry", "peach", "potato", "avocado", "bay leaf".split()[1])]
    ['eggs', 'cherries', 'peaches', 'potatoes', 'avocados', 'leaves']
    """
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if word in _O_TAKES_ES:
        return word + "es"
    if word.endswith("y") and len(word) > 1 and word[-2] not in "aeiou":
        return word[:-1] + "ies"
    return word + ("es" if word.endswith(_SIBILANT) else "s")


def plural(name: str) -> str:
    """The plural of a name of one or more words.

    >>> plural("egg white"), plural("ear of corn"), plural("chocolate chip")
    ('egg whites', 'ears of corn', 'chocolate chips')
    """
    for split in _SPLITS:
        head, found, tail = name.partition(split)
        if found:
            return plural(head) + found + tail
    front, space, last = name.rpartition(" ")
    return front + space + plural_word(last)
