r"""Records as plain values, ready for JSON: fractions as "3/4", records as objects, sets in order.

>>> from fractions import Fraction
>>> from rewriter.model import Amount
>>> plain(Amount(0, 6, "2 cups", Fraction(2), unit="cup"))["quantity"]
'2'
>>> dumps([Fraction(3, 4)])
'[\n  "3/4"\n]'
"""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any


def plain(value: object) -> Any:
    """Turn records, fractions, tuples and sets, however deep, into what JSON has. Other values stay as they are."""
    if isinstance(value, Fraction):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, dict):
        return {str(key): plain(item) for key, item in value.items()}
    if isinstance(value, (frozenset, set)):
        return sorted(plain(item) for item in value)
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    return value


def dumps(value: object) -> str:
    """JSON of records, indented, with every letter as it is."""
    return json.dumps(plain(value), ensure_ascii=False, indent=2)
