"""Correcting: from a recipe and the air of a kitchen to exact edits, each with its reason and source."""

from rewriter.correcting.compare import compare
from rewriter.correcting.formula import formulas
from rewriter.correcting.guide import NAMES as GUIDES
from rewriter.correcting.guide import STRENGTHS, Guide, NoSuchGuide, check_strength
from rewriter.correcting.guide import load as load_guide
from rewriter.correcting.nextstep import next_steps
from rewriter.correcting.plan import plan

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
