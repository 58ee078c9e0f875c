"""Where the cut of the leavener is deep: how far the guides differ, and that tested recipes are gentler still."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import percent
from rewriter.correcting.kitchen import Kitchen, kitchen
from rewriter.correcting.registry import Finding, for_batch
from rewriter.model import Note

DEEP = Fraction(2, 5)
KINDS = frozenset(("shortened-cake", "cookie", "quick-bread"))
SOURCE = "the guides' own tables; a count of 40 printed recipes with a sea-level base and a high-altitude version"


@for_batch("gentler")
def gentler(batch: Batch, here: Kitchen) -> Iterator[Finding]:
    """One sentence that sets this guide's cut beside the gentlest guide and the published recipes."""
    cut = 1 - here.factor("leavener", batch.kind)
    if batch.kind not in KINDS or cut < DEEP or here.adjusted or not any(True for _ in batch.of("leavener")):
        return
    table = kitchen("extension", here.strength, here.here, here.there)
    least = 1 - table.factor("leavener", batch.kind)
    text = (
        f"{percent(cut)} less leavener is a rule of thumb at its deepest: the extension table takes {percent(least)}, "
        "published recipes with a high-altitude version of their own 21 to 25 %, and more than half of them add flour. "
        "If it comes out dense, go that way."
    )
    yield Note("guide", text, SOURCE)
