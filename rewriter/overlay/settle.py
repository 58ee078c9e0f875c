"""A person's word on a line that a machine read: the line as it stands on the card, in the place of what was read.

>>> from rewriter.model import Answer
>>> told((Answer("card@3", "1/2 cup butter"), Answer("kind@0", "cookie")))
({3: '1/2 cup butter'}, (Answer(query='kind@0', value='cookie'),))
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from difflib import SequenceMatcher
from re import finditer

from rewriter.errors import Unusable
from rewriter.intake import Taken
from rewriter.model import Answer, Page, Word

MARK = "card@"


def told(answers: Iterable[Answer]) -> tuple[dict[int, str], tuple[Answer, ...]]:
    """Answers about lines of the card by their number (from 1), and the other answers.

    Raises Unusable where the number is none.
    """
    lines: dict[int, str] = {}
    others = []
    for answer in answers:
        if not answer.query.startswith(MARK):
            others.append(answer)
            continue
        number = answer.query.removeprefix(MARK)
        if not number.isdigit():
            raise Unusable(f'the answer "{answer.query}" names no line', "write it as --answer 'card@7=1/2 cup butter'")
        lines[int(number)] = " ".join(answer.value.split())
    return lines, tuple(others)


def settled(taken: Taken, lines: dict[int, str]) -> Taken:
    """What was taken, with some lines as a person says they are; each word keeps the place it has on the page.

    Raises Unusable where there is no such line.
    """
    text, pages = taken.text, taken.pages
    for number, words in sorted(lines.items(), reverse=True):
        old = text.split("\n")
        if not 1 <= number <= len(old):
            raise Unusable(f"the card has no line {number}", f"it has {len(old)}")
        start = sum(len(line) + 1 for line in old[: number - 1])
        end = start + len(old[number - 1])
        pages = tuple(_page(page, start, end, words) for page in pages)
        text = text[:start] + words + text[end:]
    return replace(taken, text=text, pages=pages)


def _page(page: Page, start: int, end: int, line: str) -> Page:
    """A page with one line's words said anew, and all behind them moved."""
    own = [word for word in page.words if start <= word.start < end]
    shift = len(line) - (end - start)
    moved = [replace(word, start=word.start + shift, end=word.end + shift) for word in page.words if word.start >= end]
    before = [word for word in page.words if word.start < start]
    return replace(page, words=(*before, *(_said(own, line, start) if own else ()), *moved))


def _said(own: list[Word], line: str, start: int) -> Iterator[Word]:
    """The words of a line, each where the word it was read as stood; sure, since a person said them."""
    new = [(found[0], start + found.start(), start + found.end()) for found in finditer(r"\S+", line)]
    matcher = SequenceMatcher(None, [word.text for word in own], [word for word, _, _ in new], autojunk=False)
    for _, a, b, c, d in matcher.get_opcodes():
        place = own[a:b] or own[max(a - 1, 0) : a] or own[:1]
        for index in range(c, d):
            words, first, last = new[index]
            old = place[min((index - c) * len(place) // max(d - c, 1), len(place) - 1)]
            yield replace(old, text=words, start=first, end=last, confidence=1.0)
