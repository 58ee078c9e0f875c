"""The lines of a paste: without bullets, their amounts seen, table rows cut to their columns, split lines joined.

>>> [line.text for line in lines_of("- 2 cups flour\\n\\n* 1 cup milk\\n")]
['2 cups flour', '1 cup milk']
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from rewriter.model import Amount
from rewriter.reading.numerals import NUMBER
from rewriter.reading.units import HEDGE, NEVER, UNIT, table, words_pattern

_LINE = re.compile(r"[^\r\n\x0b\x0c\x1c-\x1e\x85\u2028\u2029]+")
_BULLET = re.compile(
    r"[\s\ufeff\u200b-\u200f\u2060]*(?:(?:[*•·▢☐□◦▪●○‣∙\uf0b7–—+~×✓✔☑>|]|#(?=[\s#])|-(?=\s|\d|[a-zA-Z])|o(?=\s{1,3}\S)|\[\s?\])[\s\ufeff\u200b-\u200f\u2060]*)*"
)
_RULE = re.compile(r"[\s*•·~=_—–-]{3,}$")
STEP = re.compile(r"(?:step\s*)?\d{1,2}(?:\s?[.):](?:\s+(?=\d)|\s*(?=\D))|\s/\s+|\s{2,}(?=[A-Z]))", re.IGNORECASE)
_COUNTING = (
    "half halves one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen eighteen"
    " twenty thirty forty fifty sixty dozen couple"
).split()
_NUMBER_WORDS = [*_COUNTING, *"a an the pinch dash splash handful drizzle knob pinches dashes optional".split()]
_OPENING = re.compile(
    rf"(?:optional:?\s*|[A-Z][\w ]{{2,24}}:\s+)?[(\[]?(?:(?:{HEDGE}|~|the)\b\.?\s*)*"
    rf"(?:(?:{NUMBER})|an?\s+(?:{HEDGE})?\s*(?={UNIT})|(?:pinch|dash|splash|handful|drizzle|knob)(?:es|s)?\b)",
    re.IGNORECASE,
)
_MAY_OPEN = re.compile(
    rf"[^a-z]|(?:{HEDGE}|{words_pattern(_NUMBER_WORDS)})\b|[A-Z][\w ]{{2,24}}:\s|[lIYV][/\s\d]|&", re.IGNORECASE
)
_FIGURE_LAST = re.compile(rf"[\d½⅓⅔¼¾⅛⅜⅝⅞]|\b[lIYV]\b|\b(?:{words_pattern(_COUNTING)})\b", re.IGNORECASE)
_NOT_AMOUNT = re.compile(
    rf"\s*(?:[-–]\s*\d+\s*)?(?:(?:{NEVER})\b|[°º˚%:/]\s?\d|[°º˚%]|x\s*\d+\s*x|[.)]\s+[A-Z]|\s*(?:g|mg|kcal)\s+(?:carbs?|protein|fat|sugars?|fiber|sodium)\b|from\b|\+\s*$|$|,?\s*20\d\d)",
    re.IGNORECASE,
)
_SPEAKS = re.compile(r".{0,32}?\s(?:were|was|will|would|makes?|fills?|is\s+the|isn(?:'|’)t)\s", re.IGNORECASE)
WITH_UNIT = re.compile(rf"{NUMBER}[\s-]*(?:{UNIT})", re.IGNORECASE)
_TRAILING = re.compile(
    rf"[A-Za-z][^.!?;\d]{{1,48}}?(?:[\s,:|–-]|\.{{2,}})+(?:about\s+)?(?:{NUMBER})\s?(?:[-–]|to)?\s?(?:{NUMBER})?\s*(?:{UNIT})\.?(?:\s*\([^)]*\))?(?:[\s|]+[\d.]+\s?%)?[\s|]*$",
    re.IGNORECASE,
)
SENTENCE = re.compile(r"[.!?](?:\s|$)")
_CELL = re.compile(r"\s{3,}|\t+|\s*\|\s*")
_GAP = r"(?:\s{2,}|\s*\t\s*|\s*\|\s*|\s*\.{3,}\s*)"
_FIGURE = rf"(?:{NUMBER})(?:\s?(?:{UNIT}))?\.?(?:\s?\+\s?(?:{NUMBER})\s?(?:{UNIT})\.?)?"
_ROW = re.compile(
    rf"(?P<name>[^\W\d_][^|\t]{{1,46}}?){_GAP}(?P<amount>{_FIGURE})(?P<rest>(?:{_GAP}{_FIGURE}\s?%?)*)[\s|]*$",
    re.IGNORECASE,
)
_COLUMNS = re.compile(r"(?:\s{2}|\t|\||\.{3})\s*[\d½⅓⅔¼¾⅛]")
_COLUMN = re.compile(
    r"\b(?P<unit>grams?|gms?|g|kilograms?|kilos?|kg|ounces?|oz|pounds?|lbs?|ml)\b\.?|(?P<other>%|percent|weight|amounts?|quantity|qty|ingredients?|items?|baker(?:'|’)?s)",
    re.IGNORECASE,
)
_COLUMN_WORDS = re.compile(
    r"[\s|:%()'’.-]*(?:(?:grams?|gms?|g|kilograms?|kilos?|kg|ounces?|oz|pounds?|lbs?|ml|weight|amounts?|quantity|qty|ingredients?|items?|baker|bakers|s|percent(?:age)?|prep|notes?|for|final|dough|batter|formula|metric|us|volume|unit|\d+)\b[\s|:%()'’.-]*)*$",
    re.IGNORECASE,
)
_UNITS = {"g": "g", "k": "kg", "o": "oz", "p": "lb", "l": "lb", "m": "ml"}
_TOTAL = re.compile(r"(?:sub)?total\b", re.IGNORECASE)
_CLAUSE_CUT = re.compile(
    rf"[,;.](?=\s)\s*(?:and\s+)?(?=(?:(?:{HEDGE})\b\s*)?(?:(?:{NUMBER})\b|[½⅓⅔¼¾⅛⅜⅝⅞]|an?\s+(?:{UNIT})|pinch|dash))",
    re.IGNORECASE,
)
_JOINED_CUT = re.compile(
    rf"(?<![(/=x+&–-])(?<!\bor)(?<!\bplus)(?<!\band)(?<!\bless)(?<!about)(?<!\bto)\s+(?={NUMBER}\s*(?:{UNIT})\s)",
    re.IGNORECASE,
)
_PROSE_WORD = re.compile(r"\b(?:the|then|until|till|into|bake|beat|stir|mix|it)\b", re.IGNORECASE)
_DIGIT_AFTER = re.compile(r"[,;.]\s+\S{0,6}[\d½⅓⅔¼¾⅛]|[,;.]\s+(?:one|two|three|half|an?)\b")
_VERB = re.compile(r"(?:" + "|".join(table("layout")["verb"]["words"]) + r")\b", re.IGNORECASE)


@dataclass(slots=True)
class Line:
    """A line without its bullet; ``start``/``end`` in the paste. ``role``: heading, ingredient, skip or "".

    gap, rule: a blank line, a drawn line stands above. amount: it opens (a table row: closes) with an ingredient's amount.
    unit: the unit of its table column where the row itself has none ("g"), else "". cells: the ingredients it holds, where several.
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
    match = _OPENING.match(content) if _MAY_OPEN.match(content) else None
    if match and not _NOT_AMOUNT.match(content, match.end()):
        rest = content[match.end() :]
        if STEP.match(content) and _VERB.match(rest.lstrip(" .):/|")):
            return False
        if _SPEAKS.match(rest):
            return False
        return bool(re.search(r"[A-Za-z]", rest)) and not (len(rest) > 120 and len(SENTENCE.findall(rest)) > 2)
    return (
        content[-1:] in ".)%|abcdefghijklmnopqrstuvwxyz#CTG"
        and _FIGURE_LAST.search(content, max(0, len(content) - 40)) is not None
        and bool(_TRAILING.match(content))
    )


def _unnumbered(text: str, line: Line) -> None:
    """Drop "1." before an ingredient of a numbered list."""
    step = STEP.match(line.text)
    if step and opens_with_amount(line.text[step.end() :].lstrip()):
        line.start += len(line.text) - len(line.text[step.end() :].lstrip())
        line.text = text[line.start : line.end]


def find_amounts(text: str, lines: list[Line], named: Named) -> None:
    """Tell of each line whether it is an ingredient's by its amount: plain lines, rows of a table, several in one line."""
    for line in lines:
        if line.text[:1].isdigit():
            _unnumbered(text, line)
        line.amount = opens_with_amount(line.text)
        if not line.amount or len(line.text) > 14:
            line.cells = cells_of(text, line, named)
            line.amount = line.amount or len(line.cells) > 2
        if _FOLIO.match(line.text) and not named(line):
            line.amount, line.cells = False, []
    _tables(text, lines)
    _numbered(lines)
    _wrapped(lines)
    _rejoin(text, lines)


def _header(line: Line) -> tuple[bool, str]:
    """Whether a line heads the columns of a table, and the unit of its first column of figures ("" where none)."""
    if len(line.text) > 70 or not _COLUMN_WORDS.match(line.text.replace("’s", "").replace("'s", "")):
        found = re.search(r"\S\s{4,}(?P<columns>\S.*)$", line.text) if len(line.text) < 90 else None
        if found is None or not _COLUMN_WORDS.match(found["columns"]):
            return False, ""
        match = _COLUMN.search(found["columns"])
        return match is not None, _UNITS[match["unit"][0].lower()] if match and match["unit"] else ""
    units = [match["unit"] for match in _COLUMN.finditer(line.text) if match["unit"]]
    if not units and not ("  " in line.text or "|" in line.text or "\t" in line.text):
        return False, ""
    return bool(_COLUMN.search(line.text)), _UNITS[units[0][0].lower()] if units else ""


def _tables(text: str, lines: list[Line]) -> None:
    """Rows of a table of figures: the name, its weight, and a percentage that measures nothing."""
    rows = [_ROW.match(line.text) if _COLUMNS.search(line.text) else None for line in lines]
    if not any(rows):
        return
    unit = ""
    for k, line in enumerate(lines):
        row = rows[k]
        if row is None:
            headed, column = _header(line) if not line.amount else (False, "")
            if headed:
                unit = column
                if k + 1 < len(lines) and rows[k + 1] is not None and not (line.gap and _named_columns(line)):
                    line.role = "skip"
            continue
        if _TOTAL.match(line.text):
            line.role, line.amount = "skip", False
            continue
        bare = row["amount"][-1:].isdigit()
        beside = any(0 <= j < len(rows) and rows[j] is not None for j in (k - 1, k + 1))
        if bare and not (beside and (unit or len(row["rest"]) > 1 or _deep(line))):
            continue
        line.amount, line.cells, line.unit = True, [], unit if bare else ""
        if re.search(r"\d", row["rest"]) and not re.search(r"[a-z]", row["rest"], re.IGNORECASE) and (unit or not bare or "%" in row["rest"]):
            line.end = line.start + row.end("amount")
            line.text = text[line.start : line.end]


def _named_columns(line: Line) -> bool:
    """Whether the heading of a group stands in the same line as its columns ("FINAL DOUGH     g    %")."""
    first = re.split(r"\s{4,}|\|", line.text)[0]
    return not _COLUMN_WORDS.match(first)


def _deep(line: Line) -> bool:
    return "   " in line.text


_FOLIO = re.compile(r"[\dlIO]{1,3}\s{4,}[A-Z]")
_STEP_NUMBER = re.compile(r"(?:step\s+)?(?P<number>\d{1,2})(?:(?:\s?[.):|/]|\s{2,})\s*(?=[A-Z“\"])|\s(?=" + _VERB.pattern + "))", re.IGNORECASE)


def _numbered(lines: list[Line]) -> None:
    """Lines that count 1, 2, 3 and open no amount after it are steps."""
    run: list[Line] = []
    for line in lines:
        step = _STEP_NUMBER.match(line.text) if line.text[:1].isdigit() else None
        if step is None or (line.amount and opens_with_amount(line.text[step.end() :])):
            continue
        number = int(step["number"])
        if number == 1:
            run = [line]
        elif number == len(run) + 1:
            run.append(line)
        if len(run) > 2 and run[-1] is line:
            for one in run:
                one.amount, one.cells = False, []


_RUNNING = re.compile(r"[a-z]{3}[.!?]\s+[A-Z][a-z]|[a-z]{3};\s")


def _wrapped(lines: list[Line]) -> None:
    """A figure that only stands first in its line because the text above was wrapped opens no ingredient."""
    running, ended = False, True
    for line in lines:
        if line.gap or line.bullet:
            running, ended = False, True
        if line.amount and running and not ended:
            line.amount, line.cells = False, []
        elif line.amount:
            running = False
        if not line.amount:
            text = line.text
            running = running or (len(text) > 30 and bool(_VERB.match(text) or (len(text) > 38 and _RUNNING.search(text))))
        ended = line.text[-1:] in ".:!?"


_UNFINISHED = re.compile(r"(?:[a-z]-|,|\(|\b(?:or|and|with|of|for|the|in))$")


def _rejoin(text: str, lines: list[Line]) -> None:
    """Join the second half of a broken ingredient line ("1 cup butter-" / "milk") to its first."""
    k = 0
    while k + 1 < len(lines):
        line, following = lines[k], lines[k + 1]
        broken = line.amount and not line.cells and not following.amount and not following.gap and not following.bullet
        if broken and _UNFINISHED.search(line.text) and following.text[:1].islower() and len(following.text) < 50:
            line.end = following.end
            line.text = text[line.start : line.end]
            del lines[k + 1]
            if len(line.text) > 160:
                k += 1
        else:
            k += 1


def cells_of(text: str, line: Line, named: Named) -> list[Line]:
    """The ingredients of a line that holds several: a two-column card, or a list run on ("2 c flour, 1 c sugar"); else []."""
    if "   " in line.text or "\t" in line.text or "|" in line.text:
        cells = _cut(text, line, _CELL)
        if sum(cell.amount and bool(re.search(r"[a-z]{3}", WITH_UNIT.sub("", cell.text), re.IGNORECASE)) for cell in cells) > 1:
            return cells
    if not line.amount and (len(line.text) > 700 or _PROSE_WORD.search(line.text)):
        return []
    if not _DIGIT_AFTER.search(line.text):
        return _run_together(text, line, named)
    cells = _cut(text, line, _CLAUSE_CUT)
    if len(cells) > 1 and all(cell.amount and (named(cell) or _more_than_measure(cell)) for cell in cells):
        return cells if any(named(cell) for cell in cells) else []
    cells = _cut(text, line, re.compile(r"\s*;\s*"))
    good = [cell for cell in cells if named(cell) and (cell.amount or re.search(r"\d", cell.text))]
    return cells if len(good) > 2 and len(good) >= len(cells) - 1 else []


def _more_than_measure(cell: Line) -> bool:
    """Whether a stretch that opens with a measure names something too."""
    measure = WITH_UNIT.match(cell.text)
    return measure is not None and bool(re.search(r"[^\W\d_]{4}", cell.text[measure.end() :]))


def _run_together(text: str, line: Line, named: Named) -> list[Line]:
    """A line in which a scan ran several ingredients together ("2 cups flour 1 tsp soda 1/2 tsp salt")."""
    if not line.amount or len(line.text) < 30 or not re.search(r"[a-z]\s+\d", line.text):
        return []
    cells = _cut(text, line, _JOINED_CUT)
    return cells if len(cells) > 1 and all(cell.amount and named(cell) for cell in cells) else []


def _cut(text: str, line: Line, pattern: re.Pattern[str]) -> list[Line]:
    cells, at = [], line.start
    for gap in [*pattern.finditer(text, line.start, line.end), None]:
        stop = gap.start() if gap else line.end
        while stop > at and text[stop - 1] in " \t;":
            stop -= 1
        if stop > at:
            part = text[at:stop]
            cells.append(Line(at, stop, part, line.gap and not cells, amount=opens_with_amount(part)))
        at = gap.end() if gap else stop
    return cells


def with_units(amounts: Sequence[Amount], lines: Iterable[Line]) -> Sequence[Amount]:
    """The amounts of a text, those without a unit in a table's rows given the unit at the head of their column."""
    wanting = [line for line in lines if line.unit]
    if not wanting:
        return amounts
    starts = [line.start for line in wanting]
    out = []
    for amount in amounts:
        k = bisect_right(starts, amount.start) - 1
        inside = k >= 0 and amount.end <= wanting[k].end and not amount.unit
        out.append(replace(amount, unit=wanting[k].unit) if inside else amount)
    return out
