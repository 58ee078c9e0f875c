r"""The lines of a paste, without their bullets, and which of them open with an ingredient's amount.

>>> [line.text for line in lines_of("- 2 cups flour\n\n* 1 cup milk\n")]
['2 cups flour', '1 cup milk']
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache

from rewriter.reading.numerals import NUMBER
from rewriter.reading.units import HEDGE, NEVER, UNIT, table, words_pattern

_LINE = re.compile(r"[^\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]+")
_BULLET = re.compile(
    r"[\s\ufeff\u200b-\u200f\u2060]*(?:(?:[*•·▢☐□◦▪●○‣∙\uf0b7–—+~×✓✔☑>|]|#(?=[\s#])|-(?=\s|\d|[a-zA-Z])|o(?=\s{1,3}\S)|\[\s?\])[\s\ufeff\u200b-\u200f\u2060]*)*"
)
_RULE = re.compile(r"[\s*•·~=_—–-]{3,}$")
STEP = re.compile(
    r"(?:step\s*)?\d{1,2}(?:\s?[.):](?:\s+(?=\d)|\s*(?=\D))|\s/\s+|\s?\|\s*(?=[A-Z])|\s{2,}(?=[A-Z]))", re.IGNORECASE
)
_COUNTING = (
    "half halves one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
    " eighteen twenty thirty forty fifty sixty dozen couple"
).split()
_NUMBER_WORDS = [*_COUNTING, *"a an the pinch dash splash handful drizzle knob pinches dashes optional".split()]
_DASHED = r"(?:frosting|icing|glaze|filling|topping|streusel|ganache)\s+[–—-]\s"
_OPENING = re.compile(
    rf"(?:optional:?\s*|[A-Z][\w ]{{2,24}}:\s+|{_DASHED})?[(\[]?(?:(?:{HEDGE}|~|the)\b\.?\s*)*"
    rf"(?:(?:{NUMBER})|[lI](?=\s\(?\d)|an?\s+(?:{HEDGE})?\s*(?={UNIT})|(?:pinch|dash|splash|handful|drizzle|knob)(?:es|s)?\b)",
    re.IGNORECASE,
)
_PLAINLY = re.compile(
    r"(?:\d{1,3}(?:\s?[½⅓⅔¼¾⅛]|\s\d/\d)?|\d/\d|[½⅓⅔¼¾⅛])\s?(?:cups?|c\.?|[Tt]ablespoons?|[Tt]easpoons?|[Tt]bsp\.?|[Tt]sp\.?|ounces?|oz\.?|pounds?|lbs?\.?)\s(?!(?:carb|prot|fat|sug|fib|sod|w|m|f|is)[a-z]*\b)[a-z]{3,}"
)
"""The commonest opening of all, seen at a glance: "1 1/2 cups flour"."""
_MAY_OPEN = re.compile(
    rf"[^a-z]|(?:{HEDGE}|{words_pattern(_NUMBER_WORDS)})\b|[A-Z][\w ]{{2,24}}:\s|{_DASHED}|[lIYV][/\s\d]|&",
    re.IGNORECASE,
)
_FIGURE_LAST = re.compile(rf"[\d½⅓⅔¼¾⅛⅜⅝⅞]|\b[lIYV]\b|\b(?:{words_pattern(_COUNTING)})\b", re.IGNORECASE)
_NOT_AMOUNT = re.compile(
    rf"[\s-]*(?:[-–]\s*\d+\s*)?(?:(?:{NEVER})\b|[°º˚%:/]\s?\d|[°º˚%]|x\s*\d+\s*x|[.)]\s+[A-Z]|\s*(?:g|mg|kcal)\s+(?:carbs?|protein|fat|fiber|sodium)\b|(?<!\d\d)(?<!\d\d\s)(?:g|mg)\s+sugars?\b|(?<=\d\d\d)\s?[CF]\b|from\b|\+\s*$|$|,?\s*20\d\d)",
    re.IGNORECASE,
)
_SPEAKS = re.compile(r".{0,32}?\s(?:were|was|will|would|makes?|fills?|is\s+the|isn(?:'|’)t)\s", re.IGNORECASE)
WITH_UNIT = re.compile(rf"{NUMBER}[\s-]*(?:{UNIT})", re.IGNORECASE)
SENTENCE = re.compile(r"[.!?](?:\s|$)")
VERB = re.compile(r"(?:" + "|".join(table("layout")["verb"]["words"]) + r")\b", re.IGNORECASE)

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
        begin = _BULLET.match(text, match.start(), match.end()).end()  # type: ignore[union-attr]
        stop = match.end()
        while stop > begin and text[stop - 1].isspace():
            stop -= 1
        if _RULE.match(text, match.start(), match.end()):
            rule = rule or match[0].strip() != ""
            continue
        if stop <= begin:
            continue
        gap = "\n" in text[last : match.start()].replace("\r\n", "\n")[1:] or not lines
        bullet = bool(text[match.start() : begin].strip())
        lines.append(Line(begin, stop, text[begin:stop], gap or rule, bullet=bullet, rule=rule))
        last, rule = match.end(), False
    return lines


def opens_with_amount(content: str) -> bool:
    """Whether a line opens (or, in a table, closes) with an ingredient's amount.

    >>> opens_with_amount("1½ cups flour"), opens_with_amount("20 minutes"), opens_with_amount("Flour ... 2 cups")
    (True, False, True)
    """
    if len(content) > 260:
        return False
    if _PLAINLY.match(content) and len(content) < 60:
        return True
    match = _OPENING.match(content) if _MAY_OPEN.match(content) else None
    if match and not _NOT_AMOUNT.match(content, match.end()):
        rest = content[match.end() :]
        if STEP.match(content) and VERB.match(rest.lstrip(" .):/|")):
            return False
        if _SPEAKS.match(rest):
            return False
        return _LETTER.search(rest) is not None and not (len(rest) > 120 and len(SENTENCE.findall(rest)) > 2)
    return (
        len(content) < 110
        and content[-1:] in ".)%|abcdefghijklmnopqrstuvwxyz#CTG"
        and _FIGURE_LAST.search(content, max(0, len(content) - 32)) is not None
        and bool(_trailing().match(content))
    )
