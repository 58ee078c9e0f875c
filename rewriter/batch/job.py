"""What travels in a batch: a row of the input, and the settings that hold for every row.

>>> row_of(as_json(Row(1, "card 12", "2 cups flour"))).id
'card 12'
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from typing import Any

from rewriter import api
from rewriter.errors import Unusable
from rewriter.model import Air

RECORDS = ("short", "whole")


@dataclass(frozen=True, slots=True)
class Row:
    """One recipe of the input.

    number: its place, counted from 1 without a gap. id: its own name, as text. text: the recipe.
    error: why there is no text, where there is none. encoding, mark: the form of the file it came from (mark in
    hexadecimal), "" where it was no file of its own. answers: (id of a question, answer) pairs for this recipe.
    file: where a file lies that is no plain text, and is taken in by whoever works on the row.
    """

    number: int
    id: str
    text: str = ""
    error: str = ""
    encoding: str = ""
    mark: str = ""
    answers: tuple[tuple[str, str], ...] = ()
    file: str = ""


@dataclass(frozen=True, slots=True)
class Settings:
    """What holds for every recipe of a batch; the names are those of :func:`rewriter.rewrite`.

    record: "short" keeps the annotated text, the changes, the questions and the notes of a recipe; "whole" adds all
    that was read, as ``Result.to_dict()`` gives it.
    """

    elevation: str | None = None
    barometer: str | None = None
    boils_at: str | None = None
    written_for: str = "0 ft"
    guide: str = "practice"
    strength: str = "middle"
    style: str = "inline"
    explain: str = "short"
    record: str = "short"

    def air(self) -> Air:
        """The air of the kitchen. Raises Unusable where it is not said, or cannot be."""
        return api.kitchen(self.elevation, self.barometer, self.boils_at)[0]

    def check(self) -> Air:
        """The air of the kitchen. Raises Unusable where any setting cannot be used.

        >>> Settings("8,200 ft", style="embroidered").check()
        Traceback (most recent call last):
        rewriter.errors.Unusable: there is no style "embroidered"; choose one of inline, ...
        """
        from rewriter import air
        from rewriter.correcting import guide
        from rewriter.writing.registry import find, styles

        guide.load(self.guide)
        guide.check_strength(self.strength)
        for what, name, names in (("style", self.style, styles()), ("record", self.record, RECORDS)):
            if name not in names:
                raise Unusable(f'there is no {what} "{name}"', f"choose one of {', '.join(names)}")
        if find(self.style).binary:
            raise Unusable(f"the style {self.style} is a file, not text", "choose another --style")
        air.from_elevation(self.written_for)
        return self.air()

    def suffix(self) -> str:
        """What is added to the name of a file in this style: "" where it stays the kind of text it was.

        >>> Settings().suffix(), Settings(style="html").suffix()
        ('', '.html')
        """
        from rewriter.writing.registry import find

        suffix = find(self.style).suffix
        return "" if suffix in (".txt", ".md") else suffix


def as_json(value: Row | dict[str, Any]) -> bytes:
    r"""One line of JSON without its end, every letter as it is; broken characters as escapes.

    >>> as_json({"id": "brûlée"}).decode(), as_json({"id": "\udce9"})
    ('{"id": "brûlée"}', b'{"id": "\\udce9"}')
    """
    plain = asdict(value) if isinstance(value, Row) else value
    try:
        return json.dumps(plain, ensure_ascii=False).encode()
    except UnicodeEncodeError:
        return json.dumps(plain).encode()


def row_of(line: bytes) -> Row:
    """The row that :func:`as_json` wrote."""
    values = json.loads(line)
    return Row(**{**values, "answers": tuple((query, value) for query, value in values["answers"])})
