"""Records as plain values."""

from __future__ import annotations

import json
from fractions import Fraction

from rewriter import asjson
from rewriter.model import Amount, Ingredient


def test_records_become_plain() -> None:
    milk = Ingredient(
        0, 10, "milk", "liquid", "batter", (Amount(0, 5, "1 cup", Fraction(3, 4), unit="cup"),), flags=frozenset("ba")
    )
    plain = json.loads(asjson.dumps({"milk": milk}))["milk"]
    assert plain["amounts"][0]["quantity"] == "3/4"
    assert plain["amounts"][0]["quantity_max"] is None
    assert plain["flags"] == ["a", "b"]
    assert plain["name"] == "milk"
