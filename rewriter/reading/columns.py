r"""Rows of a table of figures: a bakery's formula with its percentages, a card with its amounts in columns.

>>> from rewriter.reading.rows import lines_of
>>> lines = lines_of(text := "                 grams    %\nFlour            1,000  100\nWater              620   62")
>>> find_rows(text, lines)
>>> [(line.text, line.unit) for line in lines if line.amount]
[('Flour            1,000', 'g'), ('Water              620', 'g')]
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from rewriter.model import Amount
from rewriter.reading.numerals import NUMBER
from rewriter.reading.rows import Line, opens_with_amount
from rewriter.reading.units import UNIT

_GAP = r"(?:\s{2,}|\s*\t\s*|\s*\|\s*|\s*\.{3,}\s*)"
_FIGURE = rf"(?:{NUMBER})(?:\s?(?:{UNIT}))?\.?(?:\s?\+\s?(?:{NUMBER})\s?(?:{UNIT})\.?)?"
_COLUMNS = r"(?=[\s|.])\s*(?:\s{2}|\t|\||\.{3})[\s.]*[\d½⅓⅔¼¾⅛]"
_NAME = re.compile(rf"[^\W\d_](?!{_COLUMNS})[^|\t]{{1,46}}?(?={_COLUMNS})")
"""What stands before the first column of figures."""
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
_LETTERS = re.compile(r"[a-z]", re.IGNORECASE)
_HEAD = re.compile(r"\S\s{4,}(?P<columns>\S.*)$")


@lru_cache(maxsize=1)
def _figures() -> re.Pattern[str]:
    """The figures of a row after its name; compiled when a card first has columns, for most have none."""
    return re.compile(
        rf"{_GAP}(?P<amount>{_FIGURE})(?P<rest>(?:{_GAP}{_FIGURE}\s?%?)*)[\s|]*$",
        re.IGNORECASE,
    )


@dataclass(slots=True)
class _Row:
    amount: str
    amount_end: int
    rest: str


def _gapped(content: str) -> bool:
    """Whether words hold what may part columns."""
    return "  " in content or "|" in content or "\t" in content or "..." in content


def _row(line: Line) -> _Row | None:
    content = line.text
    if len(content) > 160 or content[0].isdecimal():
        return None
    if not _gapped(content):
        return None
    name = _NAME.match(content)
    match = _figures().match(content, name.end()) if name else None
    return _Row(match["amount"], match.end("amount"), match["rest"]) if match else None


def find_rows(text: str, lines: list[Line]) -> None:
    """Mark the rows of tables: the name, its amount, and a percentage that measures nothing, which is cut off."""
    if not _gapped(text):
        return
    rows = [_row(line) for line in lines]
    if not any(rows):
        return
    unit = ""
    for k, line in enumerate(lines):
        row = rows[k]
        if row is None:
            headed, column = _header(line) if len(line.text) < 90 else (False, "")
            if headed and not opens_with_amount(line.text):
                unit = column
                if k + 1 < len(lines) and rows[k + 1] is not None and not (line.gap and _names_group(line)):
                    line.role = "skip"
        elif _TOTAL.match(line.text):
            line.role, line.amount = "skip", False
        else:
            beside = any(0 <= j < len(rows) and rows[j] is not None for j in (k - 1, k + 1))
            _mark(text, line, row, unit, beside)


def _mark(text: str, line: Line, row: _Row, unit: str, beside: bool) -> None:
    """Mark one row; a bare figure needs rows beside it and a column to stand in."""
    bare = row.amount[-1:].isdigit()
    if bare and not (beside and (unit or len(row.rest) > 1 or "   " in line.text)):
        return
    line.amount, line.cells, line.unit = True, [], unit if bare else ""
    percentages = bool(row.rest.strip(" |\t")) and not _LETTERS.search(row.rest)
    if percentages and (unit or not bare or "%" in row.rest):
        line.end = line.start + row.amount_end
        line.text = text[line.start : line.end]


def _header(line: Line) -> tuple[bool, str]:
    """Whether a line heads the columns of a table, and the unit of its first column of figures ("" where none)."""
    columns = line.text
    if len(columns) > 70 or not _COLUMN_WORDS.match(columns.replace("’s", "").replace("'s", "")):
        found = _HEAD.search(columns)
        if found is None or not _COLUMN_WORDS.match(found["columns"]):
            return False, ""
        columns = found["columns"]
    elif not ("  " in columns or "|" in columns or "\t" in columns) and not any(
        match["unit"] for match in _COLUMN.finditer(columns)
    ):
        return False, ""
    units = [match["unit"] for match in _COLUMN.finditer(columns) if match["unit"]]
    return bool(_COLUMN.search(columns)), _UNITS[units[0][0].lower()] if units else ""


def _names_group(line: Line) -> bool:
    """Whether the heading of a group stands in the same line as its columns ("FINAL DOUGH     g    %")."""
    return not _COLUMN_WORDS.match(re.split(r"\s{4,}|\|", line.text)[0])


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
