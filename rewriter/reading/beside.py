r"""A card of two columns whose second is headed: its lines, and that column.

>>> from rewriter.reading.layout import lay_out
>>> found = lay_out("Coffee Cake\n1 c. butter      Topping:\n2 c. sugar       1 c. pecans\n2 c. flour\n\nMix. Bake.\n")
>>> [(line.text, first, last) for line, first, last in found[0].groups if line], found[0].listed[-1].text
([('Topping', 3, 4)], '1 c. pecans')
"""

from __future__ import annotations

import re

from rewriter.reading.headings import PART_WORDS
from rewriter.reading.rows import Line

_COLUMN_HEAD = re.compile(r"\s{3,}(?P<label>[A-Z][\w' ]{2,24}):?\s*$", re.IGNORECASE)


def second_column(lines: list[Line]) -> tuple[list[Line], list[Line]]:
    """A card whose second column is headed ("1 c. butter        Topping:"): its lines, and that column, head first."""
    left: list[Line] = []
    right: list[Line] = []
    for line in lines:
        head = _COLUMN_HEAD.search(line.text) if line.amount and not right else None
        if head and PART_WORDS.intersection(head["label"].lower().split()):
            at = line.start + head.start("label")
            right = [Line(at, at + len(head["label"]), head["label"], role="heading")]
            stop = line.start + head.start()
            left.append(Line(line.start, stop, line.text[: head.start()], line.gap, amount=True, bullet=line.bullet))
        elif right and len(line.cells) == 2:
            left.append(line.cells[0])
            line.cells[1].role = "ingredient"
            right.append(line.cells[1])
        else:
            left.append(line)
    return (left, right) if len(right) > 1 else (lines, [])
