r"""Lists that say everything twice: for two sizes of batch side by side, or in two languages.

Only the first of the two is read, so the reading says that there is a second.

>>> from rewriter.reading.pipeline import read
>>> text = "Rolls\n\nflour   6 cups   12 cups\nmilk   2 cups   4 cups\nyeast   2 tbsp   4 tbsp\n\nBake at 375 F."
>>> [(fact.kind, fact.value) for fact in read(text)[0].facts if fact.kind in KINDS]
[('batch-columns', '2')]
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from rewriter.model import Amount, Fact
from rewriter.reading.findings import Findings
from rewriter.reading.layout import Line
from rewriter.reading.portions import comparable
from rewriter.reading.units import table

KINDS = ("batch-columns", "second-language")
LEAST_LINES = 3
_APART = re.compile(r"\s*[(|/]|\s{2,}|\t")  # a bracket, a stroke or a gap parts two columns
_FOREIGN = re.compile(table("lines")["foreign"]["measure"])


def facts(listed: Sequence[Line], found: Findings) -> Iterator[Fact]:
    """What a list says twice: "batch-columns" with how many times the first the second is, "second-language"."""
    if len(listed) < LEAST_LINES:
        return
    ratios = Counter(ratio for line in listed if (ratio := _ratio(line, found)))
    first = listed[0]
    place = first.start, first.end, found.text[first.start : first.end]
    if ratios:
        ratio, count = ratios.most_common(1)[0]
        if count >= LEAST_LINES and count * 2 > len(listed):
            yield Fact("batch-columns", *place, str(ratio))
    if sum(1 for line in listed if _FOREIGN.search(found.text, line.start, line.end)) >= LEAST_LINES - 1:
        yield Fact("second-language", *place)


def _ratio(line: Line, found: Findings) -> Fraction | None:
    """How many times the first amount of a line the one beside it is; None where it is no other size of batch."""
    amounts = found.amounts_in(line.start, line.end)
    if len(amounts) < 2:
        return None
    first, second = amounts[:2]
    if not _beside(first, second, found.text):
        return None
    scale = comparable(second.unit, first.unit)
    if scale is None or not first.quantity or not second.quantity:
        return None
    ratio = second.quantity * scale / first.quantity
    return ratio if ratio.denominator <= 4 and ratio.numerator <= 8 and ratio != 1 else None


def _beside(first: Amount, second: Amount, text: str) -> bool:
    """Whether nothing but a gap, a bracket or a stroke parts the two."""
    gap = text[first.end : second.start]
    return not gap.strip(" \t(|/") and _APART.match(gap) is not None
