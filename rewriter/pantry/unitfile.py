"""Reading the unit definition file with pint, exactly. Only needed when units.txt has changed: pint loads slowly."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

from pint import UnitRegistry

_LINE = re.compile(r"^(\w+)\s*=\s*[^=]+?(?:=\s*(\w+)\s*)?$")
_DIMENSIONS = {"[volume]": "volume", "[mass]": "mass"}


def read_units(path: Path) -> dict[str, tuple[Fraction, str]]:
    """Each unit by its short name, blanks for underlines: its exact size in mL, g or pieces, and its dimension.

    Dimension is "volume", "mass" or "count". Raises pint's own errors where the file cannot be read.
    """
    registry: UnitRegistry[Fraction] = UnitRegistry(str(path), non_int_type=Fraction)
    found: dict[str, tuple[Fraction, str]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        match = _LINE.match(line)
        if not match:
            continue
        quantity = registry.Quantity(Fraction(1), match[1]).to_base_units()
        dimension = _DIMENSIONS.get(str(quantity.dimensionality), "count")
        found[(match[2] or match[1]).replace("_", " ")] = (Fraction(quantity.magnitude), dimension)
    return found
