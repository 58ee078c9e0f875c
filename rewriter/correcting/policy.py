"""Policies: what may change in a batter or dough, by its kind of bake, from ``policies.toml``.

>>> policy("cookie").sugar, policy("custard").leavener
('always', False)
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

TABLE = Path(__file__).parent / "policies.toml"


@dataclass(frozen=True, slots=True)
class Policy:
    """What may change in one kind of bake; the meaning of each field stands at the head of policies.toml."""

    leavener: bool = False
    sugar: str = "never"
    sugar_tbsp: Fraction = Fraction(0)
    liquid: str = "never"
    without: str = "nothing"
    oven: bool = False
    yeast: bool = False
    floor_tsp: Fraction = Fraction(0)
    floor_dough_tsp: Fraction = Fraction(0)
    set_c: float = 82.0
    flour_next: bool = False
    egg_next: bool = False
    inside: bool = False
    needs_lift: bool = False

    @property
    def still(self) -> bool:
        """Whether no ingredient of this kind of bake ever changes."""
        return not (self.leavener or self.yeast or self.sugar != "never" or self.liquid != "never")


NOTHING = Policy()
_EXACT = ("sugar_tbsp", "floor_tsp", "floor_dough_tsp")


@lru_cache(maxsize=1)
def policies() -> dict[str, Policy]:
    """Every kind's policy."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return {kind: _policy(row) for kind, row in table.items()}


def _policy(row: dict[str, Any]) -> Policy:
    values: dict[str, Any] = {name: Fraction(value) if name in _EXACT else value for name, value in row.items()}
    return Policy(**values)


def policy(kind: str) -> Policy:
    """The policy of a kind; nothing changes in a kind the table does not know."""
    return policies().get(kind, NOTHING)
