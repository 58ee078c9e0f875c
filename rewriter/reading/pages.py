"""Which of a page's lists are recipes: not its nutrition, its equipment, its readers' remarks, and no recipe twice.

>>> is_page("Jump to Recipe | Print Recipe | Subscribe to our newsletter | 12 comments", 30)
True
"""

from __future__ import annotations

import re

from rewriter.reading.headings import nutrition
from rewriter.reading.regions import Region
from rewriter.reading.rows import Line, Named
from rewriter.reading.units import table

_PAGE_LINES = 90
"""From this many lines on a paste is a web page with furniture of its own, not a card."""
_FURNITURE: tuple[str, ...] = tuple(table("layout")["title"]["page"])
_COMMENTS = re.compile(
    r"\d*\s*(?:comments?|reviews?|responses|replies|questions|discussion)\b.{0,30}|leave\s+a\s+(?:reply|comment).{0,30}|reader\s+interactions|(?:add|post|write)\s+a\s+(?:comment|review).{0,20}|your\s+thoughts.{0,20}|what\s+readers\s+say.{0,20}",
    re.IGNORECASE,
)
_PLAIN = re.compile(r"\W+")


def is_page(text: str, count: int) -> bool:
    """Whether a paste of so many lines is a whole web page."""
    if count > _PAGE_LINES:
        return True
    if count <= 24:
        return False
    low = text.lower()
    seen = (word in low for word in _FURNITURE)
    return any(seen) and any(seen)  # two of them


def _key(line: Line) -> str:
    return _PLAIN.sub(" ", line.text.lower()).strip()


def _ingredients(lines: list[Line], region: Region, named: Named) -> tuple[int, frozenset[str]]:
    """How many lines of a region open with an amount and name no ingredient, and the texts of those that do."""
    amounts = [line for line in lines[region.first : region.last + 1] if line.amount]
    good = [line for line in amounts if named(line) and not nutrition(line.text)]
    return len(amounts) - len(good), frozenset(_key(line) for line in good)


def _shared(first: frozenset[str], second: frozenset[str]) -> float:
    return len(first & second) / max(1, min(len(first), len(second)))


def without_repeats(lines: list[Line], regions: list[Region], named: Named) -> list[Region]:
    """The regions of a card or letter that name ingredients, a list that stands there twice only once."""
    if len(regions) < 2:
        return regions
    kept: list[tuple[Region, frozenset[str]]] = []
    telling = [any(line.amount and named(line) for line in lines[r.first : r.last + 1]) for r in regions]
    for region, tells in zip(regions, telling, strict=True):
        if not tells and any(telling):
            continue
        texts = frozenset(_key(line) for line in lines[region.first : region.last + 1] if line.amount)
        if all(len(texts & other) < 4 or _shared(texts, other) < 0.7 for _, other in kept):
            kept.append((region, texts))
    return [region for region, _ in kept]


def of_page(lines: list[Line], regions: list[Region], named: Named) -> list[Region]:
    """The regions of a page that are recipes, in order."""
    scored = [(region, *_ingredients(lines, region, named)) for region in regions]
    found = [(region, texts) for region, others, texts in scored if len(texts) >= 2 and len(texts) >= others]
    if not found:
        return [region for region in regions if region.headed and region.closed][:1]
    best, texts = max(
        found,
        key=lambda row: (
            row[0].headed and row[0].closed,
            row[0].closed,
            row[0].headed,
            min(len(row[1]), 6),
            row[0].first,
        ),
    )
    kept = [best]
    for region, own in found:
        if region is not best and _belongs(lines, region, own, best, texts):
            kept.append(region)
    return sorted(kept, key=lambda region: region.first)


def _belongs(lines: list[Line], region: Region, own: frozenset[str], best: Region, texts: frozenset[str]) -> bool:
    """Whether a further region of a page is a recipe, or a group of the recipe that stands there for certain."""
    whole = region.headed and region.closed
    if _shared(own, texts) > 0.4:
        return False
    if best.last < region.first <= best.last + 8 and not region.headed:
        return True  # a further group of the same list
    if region.first > best.last and not whole and _left(lines, best.last, region.first):
        return False
    if not region.headed and not region.closed and (best.headed or best.closed):
        return False
    return len(own) > 2 or region.closed or region.headed


def _left(lines: list[Line], last: int, first: int) -> bool:
    """Whether the recipe was left between two lines: for readers' remarks, notes or the page's own furniture."""
    return any(
        line.kind in ("end", "notes") or (len(line.text) < 60 and bool(_COMMENTS.fullmatch(line.text)))
        for line in lines[last:first]
    )
