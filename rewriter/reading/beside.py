r"""A card of two columns whose second is headed: its lines, and that column.

>>> from rewriter.reading.layout import lay_out
>>> found = lay_out("Coffee Cake\n1 c. butter      Topping:\n2 c. sugar       1 c. pecans\n2 c. flour\n\nMix. Bake.\n")
>>> [(line.text, first, last) for line, first, last in found[0].groups if line], found[0].listed[-1].text
([('Topping', 3, 4)], '1 c. pecans')
"""

from __future__ import annotations

import re

from rewriter.reading.headings import PART_WORDS
from rewriter.reading.rows import Line, columned

_COLUMN_HEAD = re.compile(r"\s{3,}(?P<label>[A-Z][\w' ]{2,24}):?\s*$", re.IGNORECASE)


def _head(line: Line) -> re.Match[str] | None:
    found = _COLUMN_HEAD.search(line.text) if columned(line.text) else None
    return found if found and PART_WORDS.intersection(found["label"].lower().split()) else None


def _heading(line: Line, head: re.Match[str]) -> Line:
    at = line.start + head.start("label")
    return Line(at, at + len(head["label"]), head["label"], role="heading")


def second_column(lines: list[Line], above: Line | None = None) -> tuple[list[Line], list[Line]]:
    """A card whose second column is headed ("1 c. butter        Topping:"): its lines, and that column, head first.

    above: the line over the list, which may head both columns ("CAKE        FROSTING").
    """
    left: list[Line] = []
    over = _head(above) if above is not None and not above.amount else None
    right = [_heading(above, over)] if above is not None and over else []
    for line in lines:
        head = _head(line) if not right else None
        if head and not line.amount:
            right = [_heading(line, head)]
            line.text = line.text[: head.start()].rstrip()
            line.end = line.start + len(line.text)
            left.append(line)
        elif head:
            right = [_heading(line, head)]
            stop = line.start + head.start()
            left.append(Line(line.start, stop, line.text[: head.start()], line.gap, amount=True, bullet=line.bullet))
        elif right and len(line.cells) == 2:
            left.append(line.cells[0])
            line.cells[1].role = "ingredient"
            right.append(line.cells[1])
        else:
            left.append(line)
    return (left, right) if len(right) > 1 else (lines, [])
