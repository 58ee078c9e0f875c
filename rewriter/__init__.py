"""Give a recipe back word for word, with every amount, temperature and time that high altitude changes marked.

The names below are loaded when first used, so that ``import rewriter`` costs next to nothing.

>>> import rewriter
>>> rewriter.air.of("6500 ft").elevation_ft
Fraction(6500, 1)
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

if TYPE_CHECKING:
    from rewriter import air, batch
    from rewriter.api import Result, load, read, read_ingredient, rewrite, second_reader, strip
    from rewriter.collection import Box
    from rewriter.errors import Unusable
    from rewriter.further import compare, formula, next_step, overlay_page, print_book
    from rewriter.model import Air, Answer

__all__ = [
    "Air",
    "Answer",
    "Box",
    "Result",
    "Unusable",
    "air",
    "batch",
    "compare",
    "formula",
    "load",
    "next_step",
    "overlay_page",
    "print_book",
    "read",
    "read_ingredient",
    "rewrite",
    "second_reader",
    "strip",
]

_HOMES = {
    **dict.fromkeys(("Result", "load", "read", "read_ingredient", "rewrite", "second_reader", "strip"), "rewriter.api"),
    **dict.fromkeys(("compare", "formula", "next_step", "overlay_page", "print_book"), "rewriter.further"),
    **dict.fromkeys(("Air", "Answer"), "rewriter.model"),
    "Box": "rewriter.collection",
    "Unusable": "rewriter.errors",
}


def __getattr__(name: str) -> Any:
    """Load a public name from its room when it is first asked for."""
    if name in ("air", "batch"):
        return import_module(f"rewriter.{name}")
    if name not in _HOMES:
        raise AttributeError(f"module 'rewriter' has no attribute {name!r}")
    found = getattr(import_module(_HOMES[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    """List the public names, loaded or not."""
    return sorted({*globals(), *__all__})
