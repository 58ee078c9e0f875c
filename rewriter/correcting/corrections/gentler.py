"""Where the cut of the leavener is deep: how far the guides differ, and that tested recipes are gentler still."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from rewriter.correcting.batch import Batch
from rewriter.correcting.corrections.leavener import floored
from rewriter.correcting.kitchen import Kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.model import Note

DEEP = Fraction(2, 5)
KINDS = frozenset(("shortened-cake", "cookie", "quick-bread"))
SOURCE = "the guides' own tables; a count of 40 printed recipes with a sea-level base and a high-altitude version"


@for_batch("gentler")
def gentler(batch: Batch, here: Kitchen) -> Iterator[Finding]:
    """One sentence that sets the cut made here beside the gentlest guide's and that of published recipes."""
    if batch.kind not in KINDS or here.adjusted or not batch.of("leavener"):
        return
    cut = floored(batch, 1 - here.factor("leavener", batch.kind), here.adjusted)
    if cut < DEEP:
        return
    table = here.by("extension")
    least = 1 - table.factor("leavener", batch.kind)
    text = (
        f"{whole(cut)} less leavener is a deep cut: the gentler extension table takes {whole(least)}, "
        "printed recipes with a high-altitude version 21 to 25 %, and most of those add flour. "
        "If it comes out dense, put some of it back."
    )
    yield Note("guide", text, SOURCE)


def whole(share: Fraction) -> str:
    """A share in whole percent.

    >>> whole(Fraction(7, 32))
    '22 %'
    """
    return _whole(*share.as_integer_ratio())


@lru_cache(maxsize=1024)
def _whole(top: int, bottom: int) -> str:
    return f"{round(Fraction(100 * top, bottom))} %"
