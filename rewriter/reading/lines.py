"""One ingredient line: its amounts, its name, its role, and what its other words tell.

>>> from rewriter.reading.pipeline import read_ingredient
>>> line = read_ingredient("1 cup (226 g) unsalted butter, softened, plus more for the pan")
>>> line.name, line.role, [(str(a.quantity), a.unit) for a in line.amounts], "plus-more" in line.flags
('unsalted butter', 'fat', [('1', 'cup'), ('226', 'g')], True)
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from rewriter import pantry
from rewriter.model import Amount, Ingredient
from rewriter.reading.names import Name
from rewriter.reading.units import MASS, VOLUME, canonical, table, words_pattern

_TABLE = table("lines")
PURPOSE: dict[str, re.Pattern[str]] = {
    part: re.compile(pattern, re.IGNORECASE) for part, pattern in _TABLE["purpose"].items()
}
_ANY_PURPOSE = re.compile(
    "|".join(f"(?P<{part}>{pattern})" for part, pattern in _TABLE["purpose"].items()), re.IGNORECASE
)
_CUT = re.compile(rf"[,;(\[\]:/|.–—]|\s-\s|\b(?:{words_pattern(_TABLE['cut']['words'])})\b", re.IGNORECASE)
_DUAL = re.compile(
    r"[\s(\[/|,;=–—-]*(?:(?:about|approx(?:imately|\.)?|or|around|roughly|~|weighing|total|equals|i\.?e\.?|well|just|scant|generous|from)\s*)*(?:[x×]\s*)?[(\[]?\s*$",
    re.IGNORECASE,
)
_PAREN_BEFORE = re.compile(
    r"[(\[]\s*(?:(?:about|approx(?:imately|\.)?|around|roughly|~|weighing|measured|total(?:ing)?|a total of)\s*)*$",
    re.IGNORECASE,
)
_MORE = re.compile(
    r"(?:\b(?:plus|and|with|an?)|\+)\s*(?:(?:some|a\s+little|a\s+bit)\s+)?(?:more|extra|additional)\b|\b(?:extra|more)\s+for\b|\bplus\b",
    re.IGNORECASE,
)
_LABEL = re.compile(r"(?:optional\s+)?(?P<label>[A-Z][\w' ]{2,28}):\s+(?=\S)", re.IGNORECASE)
_INSIDE = re.compile(r"\([^()]*\)?")
_OR = re.compile(r"\bor\b|\bsubstitute\b", re.IGNORECASE)
_LEAD = re.compile(
    r"(?:optional:?\s*)?[\s(\[*]*(?:(?:about|approximately|approx\.?|around|the|~|scant|heaping|heaped|level|generous|a|an|roughly|up to|at least|juice|zest|peel|rind|grated|finely|freshly|squeezed|and|whites?|yolks?|of|from|optional|extra|another|additional)\b[\s.:]*)*$",
    re.IGNORECASE,
)
_TRAILING_UNIT = re.compile(
    r"\s+(?:[a-z-]+\s+){0,3}?(?P<unit>(?:garlic\s+)(?P<clove>cloves?)|(?:celery|butter|margarine)\s+(?P<stick>sticks?)|(?:bread|lemon|lime|orange|bacon|cheese|ham|toast)\s+(?P<slice>slices?))\b",
    re.IGNORECASE,
)
_FLAGS = {
    "divided": re.compile(r"\bdivided\b", re.IGNORECASE),
    "optional": re.compile(r"\boptional(?:ly)?\b", re.IGNORECASE),
    "melted": re.compile(r"\bmelted\b", re.IGNORECASE),
    "ground": re.compile(r"\bground\b|\bmeal\b|\bfinely\s+processed\b", re.IGNORECASE),
    "mashed": re.compile(r"\bmashed\b|\bpur[eé]ed?\b|\bsmashed\b", re.IGNORECASE),
    "chopped": re.compile(r"\bchopped\b|\bchunks?\b|\bdiced\b|\bsliced?\b|\bcut\b|\bgrated\b|\bshaved\b|\bbroken\b", re.IGNORECASE),
    "separated": re.compile(r"\bseparated\b|\bwhites\s+and\s+yolks\b", re.IGNORECASE),
    "each": re.compile(r"\beach\b", re.IGNORECASE),
    "boiling": re.compile(r"\bboiling\b", re.IGNORECASE),
    "room": re.compile(r"\broom\s+temp", re.IGNORECASE),
    "to-taste": re.compile(r"\bto\s+taste\b|\bas\s+needed\b|\bif\s+needed\b", re.IGNORECASE),
    "packed": re.compile(r"\bpacked\b", re.IGNORECASE),
    "sifted": re.compile(r"\bsifted\b", re.IGNORECASE),
}  # fmt: skip
_FLAG_WORD = re.compile(
    r"divided|optional|melted|ground|meal|processed|mashed|pur[eé]e|smashed|chopped|chunk|diced|slice|cut|grated|shaved|broken|separated|whites|each|boiling|room|taste|needed|packed|sifted",
    re.IGNORECASE,
)
_CITRUS = re.compile(r"\b(?:juice|juiced)\b", re.IGNORECASE)
_ZEST = re.compile(r"\b(?:zest|peel|rind|zested)\b", re.IGNORECASE)
_FRUIT = re.compile(r"\b(?:lemons?|limes?|oranges?|grapefruits?|clementines?|tangerines?)\b", re.IGNORECASE)


def own_amounts(text: str, start: int, end: int, amounts: Sequence[Amount]) -> list[Amount]:
    """The amounts of a line that measure its own ingredient, in the order written.

    Left out: bare counts in brackets, amounts of something else ("beaten with 2 Tbsp milk"), extra for the pan.
    """
    if not amounts:
        return []
    leading = amounts[0]
    if not leading.unit and not _LEAD.match(text[start : leading.start]):
        leading = next((amount for amount in amounts if amount.unit), leading)
    if not leading.unit:
        leading = _unit_after(text, leading, end)
    own = [leading]
    for amount in amounts:
        if amount.start <= leading.start or not (
            amount.unit in MASS or amount.unit in VOLUME or amount.unit in ("stick", "packet", "cake")
        ):
            continue
        if not amount.unit or amount.quantity is None or amount.start < own[-1].end:
            continue
        gap = text[own[-1].end : amount.start]
        if "+" in gap or "plus" in gap:
            continue
        if _DUAL.match(gap) or (_PAREN_BEFORE.search(gap) and not _OR.search(gap) and not _MORE.search(gap)):
            if not _agrees(leading, amount):
                continue
            own.append(amount)
    return own


def _agrees(first: Amount, second: Amount) -> bool:
    """Whether a second measure can be of the same quantity: the same dimension must agree within a third."""
    table_ = MASS if first.unit in MASS else VOLUME if first.unit in VOLUME else None
    if table_ is None or second.unit not in table_ or first.quantity is None or second.quantity is None:
        return True
    if first.unit == second.unit:
        return False
    ratio = first.quantity * table_[first.unit] / (second.quantity * table_[second.unit])
    count = first.count or 1
    return Fraction(2, 3) < ratio < Fraction(3, 2) or Fraction(2, 3) < ratio * count < Fraction(3, 2)


def _unit_after(text: str, amount: Amount, end: int) -> Amount:
    match = _TRAILING_UNIT.match(text, amount.end, end)
    if not match:
        return amount
    unit = "clove" if match["clove"] else "stick" if match["stick"] else "slice"
    return replace(amount, unit=unit)


def _segments(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """The noun phrases of a stretch of a line, in order."""
    out, at = [], start
    for cut in _CUT.finditer(text, start, end):
        if text[at : cut.start()].strip():
            out.append((at, cut.start()))
        at = cut.end()
    if text[at:end].strip():
        out.append((at, end))
    return out


_EITHER = re.compile(r"\s*(?:or|/)\s*", re.IGNORECASE)
_ASIDE = re.compile(r"\b(?:for|in|with|from|to|such|like|if|about|see|plus|as|that|which|at|until)\b", re.IGNORECASE)


def _phrases(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """The noun phrases that can name the ingredient: what stands in brackets or after "for", "in", "with" cannot."""
    bare = _INSIDE.sub(lambda match: " " * len(match[0]), text[start:end])
    kept: list[tuple[int, int]] = []
    for first, last in _segments(text, start, end):
        if not bare[first - start : last - start].strip():
            continue
        if kept and _ASIDE.search(text[kept[-1][1] : first]):
            break
        kept.append((first, last))
    return kept or _segments(text, start, end)


def head_name(text: str, start: int, end: int, names: Sequence[Name]) -> tuple[Name | None, int, int]:
    """The name that heads the first noun phrase holding one, and that phrase's span.

    In a phrase the last name is the head ("egg noodles"), unless "and" joins two ("salt and pepper").
    """
    segments = _phrases(text, start, end)
    for k, (first, last) in enumerate(segments):
        inside = [name for name in names if first <= name.start and name.end <= last]
        if not inside:
            continue
        if (
            k + 1 < len(segments)
            and _EITHER.fullmatch(text[last : segments[k + 1][0]])
            and len(text[first:last].split()) <= 2
        ):
            shared = [name for name in names if segments[k + 1][0] <= name.start and name.end <= segments[k + 1][1]]
            if shared and pantry.entry(inside[0].key).role == "other" and pantry.entry(shared[-1].key).role != "other":
                return shared[-1], first, segments[k + 1][1]
        head = inside[0]
        for name in inside[1:]:
            between = text[head.end : name.start]
            if re.search(r"\b(?:and|&|with|\+|of)\b|[&+]", between):
                break
            head = name
        return head, first, last
    if segments:
        return None, *segments[0]
    return None, start, end


def _flags(body: str) -> set[str]:
    if not _FLAG_WORD.search(body):
        return set()
    return {flag for flag, pattern in _FLAGS.items() if pattern.search(body)}


def purpose(body: str) -> str:
    """The part that a line's own words put it in ("for dusting"), or "" where they do not (or only the extra is for it)."""
    match = _ANY_PURPOSE.search(body)
    if not match:
        return ""
    before = body[: match.start()]
    if _MORE.search(before) or re.search(r"\b(?:and|or)\s+(?:for\s+)?$", before) and re.search(r"\d", before):
        return ""
    return next(part for part, found in match.groupdict().items() if found)


def weigh(key: str | None, amounts: Sequence[Amount]) -> tuple[float | None, tuple[float, float] | None]:
    """Grams of an ingredient by the first of its amounts that can be weighed (a weight before a volume), and the range."""
    entry = pantry.entry(key) if key else None
    ordered = sorted(amounts, key=lambda amount: amount.unit not in MASS)
    for amount in ordered:
        if amount.quantity is None:
            continue
        quantity = amount.quantity * (amount.count or 1)
        if amount.unit in MASS:
            grams = float(quantity * MASS[amount.unit])
            return grams, (grams, grams)
        if entry is None:
            continue
        found = pantry.grams(entry, quantity, amount.unit or "each", amount.system)
        if found is not None:
            return found[1], (found[0], found[2])
    return None, None


def _role(text: str, head: Name | None, body: str, flags: set[str]) -> tuple[str, str | None, bool]:
    """Role, pantry key and whether it is sure, from the head name and the line's words."""
    if head is None:
        if _FRUIT.search(body) and _CITRUS.search(body):
            return "liquid", "lemon-juice", True
        return "other", None, False
    entry = pantry.entry(head.key)
    role, key = entry.role, head.key
    if _FRUIT.search(body) and role == "other" and re.search(r"\bjuice\b.*\bof\b|\bjuiced\b", body, re.IGNORECASE):
        return "liquid", "lemon-juice", True
    if role == "liquid" and re.match(r"\s*(?:[\w-]+\s+)?(?:zest|peel|rind)\b", body, re.IGNORECASE):
        return "other", key, True
    if "banana" in head.key and role == "thick-liquid" and "chopped" in flags and "mashed" not in flags:
        return "other", key, True
    return role, key, True


def read_line(
    text: str, start: int, end: int, names: Sequence[Name], amounts: Sequence[Amount], listed: bool = True
) -> Ingredient:
    """The ingredient on one line.

    text[start:end]: the line without its bullet. names, amounts: those found inside it, in order.
    Never raises; a line without a known name has role "other" and ``sure`` False.
    """
    label = _LABEL.match(text, start, end)
    labelled = ""
    if label and amounts and amounts[0].start >= label.end():
        labelled, start = label["label"], label.end()
    own = own_amounts(text, start, end, amounts)
    after = own[0].end if own else start
    leads = (
        not own or len(text[start : own[0].start].strip(" (*[")) < 3 or bool(_LEAD.match(text[start : own[0].start]))
    )
    body = text[start:end]
    last_own = max((amount.end for amount in own if amount.start < after + 30), default=start)
    head, first, last = head_name(text, last_own if own and leads else start, end, names)
    if own and leads and head is None:
        head, first, last = head_name(text, after, end, names)
    if own and head is None and not leads:
        head, first, last = head_name(text, start, own[0].start, names)
    flags = _flags(body)
    if _MORE.search(body):
        flags.add("plus-more")
    if head is not None and _OR.search(text, head.end, end):
        flags.add("alternative")
    for_part = purpose(body) or _label_part(labelled)
    if "spray" in body.lower() and head is not None and head.key == "cooking-spray":
        for_part = for_part or "dusting"
    if for_part:
        flags.add(f"for-{for_part}")
    role, key, sure = _role(text, head, body, flags)
    name_start, name_end = _trim(text, first, last, head)
    grams, spread = weigh(key, own)
    final = tuple(_each(amount) for amount in own)
    begin = min([start if leads else name_start, *(amount.start for amount in own)])
    stop = max([name_end, *(amount.end for amount in own)])
    return Ingredient(
        begin, stop, text[name_start:name_end], role, "batter", final, grams, sure, key, 0, spread,
        frozenset(flags), listed, name_start, name_end,
    )  # fmt: skip


def _label_part(label: str) -> str:
    """The part that a label before the amount tells ("Glaze: 1/2 cup sugar"), else ""."""
    match = re.search(
        r"\b(frosting|icing|glaze|filling|topping|tops|dusting|serving|garnish|drizzle)\b", label, re.IGNORECASE
    )
    return (
        {"icing": "frosting", "glaze": "frosting", "drizzle": "frosting", "garnish": "topping", "tops": "topping"}.get(
            match[1].lower(), match[1].lower()
        )
        if match
        else ""
    )


def _each(amount: Amount) -> Amount:
    return replace(amount, unit="each") if not amount.unit and amount.quantity is not None else amount


_OF = re.compile(r"\s*(?:of\s+(?:the\s+)?)?", re.IGNORECASE)


def _trim(text: str, first: int, last: int, head: Name | None) -> tuple[int, int]:
    begin = _OF.match(text, first, last).end()  # type: ignore[union-attr]
    stop = last
    while stop > begin and (text[stop - 1].isspace() or text[stop - 1] in "*-–"):
        stop -= 1
    while begin < stop and (text[begin].isspace() or text[begin] in "*-–.)]"):
        begin += 1
    if head is not None and not (begin <= head.start and head.end <= stop):
        return head.start, head.end
    return begin, max(stop, begin)


__all__ = ["PURPOSE", "canonical", "head_name", "own_amounts", "purpose", "read_line", "weigh"]
