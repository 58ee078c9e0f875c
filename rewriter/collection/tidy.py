"""Clean a card up: layout, units and fractions in the family's manner, scanning mended, old words explained.

A card is read again after each kind of change; whatever would alter what is read in it is left as it was.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rewriter import api
from rewriter.collection.gaps import gaps
from rewriter.collection.manner import Manner, respelled
from rewriter.collection.mending import Mend, explained, scanning
from rewriter.collection.reading import has_jars
from rewriter.errors import Unusable
from rewriter.model import Recipe

_BULLET = re.compile(r"[ \t]*(?:[-*•·–▢□◦+]|\[ ?\])[ \t]+")
_BLANKS = re.compile(r"\n{3,}")
_FIGURE_BEFORE = re.compile(r"(?:\d|(?<![A-Za-z])[lIO|])[ \t]?$")  # what may be the first half of a garbled figure
JARS = "a card for jars or processing is left as it is"
ANNOTATED = "it carries annotations: take them out first"


@dataclass(frozen=True, slots=True)
class Tidied:
    """A card before and after. gaps: what is missing in it. left: why it was left alone. whys: kinds of mend."""

    before: str
    after: str
    gaps: tuple[str, ...] = ()
    left: str = ""
    whys: tuple[str, ...] = ()

    @property
    def changed(self) -> bool:
        """Whether anything is to be changed."""
        return self.before != self.after

    def diff(self) -> str:
        """What changes, line by line, as a unified diff."""
        lines = difflib.unified_diff(
            self.before.splitlines(), self.after.splitlines(), "as it is", "tidied", lineterm="", n=1
        )
        return "\n".join(lines) + ("\n" if self.changed else "")


def tidied(text: str, chosen: Manner) -> Tidied:
    r"""A card tidied in a manner.

    >>> card = "Snow Buns\n\n2 c. flour\n1½ tbsp. sugar\n1 cup sweet milk\n\nBake at 350 F in a pan. Makes 12.\n"
    >>> print(tidied(card, Manner()).after.split("\n\n")[1])
    2 cups flour
    1 1/2 Tbsp sugar
    1 cup sweet milk [whole milk]
    """
    try:
        source, recipes, _ = api.original(text)
    except Unusable as error:
        return Tidied(text, text, left=str(error))
    recipe = recipes[0]
    missing = tuple(gaps(source, recipe))
    if any(has_jars(one) for one in recipes):
        return Tidied(text, text, missing, JARS)
    if source != text:
        return Tidied(text, text, missing, ANNOTATED)
    now, whys = text, []
    for step in (_respelled, _scanned, _explained):
        now, recipe, done = _applied(now, recipe, list(step(now, recipe, chosen)))
        whys += done
    shaped = laid_out(now, recipe, chosen)
    if shaped != now and _read_alike(_signature(recipe), shaped) is not None:
        now = shaped
        whys.append("layout")
    return Tidied(text, now, missing, whys=tuple(dict.fromkeys(whys)))


def laid_out(text: str, recipe: Recipe, chosen: Manner) -> str:
    """The card with one line end, no trailing blanks, no gaps of two empty lines, its list with one bullet."""
    listed = {text.count("\n", 0, one.start) for one in recipe.ingredients if one.listed}
    lines = []
    for number, line in enumerate(text.split("\n")):
        line = re.sub(r"[ \t\xa0]*\t[ \t\xa0]*", "  ", line.rstrip("\r").replace("\xa0", " ")).rstrip()
        if number in listed and chosen.bullets != "as written":
            line = _BULLET.sub("", line, count=1) if _BULLET.match(line) else line
            line = line if chosen.bullets == "none" else f"{chosen.bullets} {line.lstrip()}"
        lines.append(line)
    return _BLANKS.sub("\n\n", "\n".join(lines)).strip("\n") + "\n"


def _respelled(text: str, recipe: Recipe, chosen: Manner) -> Iterator[Mend]:
    for one in recipe.ingredients:
        if one.listed:
            for amount in one.amounts:
                new = respelled(amount, chosen)
                if new is not None and not _FIGURE_BEFORE.search(text, max(0, amount.start - 4), amount.start):
                    yield Mend(amount.start, amount.end, new, "units and fractions")


def _scanned(text: str, recipe: Recipe, _: Manner) -> Iterator[Mend]:
    yield from scanning(text, recipe)


def _explained(text: str, recipe: Recipe, _: Manner) -> Iterator[Mend]:
    yield from explained(text, recipe)


def _applied(text: str, recipe: Recipe, mends: Sequence[Mend]) -> tuple[str, Recipe, list[str]]:
    """The text with the mends that leave its reading as it was (all at once, else one by one), its reading, and why."""
    whole = mended(text, mends)
    if whole == text:
        return text, recipe, []
    before = _signature(recipe)
    read = _read_alike(before, whole)
    if read is not None:
        return whole, read, [mend.why for mend in mends]
    kept: list[Mend] = []
    for mend in mends:
        again = _read_alike(before, mended(text, [*kept, mend]))
        if again is not None:
            kept.append(mend)
            recipe = again
    return mended(text, kept), recipe, [mend.why for mend in kept]


def mended(text: str, mends: Iterable[Mend]) -> str:
    """A text with mends applied, the last first; one that overlaps another is left out."""
    last = len(text) + 1
    for mend in sorted(mends, key=lambda one: (one.start, one.end), reverse=True):
        if mend.end <= last:
            text = text[: mend.start] + mend.new + text[mend.end :]
            last = mend.start
    return text


@dataclass(frozen=True, slots=True)
class _Signature:
    """What is read in a recipe: of each ingredient its key, role, part and amounts; its heats; its kind."""

    lines: tuple[tuple[object, ...], ...]
    heats: tuple[tuple[object, ...], ...]
    kind: str


def _signature(recipe: Recipe) -> _Signature:
    lines = tuple(
        (one.key, one.role, one.part, tuple((a.quantity, a.quantity_max, a.unit, a.count) for a in one.amounts))
        for one in recipe.ingredients
    )
    heats = tuple((heat.fahrenheit, heat.place, heat.purpose) for heat in recipe.heats)
    return _Signature(lines, heats, recipe.kind)


def _read_alike(before: _Signature, text: str) -> Recipe | None:
    """A text's reading where it is as before, else None.

    An explained amount may have its explanation as a second measure, and a mended heat may be read at last.
    """
    try:
        recipe = api.original(text)[1][0]
    except Unusable:
        return None
    after = _signature(recipe)
    if len(after.lines) != len(before.lines) or after.kind != before.kind:
        return None
    left = iter(after.heats)
    heats = all(heat in left for heat in before.heats)  # in order, with others between
    alike = heats and all(_alike(a, b) for a, b in zip(before.lines, after.lines, strict=True))
    return recipe if alike else None


def _alike(before: tuple[object, ...], after: tuple[object, ...]) -> bool:
    key, role, part, amounts = before
    new_key, new_role, new_part, new_amounts = after
    assert isinstance(amounts, tuple)
    assert isinstance(new_amounts, tuple)
    named = key == new_key or key is None  # a mended name may be known at last
    return named and (role == new_role or key is None) and part == new_part and new_amounts[: len(amounts)] == amounts
