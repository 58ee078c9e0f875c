r"""Which lines measure ingredients: plain lines, rows of a table, several in one line; not steps or wrapped text.

>>> from rewriter.reading.rows import lines_of
>>> lines = lines_of(text := "1. Beat 2 eggs\n2. Add sugar\n3. Bake\n1 cup flour")
>>> find_amounts(text, lines, lambda line: True)
>>> [line.amount for line in lines]
[False, False, False, True]
"""

from __future__ import annotations

import re

from rewriter.reading.cells import cells_of
from rewriter.reading.columns import find_rows
from rewriter.reading.headings import PART_ONLY, YIELD
from rewriter.reading.rows import STEP, VERB, WITH_UNIT, Line, Named, opens_with_amount, opens_with_verb

_FOLIO = re.compile(r"[\dlIO]{1,3}\s{4,}[A-Z]")
_STEP_NUMBER = re.compile(
    r"(?:step\s+)?(?P<number>\d{1,2})(?:(?:\s?[.):|/]|\s{2,})\s*(?=[A-Z“\"])|\s(?=" + VERB.pattern + "))", re.IGNORECASE
)
_RUNNING = re.compile(r"[.!?;](?:(?<=[a-z]{3}[.!?])\s+[A-Z][a-z]|(?<=[a-z]{3};)\s)")
_UNFINISHED = re.compile(r"(?:[a-z]-|,|\(|\b(?:or|and|with|of|for|the|in))$")


def find_amounts(text: str, lines: list[Line], named: Named) -> None:
    """Tell of each line whether it measures an ingredient: plain lines, rows of a table, several in one line."""
    find_rows(text, lines)
    for line in lines:
        if line.amount or line.role:
            continue
        if line.text[:1].isdigit():
            _unnumbered(line)
        line.amount = opens_with_amount(line.text)
        if not line.amount or len(line.text) > 14:
            line.cells = cells_of(text, line, named)
            line.amount = line.amount or len(line.cells) > 2
        if _FOLIO.match(line.text) and not named(line):
            line.amount, line.cells = False, []
    _counting_titles(lines)
    _numbered(lines)
    _wrapped(lines)
    _rejoin(text, lines)


def _unnumbered(line: Line) -> None:
    """Drop "1." before an ingredient of a numbered list."""
    step = STEP.match(line.text)
    rest = line.text[step.end() :].lstrip() if step else ""
    if rest and not opens_with_verb(rest) and opens_with_amount(rest):
        line.start += len(line.text) - len(rest)
        line.text = rest


def _counting_titles(lines: list[Line]) -> None:
    """A title may open with a number ("THREE MILKS CAKE", "24-Carrot Cake"), a part's heading close with one."""
    for k, line in enumerate(lines[:-1]):
        if not line.amount or not line.gap or WITH_UNIT.match(line.text):
            continue
        below = lines[k + 1]
        first = k == 0 and len(lines) > 4 and (not below.amount or (below.gap and not lines[k + 2].gap))
        if (
            first
            or (not below.gap and YIELD.match(below.text))
            or (PART_ONLY.match(line.text) and line.text[0].isalpha())
        ):
            line.amount, line.cells = False, []


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
            running = running or (
                len(text) > 30 and (opens_with_verb(text) or (len(text) > 38 and _RUNNING.search(text) is not None))
            )
        ended = line.text[-1:] in ".:!?"


def _rejoin(text: str, lines: list[Line]) -> None:
    """Join the second half of a broken ingredient line ("1 cup butter-" / "milk") to its first."""
    k = 0
    while k + 1 < len(lines):
        line, following = lines[k], lines[k + 1]
        if not _breaks(line, following):
            k += 1
        elif line.amount and len(line.text) < 160:
            line.end = following.end
            line.text = text[line.start : line.end]
            del lines[k + 1]
        elif line.gap and len(line.text) < 40 and any(one.amount for one in lines[k + 2 : k + 4]):
            line.end = following.end
            line.text = line.text.rstrip("-") + following.text  # the heading of a group
            del lines[k + 1]
        else:
            k += 1


def _breaks(line: Line, following: Line) -> bool:
    """Whether a line breaks off and the next one goes on with it."""
    if line.cells or following.amount or following.gap or following.bullet or len(following.text) >= 50:
        return False
    return bool(_UNFINISHED.search(line.text)) and following.text[:1].islower()
