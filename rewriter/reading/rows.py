r"""The lines of a paste, without their bullets, and which of them open with an ingredient's amount.

>>> [line.text for line in lines_of("- 2 cups flour\n\n* 1 cup milk\n")]
['2 cups flour', '1 cup milk']
"""

from __future__ import annotations

import re
import string
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

from rewriter.reading.numerals import NUMBER
from rewriter.reading.openings import may_open, stems
from rewriter.reading.units import HEDGE, LAST_WORDS, NEVER, NEVER_WORDS, UNIT, table, words_pattern

_LINE = re.compile(r"[^\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]+")
_BULLET = re.compile(
    r"[\s\ufeff\u200b-\u200f\u2060]*(?:(?:[*•·▢☐□◦▪●○‣∙\uf0b7–—+~×✓✔☑>|]|#(?=[\s#])|-(?=\s|\d|[a-zA-Z])|o(?=\s{1,3}\S)|\[\s?\])[\s\ufeff\u200b-\u200f\u2060]*)*"
)
_BARE = frozenset(string.ascii_letters + string.digits) - {"o"}
"""What opens no bullet and no drawn rule."""
_RULE = re.compile(r"[\s*•·~=_—–-]{3,}$")
STEP = re.compile(
    r"(?:step\s*)?\d{1,2}(?:\s?[.):](?:\s+(?=\d)|\s*(?=\D))|\s/\s+|\s?\|\s*(?=[A-Z])|\s{2,}(?=[A-Z]))", re.IGNORECASE
)
_COUNTING = (
    "half halves one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
    " eighteen twenty thirty forty fifty sixty dozen couple"
).split()
_NUMBER_WORDS = [*_COUNTING, *"a an the pinch dash splash handful drizzle knob pinches dashes optional".split()]
_PARTS = "frosting icing glaze filling topping streusel ganache".split()
_DASHED = rf"(?:{'|'.join(_PARTS)})\s+[–—-]\s"
_OPENING = re.compile(
    rf"(?:optional:?\s*|[A-Z][\w ]{{2,24}}(?::|\.{{4,}})\s+|{_DASHED})?[(\[]?(?:(?:{HEDGE}|~|the)\b\.?\s*)*"
    rf"(?:(?:{NUMBER})|[lI](?=\s\(?\d)|an?\s+(?:{HEDGE})?\s*(?={UNIT})|(?:pinch|dash|splash|handful|drizzle|knob)(?:es|s)?\b)",
    re.IGNORECASE,
)
_PLAINLY = re.compile(
    r"(?:\d{1,3}(?:\s?[½⅓⅔¼¾⅛]|\s\d/\d)?|\d/\d|[½⅓⅔¼¾⅛])\s?(?:cups?|c\.?|[Tt]ablespoons?|[Tt]easpoons?|[Tt]bsp\.?|[Tt]sp\.?|ounces?|oz\.?|pounds?|lbs?\.?)\s(?!(?:carb|prot|fat|sug|fib|sod|w|m|f|is)[a-z]*\b)[a-z]{3,}"
)
"""The commonest opening of all, seen at a glance: "1 1/2 cups flour"."""
_COUNTED = re.compile(
    r"(?:\d{1,3}(?:\s?[½⅓⅔¼¾⅛]|[ -]\d/\d)|\d{1,4}|\d/\d|[½⅓⅔¼¾⅛])"
    r"(?:(?P<rest> ?(?:g|ml)(?:/| (?!\s|(?i:carb|prot|fat|sug|fib|sod)))|(?<=\d\d) ?g sugar"
    r"|(?<!\d\d\d) [cCtT]\.? (?!\s)| (?P<word>[A-Za-z]{2,})\b)|[.)]\s+[A-Za-z])"
)
"""A figure and one word after it ("3 large eggs", "50g butter"), which must be none of the following; or a step."""
_UNCOUNTED = NEVER_WORDS | frozenset("from dozen doz couple and kcal mg".split())
_MAY_OPEN = re.compile(
    rf"[^a-z]|(?:{HEDGE}|{words_pattern(_NUMBER_WORDS)})\b|[A-Z][\w ]{{2,24}}(?::|\.{{4,}})\s|{_DASHED}"
    r"|[lIYV][/\s\d]|&",
    re.IGNORECASE,
)
_MAY_OPEN_STEMS = stems([*table("units")["hedge"]["words"], *_NUMBER_WORDS, *_PARTS])
_FIGURE_LAST = re.compile(rf"[\d½⅓⅔¼¾⅛⅜⅝⅞]|\b[lIYV]\b|\b(?:{words_pattern(_COUNTING)})\b", re.IGNORECASE)
_NOT_AMOUNT = re.compile(
    rf"[\s-]*(?:[-–]\s*\d+\s*)?(?:(?:{NEVER})\b|[°º˚%:/]\s?\d|[°º˚%]|x\s*\d+\s*x|[.)]\s+[A-Z]|\s*(?:g|mg|kcal)\s+(?:carbs?|protein|fat|fiber|sodium)\b|(?<!\d\d)(?<!\d\d\s)(?:g|mg)\s+sugars?\b|(?<=\d\d\d)\s?[CF]\b|from\b|\+\s*$|$|,?\s*20\d\d)",
    re.IGNORECASE,
)
_SPEAKS = re.compile(r".{0,32}?\s(?:were|was|will|would|makes?|fills?|is\s+the|isn(?:'|’)t)\s", re.IGNORECASE)
WITH_UNIT = re.compile(rf"{NUMBER}[\s-]*(?:{UNIT})", re.IGNORECASE)
SENTENCE = re.compile(r"[.!?](?:\s|$)")
VERBS: tuple[str, ...] = tuple(table("layout")["verb"]["words"])
VERB = re.compile(r"(?:" + "|".join(VERBS) + r")\b", re.IGNORECASE)
_VERB_STEMS = stems(VERBS)
_COLUMNED = re.compile(r"\s{3}|\t|\|")
_LETTER = re.compile(r"[A-Za-z]")


@lru_cache(maxsize=1)
def _trailing() -> re.Pattern[str]:
    """A line with its amount after the name ("flour, 2 cups"); compiled when one may be met."""
    return re.compile(
        rf"[A-Za-z][^.!?;\d]{{1,48}}?(?:[\s,:|–-]+(?:\.{{2,}}[\s.]*)?|\.{{2,}}[\s.]*)(?:about\s+)?(?:{NUMBER})\s?(?:[-–]|to)?\s?(?:{NUMBER})?\s*(?:{UNIT})\.?(?:\s*\([^)]*\))?(?:[\s|]+[\d.]+\s?%)?[\s|]*$",
        re.IGNORECASE,
    )


@dataclass(slots=True)
class Line:
    """A line without its bullet; ``start``/``end`` in the paste. ``role``: heading, ingredient, skip or "".

    gap, rule: a blank line, a drawn line stands above. amount: it measures an ingredient.
    unit: the unit of its table column where the row itself has none ("g"), else "".
    cells: the ingredients it holds, where several.
    kind: what it heads ("ingredients", "method", "notes", "end"), else "".
    """

    start: int
    end: int
    text: str
    gap: bool = False
    role: str = ""
    amount: bool = False
    bullet: bool = False
    rule: bool = False
    unit: str = ""
    kind: str = ""
    cells: list[Line] = field(default_factory=list)


Named = Callable[[Line], bool]


def lines_of(text: str, start: int = 0, end: int | None = None) -> list[Line]:
    """The non-blank lines of the text without bullets, numbers kept; drawn rules are told by the line below them."""
    lines: list[Line] = []
    last, rule = start, False
    for match in _LINE.finditer(text, start, len(text) if end is None else end):
        first, stop = match.span()
        begin = first
        if text[first] not in _BARE:
            begin = _BULLET.match(text, first, stop).end()  # type: ignore[union-attr]
            if _RULE.match(text, first, stop):
                rule = rule or match[0].strip() != ""
                continue
        content = text[begin:stop].rstrip()
        if not content:
            continue
        gap = rule or not lines or (first - last > 1 and "\n" in text[last:first].replace("\r\n", "\n")[1:])
        bullet = begin > first and not text[first:begin].isspace()
        lines.append(Line(begin, begin + len(content), content, gap, "", False, bullet, rule))
        last, rule = stop, False
    return lines


def opens_with_verb(content: str) -> bool:
    """Whether a line opens with a word that tells what to do ("Mix", "Bake").

    >>> opens_with_verb("BAKE AT 350"), opens_with_verb("Baked beans")
    (True, False)
    """
    return may_open(content, _VERB_STEMS) and VERB.match(content) is not None


def columned(content: str) -> bool:
    """Whether a line has a gap wide enough to part two columns."""
    if content.isascii():
        return "   " in content or "\t" in content or "|" in content
    return _COLUMNED.search(content) is not None


def opens_with_amount(content: str) -> bool:
    """Whether a line opens (or, in a table, closes) with an ingredient's amount.

    >>> opens_with_amount("1½ cups flour"), opens_with_amount("20 minutes"), opens_with_amount("Flour ... 2 cups")
    (True, False, True)
    """
    if len(content) > 260:
        return False
    if content[:1] in "0123456789½⅓⅔¼¾⅛":
        if _PLAINLY.match(content) and len(content) < 60:
            return True
        counted = _COUNTED.match(content)
        if counted and counted["rest"] is None:
            return _closes_with_amount(content)
        if counted and (counted["word"] or "").lower() not in _UNCOUNTED:
            return _measures(content[counted.start("rest") :])
    match = _OPENING.match(content) if _may_open(content) else None
    if match and not _NOT_AMOUNT.match(content, match.end()):
        rest = content[match.end() :]
        if STEP.match(content) and opens_with_verb(rest.lstrip(" .):/|")):
            return False
        return _LETTER.search(rest) is not None and _measures(rest)
    return _closes_with_amount(content)


def _may_open(content: str) -> bool:
    """Whether a line may open with an amount, after a label or not."""
    if not may_open(content, _MAY_OPEN_STEMS) and ":" not in content[:28] and "...." not in content[:32]:
        return False
    return _MAY_OPEN.match(content) is not None


def _measures(rest: str) -> bool:
    """Whether what stands after a figure is something that is measured, no statement about it."""
    return not _SPEAKS.match(rest) and not (len(rest) > 120 and len(SENTENCE.findall(rest)) > 2)


def _closes_with_amount(content: str) -> bool:
    """Whether a line is a name with its amount after it ("flour, 2 cups")."""
    if not content[:1].isalpha() or len(content) >= 110 or content[-1] not in ".)%|abcdefghijklmnopqrstuvwxyz#CTG":
        return False
    last = content.rpartition(" ")[2].rstrip(".")
    if last[-1:].isdecimal() or (last.isalpha() and last.isascii() and last.lower() not in LAST_WORDS):
        return False
    return _FIGURE_LAST.search(content, max(0, len(content) - 32)) is not None and bool(_trailing().match(content))
