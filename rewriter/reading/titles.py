r"""The title of a recipe: the dish's own name, not the cookbook's, a menu item, a reader or the sender of a letter.

>>> from rewriter.reading.rows import lines_of
>>> lines = lines_of("From: Dot\nPell Gingersnaps\nServes 8\n1 cup sugar")
>>> title_above(lines, 3, 0, dict)
('Pell Gingersnaps', 1)
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping
from functools import lru_cache
from itertools import chain

from rewriter.reading.headings import PART_WORDS, instruction, sentence
from rewriter.reading.rows import SENTENCE, WITH_UNIT, Line
from rewriter.reading.units import table, words_pattern

_TABLE = table("layout")["title"]
_NEVER_OPENING = re.compile("|".join(_TABLE["never_opening"]), re.IGNORECASE)
_NEVER_HOLDING = re.compile(
    rf"{'|'.join(_TABLE['never_holding'])}|\b(?:{'|'.join(_TABLE['never_word'])})",
    re.IGNORECASE,
)
_LONG_WORD = re.compile(r"[^\W\d_]{4,}")
_LOW_WORD = re.compile(r"[a-z]+")
_UNLIKELY_OPENING = re.compile("|".join(_TABLE["unlikely_opening"]), re.IGNORECASE)
_UNLIKELY_ENDING = re.compile(rf"(?:{'|'.join(_TABLE['unlikely_ending'])})$", re.IGNORECASE)
_UNLIKELY_HOLDING = [re.compile(pattern, re.IGNORECASE) for pattern in _TABLE["unlikely_holding"]]
_DISHES = words_pattern(word for words in table("kinds")["title"].values() for word in words)
_DISH = re.compile(
    rf"\b(?:{_DISHES})(?:e?s)?\b|\brecipe\b",
    re.IGNORECASE,
)
_SCANNED = [
    (re.compile(r"(?<=[A-Z])[l1](?=[A-Z]|\b)|\b[l1](?=[A-Z]{2})"), "I"),
    (re.compile(r"(?<=[A-Z])0(?=[A-Z])|\b0(?=[A-Z]{2})"), "O"),
]
_NUMBERED = re.compile(
    r"(?:(?:recipe\s+)?(?:no\.?|#)\s*\d+\s*[.):—–-]*\s*|\(?\d{1,2}[.)]\s+)(?=[A-Za-z])", re.IGNORECASE
)
_CARD = re.compile(
    r"\W*(?:print|pin|save|prep|cook|total|servings?|serves|yields?|makes|author|course|jump|rate)\b", re.IGNORECASE
)
_PART = PART_WORDS | {"for", "the", "to", "make"}
_OPENING = re.compile(r"(?P<title>[A-Z][^.:—\d]{2,60}?)\s*(?:\.\s*[—–-]+\s*|[—–]\s*|:\s+|\.\s+(?=[A-Z(]))")


def _never(content: str) -> bool:
    """Whether a line is something a title never is: the head of a letter, a byline, a button, a yield."""
    return bool(_NEVER_OPENING.match(content) or _NEVER_HOLDING.search(content))


def dishy(content: str) -> bool:
    """Whether words name a dish ("Plum Cake"), and are no sentence about one."""
    return bool(_DISH.search(content)) and not content.endswith(("!", "?", ":"))


def word_lines(lines: list[Line]) -> Counter[str]:
    """In how many lines each longer word stands, in small letters."""
    found = [set(_LONG_WORD.findall(line.text.lower())) for line in lines]
    return Counter(chain.from_iterable(found))


@lru_cache(maxsize=2048)
def capitals(content: str) -> bool:
    """Whether a line is set in capitals, a scanner's small l taken for I."""
    letters = sum(map(str.isalpha, content))
    return letters > 3 and sum(map(str.isupper, content)) >= 0.75 * letters


def _headline(content: str) -> bool:
    """Whether most longer words of a line have a capital."""
    words = _LONG_WORD.findall(content)
    return bool(words) and sum(word[0].isupper() for word in words) >= 0.7 * len(words)


def _unlikely(content: str) -> int:
    """How many things make a line unlikely as a title."""
    ends = _UNLIKELY_OPENING.match(content), _UNLIKELY_ENDING.search(content[-6:])
    return 2 - ends.count(None) + sum(pattern.search(content) is not None for pattern in _UNLIKELY_HOLDING)


def title_text(content: str) -> str:
    """The title in its line, without its number or another column; a scanner's slips in capitals mended.

    >>> title_text("Mrs. Teague          SOFT GlNGERBREAD"), title_text("No. 2. Ranger Mounds")
    ('SOFT GINGERBREAD', 'Ranger Mounds')
    """
    best = content.strip(" *#_=~|")
    if "   " in best or "\t" in best:
        cells = [cell for cell in re.split(r"\s{3,}|\t+", best) if re.search(r"[^\W\d_]{3}", cell)]
        best = max(cells, key=lambda cell: (dishy(cell), capitals(cell)), default=best)
    best = best[_NUMBERED.match(best).end() :] if _NUMBERED.match(best) else best  # type: ignore[union-attr]
    if capitals(best):
        for pattern, letter in _SCANNED:
            best = pattern.sub(letter, best)
    return best


def possible(line: Line) -> bool:
    """Whether a line can be a title at all."""
    content = line.text
    if not 2 < len(content) < 120 or line.amount or line.role == "skip" or line.kind or _never(content):
        return False
    return (
        len(content) < 61
        or not sentence(title_text(content))
        or (capitals(content) and len(SENTENCE.findall(content)) < 2)
    )


def _score(lines: list[Line], k: int, upto: int, counts: Mapping[str, int]) -> float:
    line = lines[k]
    content = line.text
    score = (
        2.0 * min(counts.get(content.lower(), 1), 2) + 4 * dishy(content) - 3 * line.bullet + line.gap + 2 * line.rule
    )
    caps = capitals(content)
    score += 1.5 * (caps or _headline(content))
    score -= 3 * _unlikely(content)
    score -= 4 * (not caps and instruction(content))
    if k > 0 and _PART.issuperset(_LOW_WORD.findall(content.lower())):
        score -= 6  # "Crust", "For the dough": a group of the list
    return score - (upto - k) / 60


def _page_score(lines: list[Line], k: int, words: Mapping[str, int]) -> float:
    """What a whole page says for a title: its words come back all over, a card's buttons and times stand below it."""
    own = set(_LONG_WORD.findall(lines[k].text.lower()))
    support = sum(min(words.get(word, 0), 8) for word in own) / (8 * len(own)) if own else 0.0
    card = any(line.role == "skip" and _CARD.match(line.text) for line in lines[k + 1 : k + 5])
    around = [*lines[max(k - 2, 0) : k], *lines[k + 1 : k + 3]]
    menu = len(around) > 3 and all(len(line.text) < 32 and not line.amount and line.role != "skip" for line in around)
    return 4 * support + 2 * card - 4 * (len(lines[k].text.split()) < 2) - 4 * menu


def title_above(
    lines: list[Line],
    upto: int,
    floor: int,
    counts: Callable[[], Mapping[str, int]],
    words: Callable[[], Mapping[str, int]] | None = None,
) -> tuple[str, int]:
    """The title that stands in lines[floor:upto], and the index of its line; ("", upto) where there is none.

    counts: tells how often each line stands in the paste (a page repeats its title), in small letters.
    words: of a whole page, tells in how many lines each longer word stands; None for a card or letter.
    Neither is asked where only one line can be the title.
    """
    near = [k for k in range(floor, upto) if possible(lines[k])]
    if not near:
        return "", upto
    if len(near) == 1:
        return title_text(lines[near[0]].text), near[0]
    card = upto - floor <= 8
    best = max(
        near,
        key=lambda k: (
            _score(lines, k, upto, counts())
            + (4.5 * (k == near[0]) if card else 2 * (k == 0 and words is None))
            + (_page_score(lines, k, words()) if words is not None else 0)
        ),
    )
    return title_text(lines[best].text), best


def prose_title(lines: list[Line]) -> tuple[str, int]:
    """The title of running prose, and how many of its lines stand before the text; ("", 0) where it has none."""
    for k, line in enumerate(lines[:4]):
        if _titles_prose(lines, k):
            return title_text(line.text), k + 1
        if len(line.text) > 120 and not _never(line.text):
            break
    opening = _OPENING.match(lines[0].text) if lines else None
    if (
        opening
        and dishy(opening["title"])
        and not WITH_UNIT.search(opening["title"])
        and not instruction(lines[0].text[: opening.end()])
    ):
        return opening["title"], 0
    return "", 0


def _titles_prose(lines: list[Line], k: int) -> bool:
    line = lines[k]
    content = line.text
    if len(content) >= 110 or k + 1 >= len(lines) or line.amount or _never(content):
        return False
    if re.match(r"[\dlIO]{1,3}\s{3}|.*\s{3,}(?:page\s*)?[\dlIO]+$", content) and not dishy(content):
        return False
    first = SENTENCE.split(content)[0]
    if capitals(first) and len(first) > 3:
        return True
    if SENTENCE.search(content.rstrip(".")) or WITH_UNIT.search(content):
        return False
    return lines[k + 1].gap or not lines[k + 1].text[:1].islower()
