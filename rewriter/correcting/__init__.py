"""Correcting: from a recipe and the air of a kitchen to exact edits, each with its reason and source.

``plan`` is all that annotating needs; what compares guides, weighs a formula or goes on after a bake is loaded when
it is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from rewriter.correcting.guide import NAMES as GUIDES
from rewriter.correcting.guide import STRENGTHS, Guide, NoSuchGuide, check_strength
from rewriter.correcting.guide import load as load_guide
from rewriter.correcting.plan import plan

if TYPE_CHECKING:
    from rewriter.correcting.comparison import compare
    from rewriter.correcting.formula import formulas
    from rewriter.correcting.nextstep import next_steps

__all__ = [
    "GUIDES",
    "STRENGTHS",
    "Guide",
    "NoSuchGuide",
    "check_strength",
    "compare",
    "formulas",
    "load_guide",
    "next_steps",
    "plan",
]

_LATER = {"compare": "comparison", "formulas": "formula", "next_steps": "nextstep"}


def __getattr__(name: str) -> Any:
    """Load a name of :data:`_LATER` when it is first asked for."""
    if name not in _LATER:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(f"{__name__}.{_LATER[name]}"), name)
    globals()[name] = found
    return found
