"""What a paste must be before a room looks at it: text, of a size, in English.

>>> usable("2 cups flour")
>>> usable("  ")
Traceback (most recent call last):
rewriter.errors.Unusable: the paste is empty; paste a whole recipe, its ingredients and its method
"""

from __future__ import annotations

import re
import tomllib
import unicodedata
from functools import cache
from importlib.resources import files

from rewriter.errors import Unusable

LIMIT = 5_000_000  # bytes of UTF-8; a long cookbook has fewer
WHOLE = "paste a whole recipe, its ingredients and its method"
_ENOUGH = 6  # words of another language that make it one
_SURELY = 15  # English words that make any further look needless
_TAG = re.compile(r"<(?:li|p|ul|ol|div|span|td|tr|br|h[1-6])\b[^<>]{0,300}>", re.IGNORECASE)
_CODED = re.compile(r"&(?:frac\d\d|frasl|deg|nbsp|#\d{2,4}|#x[0-9a-f]{2,4});", re.IGNORECASE)  # signs as codes
_ODD = re.compile("[\x00-\x08\x0e-\x19\x7f-\x84\x86-\x9f\ud800-\udfff\ufffd]")  # controls, broken characters


def usable(text: str) -> None:
    """Raise Unusable where the text is empty, too long, binary, a page's source or in another language."""
    if not text.strip("\ufeff\u200b \t\r\n\v\f"):
        raise Unusable("the paste is empty", WHOLE)
    size(len(text))
    if not text.isascii() and size_of(text) >= LIMIT:
        size(size_of(text))
    if _binary(text):
        raise Unusable("this is binary data, not text", "copy the recipe's words out of it and paste those")
    if "&" in text and _CODED.search(text) and _TAG.search(text):
        raise Unusable(
            "this is the source of a web page, its figures written as codes",
            "paste what the page shows, or give the page as a file that ends in .html",
        )
    language = other_language(text)
    if language:
        raise Unusable(f"this seems to be in {language}", "only recipes in English are read: paste a translation")


def size(count: int) -> None:
    """Raise Unusable where there are as many bytes as the limit or more.

    >>> size(4_999_999)
    """
    if count >= LIMIT:
        raise Unusable("this is 5 MB of text or more", "split it, and give each part by itself")


def size_of(text: str) -> int:
    """Bytes of text in UTF-8; what cannot be encoded counts as well."""
    return len(text.encode("utf-8", "surrogatepass"))


def other_language(text: str) -> str:
    """Name the language the text is in where that is clearly not English, else "".

    >>> other_language("250 g Mehl und 3 Eier mit dem Zucker verrühren, dann die Milch; bei 180 Grad backen")
    'German'
    >>> other_language("2 cups flour, 3 eggs; beat with the sugar and bake")
    ''
    """
    lists = _words()
    for some_of in (_middle, _all):
        if len(lists["English"].intersection(some_of(text))) >= _SURELY:
            return ""
    words = {word.strip(".,;:!?()\"'*-") for word in _all(text)}
    english = len(words & lists["English"])
    if english < _ENOUGH:
        letters = [sign for sign in text if sign.isalpha()]
        foreign = next((sign for sign in letters if sign > "\u024f"), "")
        if foreign and 2 * sum(sign > "\u024f" for sign in letters) > len(letters):
            return f"another script ({unicodedata.name(foreign, 'unknown').split()[0].title()})"
    found, language = max((len(words & theirs), name) for name, theirs in lists.items() if name != "English")
    return language if found >= _ENOUGH and found > 2 * english else ""


def _all(text: str) -> list[str]:
    return text.casefold().split()


def _middle(text: str) -> list[str]:
    """Some whole words from the middle of a text, where the method is: they mostly tell enough."""
    start = max(0, len(text) // 2 - 400)
    return text[start : start + 800].casefold().split()[1:-1]


def _binary(text: str) -> bool:
    start = text[:20_000]
    return len(_ODD.findall(start)) > 0.05 * len(start)


@cache
def _words() -> dict[str, frozenset[str]]:
    table = tomllib.loads(files("rewriter").joinpath("languages.toml").read_text(encoding="utf-8"))
    return {language: frozenset(row["words"].split()) for language, row in table.items()}
