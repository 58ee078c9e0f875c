r"""Amounts in running text and the ingredient each measures: "Cream half a cupful of butter with one of sugar".

>>> from rewriter.reading.pipeline import read
>>> recipe = read("Tea Cake\n\nCream half a cupful of butter with one of sugar, two eggs and two cups of flour.")[0]
>>> [(str(i.amounts[0].quantity), i.amounts[0].unit, i.role) for i in recipe.ingredients]
[('1/2', 'cup', 'fat'), ('1', 'cup', 'sugar'), ('2', 'each', 'egg'), ('2', 'cup', 'flour')]
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter import pantry
from rewriter.model import Amount
from rewriter.reading.names import Name
from rewriter.reading.namesfirst import named_before

_OF = re.compile(
    r"\s*(?:,\s*(?=scant|heaping|level|full|sifted|well))?(?:(?:each\s+)?of\s+)?(?:each\s+)?(?:(?:the|a)\s+(?=best|finest|very|good|richest|nicest))?"
    r"(?P<the>(?:the|this|that|your)\s+)?",
    re.IGNORECASE,
)
_BETWEEN = re.compile(
    r"(?:[a-z’'-]+[\s,-]+(?:(?:and|or|but)\s+)?){0,5}$|(?:[A-Z][\w.’'-]*\s+|&\s+|No\.\s+\d+\s+){1,9}$", re.IGNORECASE
)
_BRAND = re.compile(r"(?:[A-Z][\w’'-]*\.?(?:[’']s)?\s+|&\s+|No\.\s+\d+\s+){2,9}$")
_BREAK = re.compile(
    r"[.;:()]|\b(?:with|into|in|then|until|for|and|add|beat|stir|to|from|on|at|which|when|put|mix|sift|pour|bake|is|are|has|have|if)\b",
    re.IGNORECASE,
)
_YOLKS = re.compile(
    r"\b(?P<what>whites?|yolks?|juice|zest|rind|peel|grated\s+rind)(?:\s+and\s+(?:yolks|whites|rind|zest|juice|grated\s+rind))?\s+(?:of|from)\s+(?:an?\s+)?(?:the\s+)?$",
    re.IGNORECASE,
)
_BEFORE = re.compile(r"(?P<name>[a-zà-ÿ][a-zà-ÿ' -]{2,40}?)\s*(?:,|:|-|–|about|of\s+about)?\s*$", re.IGNORECASE)
_LOOSE = frozenset(
    (
        "cake",
        "loaf",
        "piece",
        "ball",
        "sheet",
        "block",
        "box",
        "leaf",
        "glass",
        "bowl",
        "quarter",
        "square",
        "can",
        "bottle",
        "jar",
        "bag",
        "carton",
        "stick",
        "slice",
        "head",
        "stalk",
        "packet",
        "spoon",
        "inch",
        "splash",
        "drizzle",
        "dash",
        "pinch",
        "knob",
        "clove",
        "cup",
        "pat",
        "handful",
        "drop",
    )
)
_NOT_NAME = re.compile(
    r"\s*(?:of\s+)?(?:the\s+)?(?:batter|dough|mixture|butter\s+cream\b|minutes?|hours?|inch|times|pans?|layers?|tins?|pieces|parts|portions|halves|spoons?|measures?|bowls?|cutter|handle|measuring|each\b|hook|sheets?|at\s+a\s+time)",
    re.IGNORECASE,
)


_DISH = re.compile(
    r"[\s-]+(?:cakes?|breads?|rolls?|pies?|cookies?|buns?|puddings?|tarts?|loaves|loaf)\b", re.IGNORECASE
)


@dataclass(slots=True)
class Measured:
    """An amount in running text and the name it measures; ``the``: "1 cup of the sugar", a portion."""

    amount: Amount
    name: Name | None
    name_start: int
    name_end: int
    the: bool = False
    egg_part: str = ""


class Reader:
    """Reads measured names in one text."""

    def __init__(self, text: str, names: Sequence[Name]) -> None:
        self.text, self.names = text, names
        self._starts = [name.start for name in names]

    def _next_name(self, at: int, limit: int) -> Name | None:
        k = bisect_left(self._starts, at)
        return (
            self.names[k]
            if k < len(self.names) and self.names[k].end <= limit + 40 and self.names[k].start <= limit
            else None
        )

    def _previous_name(self, at: int) -> Name | None:
        k = bisect_left(self._starts, at) - 1
        return self.names[k] if k >= 0 else None

    def after(self, amount: Amount, stop: int) -> tuple[Name | None, int, int, bool]:
        """The name right after an amount, its span and whether "the" stands before it."""
        inside = self._previous_name(amount.end)
        if inside is not None and amount.start < inside.start < amount.end < inside.end <= stop:
            return inside, inside.start, inside.end, False  # "half a [cake of compressed yeast]"
        match = _OF.match(self.text, amount.end, stop)
        at = match.end() if match else amount.end
        the = bool(match and match["the"])
        if _NOT_NAME.match(self.text, at):
            return None, at, at, the
        name = self._next_name(at, min(at + 60, stop))
        if name is not None and name.end <= stop:
            between = self.text[at : name.start]
            if not between or (_BETWEEN.fullmatch(between) and not _BREAK.search(between)) or _BRAND.fullmatch(between):
                return self._head(name, stop), at, name.end, the
        return None, at, at, the

    def _head(self, name: Name, stop: int) -> Name:
        """The last of names that follow each other without a word between ("egg" "noodles")."""
        k = bisect_left(self._starts, name.start) + 1
        while (
            k < len(self.names)
            and self.names[k].end <= stop
            and self.text[name.end : self.names[k].start] in (" ", "-")
        ):
            name = self.names[k]
            k += 1
        return name

    def before(self, amount: Amount, start: int) -> Name | None:
        """The name before an amount: "butter the size of an egg", "flour to roll out, about two cups"."""
        name = self._previous_name(amount.start)
        if name is None or name.start < start:
            return None
        between = self.text[name.end : amount.start]
        if amount.unit.startswith("size of"):
            return name if _SIZE_BETWEEN.fullmatch(between) else None
        if _JUST_BEFORE.fullmatch(between):
            return name
        of = self.text[max(0, name.start - 3) : name.start].lower() == "of "
        if of and between.strip() in ("", ","):  # "of butter two-thirds of a cup"
            return name
        return name if _AT_LENGTH.fullmatch(between) and pantry.entry(name.key).role in _POURED_TO_TASTE else None


_SIZE_BETWEEN = re.compile(r"\s*,?\s*(?:about\s+)?(?:(?:half|twice)\s+)?(?:of\s+)?(?:the\s+)?", re.IGNORECASE)
_JUST_BEFORE = re.compile(r"\s*(?:,|:|-|–|\()\s*(?:(?:about|say|perhaps)\s+)*", re.IGNORECASE)
_AT_LENGTH = re.compile(r"[^.;:()]{2,60}\b(?:about|say|perhaps|be|find|nearly|probably)\s+", re.IGNORECASE)
_POURED_TO_TASTE = frozenset(("flour", "liquid"))
_HALF_AS_MUCH = re.compile(r"\bhalf\s+as\s+much(?:\s+(?:of|more))?\s+(?=[a-z])", re.IGNORECASE)
_TOOL = re.compile(r"\b(?:from|with|by|in)\s+(?:the\s+|your\s+)?$", re.IGNORECASE)
_TEST = re.compile(r"\s+(?:dances?|skips?|sizzles?|flicked|that\s+falls|thrown|splashed|will\s+\w+)\b", re.IGNORECASE)
_UNNAMED = re.compile(r"\s*(?:of\s+)?((?:[a-zà-ÿ'-]+\s?){1,3})", re.IGNORECASE)


def measured(
    text: str,
    start: int,
    end: int,
    amounts: Sequence[Amount],
    names: Sequence[Name],  # noqa: ARG001
    reader: Reader,
) -> list[Measured]:
    """Every amount in text[start:end] with the name it measures, in order; numbers that measure nothing are left out.

    amounts: those found there. A bare number takes the unit before it where "of" follows ("one of sugar"); "half as
    much cloves" is half of what was measured before.
    """
    before = named_before(text, amounts, reader.names)
    if before:
        told = ((_piece(amount), before[amount.start]) for amount in amounts if amount.start in before)
        return [Measured(amount, name, name.start, name.end) for amount, name in told]
    out: list[Measured] = []
    unit = ""
    taken = start
    for k, amount in enumerate(amounts):
        following = amounts[k + 1] if k + 1 < len(amounts) else None
        stop = following.start if following is not None and following.unit else end
        if (out and amount.start < out[-1].amount.end) or _is_lump(amount, following):
            continue
        found = _one(text, start, min(stop, end), amount, reader, unit, taken)
        if found is None:
            continue
        if found.amount.unit not in ("each", ""):
            unit = found.amount.unit
        taken = max(found.name_end, amount.end)
        out.append(found)
    return _half_as_much(text, start, end, out, reader) if "as much" in text[start:end] else out


def _piece(amount: Amount) -> Amount:
    return amount if amount.unit else replace(amount, unit="each")


def _is_lump(amount: Amount, following: Amount | None) -> bool:
    """Read "a piece of butter the size of an egg": the size measures it, not the piece."""
    return (
        amount.unit in _LOOSE
        and following is not None
        and following.unit.startswith("size of")
        and following.start < amount.end + 40
    )


def _half_as_much(text: str, start: int, end: int, out: list[Measured], reader: Reader) -> list[Measured]:
    for match in _HALF_AS_MUCH.finditer(text, start, end):
        before = [one for one in out if one.amount.end <= match.start() and one.amount.quantity is not None]
        if not before:
            continue
        whole = before[-1].amount
        words = text[match.start() : match.end()].rstrip()
        amount = replace(
            whole, start=match.start(), end=match.start() + len(words), text=words,
            quantity=(whole.quantity or Fraction(0)) / 2, quantity_max=None, count=None,
        )  # fmt: skip
        name, at, name_end, the = reader.after(amount, end)
        if name is not None:
            out.append(Measured(amount, name, at, name_end, the))
    return sorted(out, key=lambda one: one.amount.start)


def _one(text: str, start: int, stop: int, amount: Amount, reader: Reader, unit: str, taken: int) -> Measured | None:
    name, at, name_end, the = reader.after(amount, stop)
    if name is None or (amount.unit.startswith("size of") and text[amount.end : at].strip() != "of"):
        previous = reader.before(amount, max(start, taken)) if amount.unit else None
        if previous is not None:
            return Measured(amount, previous, previous.start, previous.end)
        if amount.unit.startswith("size of"):
            return None
    if not amount.unit:
        part = _YOLKS.search(text, max(start, amount.start - 40), amount.start)
        return _bare(text, amount, name, at, name_end, the, unit, part)
    if name is None:
        return _nameless(text, stop, amount, the)
    role = pantry.entry(name.key).role
    if (amount.unit == "cake" and role != "yeast") or (amount.unit in _VESSEL and role not in ("liquid", "syrup")):
        return None
    if amount.unit == "drop" and _TEST.match(text, name_end):
        return None
    return Measured(amount, name, at, name_end, the)


_OF_IT = re.compile(r"\bof\b")
_VESSEL = frozenset(("loaf", "ball", "sheet", "bowl", "inch", "glass"))


def _nameless(text: str, stop: int, amount: Amount, the: bool) -> Measured | None:
    """A measure of something the pantry does not know."""
    if amount.unit in _LOOSE or _NOT_NAME.match(text, amount.end) or _TOOL.search(text[: amount.start][-10:]):
        return None
    words = _UNNAMED.match(text, amount.end, stop)
    if not words or len(words[1].strip()) < 3 or _BREAK.match(words[1]) or _LITTLE.match(words[1]):
        return None
    return Measured(amount, None, words.start(1), words.end(1), the)


_LITTLE = re.compile(
    r"(?:upon|over|onto|under|through|an?|its|their|his|her|would|will|may|can|makes?|each|apart|thick|deep|long|wide|more|less|or|so|as|but|if|by|kept|every|all)\b",
    re.IGNORECASE,
)


def _bare(
    text: str,
    amount: Amount,
    name: Name | None,
    at: int,
    name_end: int,
    the: bool,
    unit: str,
    part: re.Match[str] | None,
) -> Measured | None:
    if name is None or _DISH.match(text, name_end):
        return None
    entry = pantry.entry(name.key)
    if part is not None or entry.role == "egg" or entry.countable or entry.piece_g:
        if part is None and entry.role != "egg" and amount.text.lower() in ("a", "an"):
            return None
        what = part["what"].lower().rstrip("s") if part else ""
        begin = part.start() if part else at
        return Measured(replace(amount, unit="each"), name, begin, name_end, the, what)
    if unit and not the and _OF_IT.search(text[amount.end : at]):
        return Measured(replace(amount, unit=unit), name, at, name_end)
    return None
