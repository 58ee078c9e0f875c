"""Groups of an ingredient list and the part that each group's heading tells."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from rewriter.model import Ingredient
from rewriter.reading.layout import Line
from rewriter.reading.units import table

_PART_WORDS = table("layout")["part_word"]
_WORDS: dict[str, frozenset[str]] = {part: frozenset(words) for part, words in _PART_WORDS.items()}
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)?")
RAISING = frozenset(("leavener", "yeast", "self-rising"))


@dataclass(slots=True)
class Group:
    """A group of the ingredient list: its heading (or ""), its lines and the part it is."""

    heading: str
    start: int
    end: int
    members: list[int]
    part: str = "batter"
    told: bool = False
    """told: the heading (not only the place) says the part."""


def heading_part(heading: str) -> str | None:
    """The part a heading's words tell: the last telling word wins; None where it tells none.

    >>> [heading_part(words) for words in ("For the cream cheese frosting:", "Sour Cream Cake", "Streusel Topping")]
    ['frosting', 'batter', 'topping']
    """
    words = _WORD.findall(re.sub(r"\(.*?\)|(?<=\w)\s+(?:for|over)\s+.*", "", heading.lower()))
    if any(word in ("frosting", "icing", "glaze", "buttercream", "ganache", "streusel") for word in words) and not any(
        w in ("cake", "cakes") for w in words[-1:]
    ):
        return "topping" if "streusel" in words else "frosting"
    for word in reversed(words):
        for part in ("frosting", "filling", "topping", "dusting", "serving", "batter", "other"):
            if word in _WORDS[part]:
                if (
                    word in ("filling", "garnish", "garnishes", "coating", "cream", "butter", "base")
                    and part == "batter"
                ):
                    continue
                return part
    return None


def group_parts(groups: Sequence[Group], ingredients: Sequence[Ingredient]) -> None:
    """Give each headed group its part, from its heading and from what stands in it."""
    for group in groups:
        roles = {ingredients[i].role for i in group.members}
        part = heading_part(group.heading) if group.heading else None
        flour = sum(ingredients[i].grams or 0 for i in group.members if ingredients[i].role in ("flour", "self-rising"))
        if (
            group.heading
            and part != "batter"
            and "flour" in roles | {"flour" for r in roles if r == "self-rising"}
            and roles & RAISING
            and flour >= 60
        ):
            part = "batter"
        group.told = part not in (None, "other")
        group.part = (
            part if part not in (None, "other") else ("batter" if not group.heading or part is None else "serving")
        )
        if group.heading and part is None and not roles & (RAISING | {"flour"}):
            group.told = False


def groups_of(lines: Sequence[Line], spans: Sequence[tuple[Line | None, int, int]]) -> list[Group]:
    """The groups of a list from its layout; a list without headings falls apart at the few blank lines inside it."""
    groups = []
    for heading, first, last in spans:
        cuts = [first]
        if heading is None:
            gaps = [k for k in range(first + 1, last) if lines[k].gap]
            blocks = [*gaps, last]
            if len(gaps) <= 3 and all(b - a >= 2 for a, b in zip([first, *gaps], blocks, strict=True)):
                cuts += gaps
        for begin, stop in zip(cuts, [*cuts[1:], last], strict=True):
            start = heading.start if heading else lines[begin].start
            groups.append(Group(heading.text if heading else "", start, lines[stop - 1].end, list(range(begin, stop))))
    return groups
