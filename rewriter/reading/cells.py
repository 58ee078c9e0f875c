"""Lines that hold several ingredients: two-column cards, lists run on, lines that a scan ran together.

>>> from rewriter.reading.rows import lines_of
>>> (line,) = lines_of(text := "2 c. flour, 1 t. soda, 1/2 t. salt")
>>> [cell.text for cell in cells_of(text, line, lambda cell: True)]
['2 c. flour', '1 t. soda', '1/2 t. salt']
"""

from __future__ import annotations

import re
from functools import lru_cache

from rewriter.reading.numerals import NUMBER
from rewriter.reading.rows import WITH_UNIT, Line, Named, columned, opens_with_amount
from rewriter.reading.units import HEDGE, UNIT

_CELL = re.compile(r"\s{3,}|\t+|\s*\|\s*")
_PROSE_WORD = re.compile(r"\b(?:the|then|until|till|into|bake|beat|stir|mix|it)\b", re.IGNORECASE)
_DIGIT_AFTER = re.compile(r"[,;.]\s+\S{0,6}[\d½⅓⅔¼¾⅛]|[,;.]\s+(?:one|two|three|half|an?)\b")
_SECOND = re.compile(r"(?:\s{3}|\t|\|)\s*[\d½⅓⅔¼¾⅛lIYV]")
_SEMICOLON = re.compile(r"\s*;\s*")
_RUN_ON = re.compile(r"[a-z]\s+\d")
_WORDED = re.compile(r"[^\W\d_]{3}")
_LONGER = re.compile(r"[^\W\d_]{4}")
_DIGIT = re.compile(r"\d")


@lru_cache(maxsize=1)
def _clause_cut() -> re.Pattern[str]:
    """Where a list run on with commas is cut; compiled when one is first met."""
    return re.compile(
        rf"[,;](?=\s)\s*(?:and\s+)?(?=(?:(?:{HEDGE})\b\s*)?(?:(?:{NUMBER})\b|[½⅓⅔¼¾⅛⅜⅝⅞]|an?\s+(?:{UNIT})|pinch|dash))",
        re.IGNORECASE,
    )


@lru_cache(maxsize=1)
def _joined_cut() -> re.Pattern[str]:
    """Where a line that a scan ran together is cut; compiled when one is first met."""
    return re.compile(
        rf"(?=\s)(?<![(/=x+&–-])(?<!\bor)(?<!\bplus)(?<!\band)(?<!\bless)(?<!about)(?<!\bto)\s+(?={NUMBER}\s*(?:{UNIT})\s)",
        re.IGNORECASE,
    )


def cells_of(text: str, line: Line, named: Named) -> list[Line]:
    """The ingredients of a line that holds several: a two-column card, a list run on ("2 c flour, 1 c salt")."""
    content = line.text
    if len(content) > 700:
        return []
    if columned(content) and _SECOND.search(content):
        cells = _cut(text, line, _CELL)
        if sum(cell.amount and _WORDED.search(WITH_UNIT.sub("", cell.text)) is not None for cell in cells) > 1:
            return cells
    commas = len(_DIGIT_AFTER.findall(content)) if "," in content or "." in content or ";" in content else 0
    if not commas:
        return _run_together(text, line, named) if line.amount and len(content) >= 30 else []
    if commas + line.amount < 2 or (not line.amount and _PROSE_WORD.search(content)):
        return []
    cells = _cut(text, line, _clause_cut())
    if len(cells) > 1 and all(cell.amount and (named(cell) or _more_than_measure(cell)) for cell in cells):
        return cells if any(named(cell) for cell in cells) else []
    if content.count(";") < 2:
        return []
    cells = _cut(text, line, _SEMICOLON)
    good = [cell for cell in cells if named(cell) and (cell.amount or _DIGIT.search(cell.text))]
    return cells if len(good) > 2 and len(good) >= len(cells) - 1 else []


def _more_than_measure(cell: Line) -> bool:
    """Whether a stretch that opens with a measure names something too."""
    measure = WITH_UNIT.match(cell.text)
    return measure is not None and _LONGER.search(cell.text, measure.end()) is not None


def _run_together(text: str, line: Line, named: Named) -> list[Line]:
    """A line in which a scan ran several ingredients together ("2 cups flour 1 tsp soda 1/2 tsp salt")."""
    if not _RUN_ON.search(line.text):
        return []
    cells = _cut(text, line, _joined_cut())
    return cells if len(cells) > 1 and all(cell.amount and named(cell) for cell in cells) else []


def _cut(text: str, line: Line, pattern: re.Pattern[str]) -> list[Line]:
    """The stretches of a line between the gaps that a pattern finds; none where it finds no gap."""
    gaps = list(pattern.finditer(text, line.start, line.end))
    cells: list[Line] = []
    at = line.start
    for gap in [*gaps, None] if gaps else []:
        stop = gap.start() if gap else line.end
        while stop > at and text[stop - 1] in " \t;":
            stop -= 1
        if stop > at:
            part = text[at:stop]
            cells.append(Line(at, stop, part, line.gap and not cells, amount=opens_with_amount(part)))
        at = gap.end() if gap else stop
    return cells
