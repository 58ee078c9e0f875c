"""A quick look at the first letters of a line, which spares most lines the patterns that could only fail there.

>>> verbs = stems(["preheat", "mix", "add"])
>>> may_open("Mix well.", verbs), may_open("Butter and sugar", verbs), may_open("2 cups flour", verbs)
(True, False, True)
"""

from __future__ import annotations

from collections.abc import Iterable

_LENGTH = 3


def stems(words: Iterable[str]) -> frozenset[str]:
    """The first letters of words, in small letters, as :func:`may_open` wants them."""
    return frozenset(word[:_LENGTH].lower() for word in words)


def may_open(content: str, known: frozenset[str]) -> bool:
    """Whether a line may open with a word of which the stems are known: False is sure, True is not.

    A line that opens with anything but three plain letters may.
    """
    head = content[:_LENGTH]
    return head.lower() in known or not (head.isalpha() and head.isascii())
