r"""Recipe data: JSON or JSON Lines that hold schema.org Recipes, or objects with a ``text``.

>>> taken = read(b'{"text": "Rusk\n2 eggs"}'.replace(b"\n", b"\\n"))
>>> taken.text, taken.cuts
('Rusk\n2 eggs\n', ((0, 12),))
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from rewriter.codec import decode
from rewriter.errors import Unusable
from rewriter.intake import schema
from rewriter.intake.limits import LIMITS, Limits
from rewriter.intake.taken import Taken

_TEXTS = ("text", "recipe", "source")


def read(data: bytes, _: Limits = LIMITS) -> Taken:
    """Every recipe in the data. Raises Unusable where it is no JSON; JSON without recipes is taken as its words."""
    text, form = decode(data)
    values, bad = _values(text)
    pieces = [piece for value in values for piece in _pieces(value)]
    if not pieces:
        return Taken(text, kind="recipe data", form=form, warnings=("no recipe is found in this data",))
    cuts, at = [], 0
    for piece in pieces:
        cuts.append((at, at + len(piece)))
        at += len(piece) + 1
    warnings = (f"lines that are not JSON were passed over: {_numbers(bad)}",) if bad else ()
    return Taken("\n".join(pieces), kind="recipe data", cuts=tuple(cuts), warnings=warnings)


def _values(text: str) -> tuple[list[Any], list[int]]:
    """The value, or that of each line, and the numbers of the lines that are none."""
    try:
        return [json.loads(text)], []
    except RecursionError:
        raise Unusable("this JSON is nested too deep", "give the recipes by themselves") from None
    except ValueError as error:
        values, bad = [], []
        for number, line in enumerate(text.splitlines(), 1):
            if not line.strip():
                continue
            try:
                values.append(json.loads(line))
            except (ValueError, RecursionError):
                bad.append(number)
        if not values or len(bad) > len(values):
            raise Unusable(f"this is not JSON ({error})", "give it the ending .txt if it is text") from None
        return values, bad


def _pieces(value: object) -> Iterator[str]:
    found = [schema.as_text(one) for one in schema.recipes(value)]
    if found:
        yield from found
        return
    for item in value if isinstance(value, list) else [value]:
        if isinstance(item, dict):
            words = next((item[name] for name in _TEXTS if isinstance(item.get(name), str)), "")
            if words.strip():
                title = item.get("title") or item.get("name")
                head = f"{title}\n\n" if isinstance(title, str) and title.strip() and title not in words[:200] else ""
                yield head + words.rstrip("\n") + "\n"


def _numbers(lines: list[int]) -> str:
    return ", ".join(map(str, lines[:20])) + (" ..." if len(lines) > 20 else "")
