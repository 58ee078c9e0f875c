"""Amounts in the method that are part of a changed one: they change with it, and still add up.

A quantity portion ("3/4 cup of the sugar") is scaled; the remaining one, or else the largest, takes what is left of
the new total; a restated amount follows it. Shares ("half the sugar") need nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from rewriter.model import Amount, Edit, Portion, Recipe
from rewriter.writing.amounts import amount
from rewriter.writing.figures import Bound, egg_part, spoon_size
from rewriter.writing.figures import measured as figure
from rewriter.writing.manner import Voice, manner, unit_token
from rewriter.writing.units import dimension, size

_LEAD = re.compile(
    r"(?:(?:the|this|that|other|remaining|rest|of|last|first|reserved|all|about|another|with|in)\s+)+", re.I
)
_BARE = re.compile(r"\d+(?:[.,]\d+)?(?:\s*[/⁄]\s*\d+)?|[¼-¾⅐-⅞]|\w+")
_ROUGH_TSP, _ROUGH_G = Fraction(1, 2), Fraction(1)


@dataclass(frozen=True, slots=True)
class Share:
    """A portion's new words, the place of its amount, its exact new quantity, and the edit behind it."""

    edit: Edit
    start: int
    end: int
    words: str
    exact: Fraction


@dataclass(frozen=True, slots=True)
class _Part:
    """A portion as an amount, with its old and exact new size in a unit common to the ingredient."""

    portion: Portion
    amount: Amount
    each: Fraction
    exact: Fraction
    edit: Edit | None

    @property
    def old(self) -> Fraction:
        return (self.portion.quantity or Fraction(0)) * self.each


def shares(text: str, recipe: Recipe, edits: tuple[Edit, ...], voice: Voice) -> Iterator[Share]:
    """The new words of every quantity portion whose ingredient changes."""
    by_span = {(edit.start, edit.end): edit for edit in edits if isinstance(edit.target, Amount)}
    by_item: dict[int, list[Portion]] = {}
    advice = [(fact.start, fact.end) for fact in recipe.facts if fact.kind == "altitude-note"]
    for portion in recipe.portions:
        if any(start <= portion.start < end for start, end in advice):
            continue  # the recipe's own figures for altitude
        if portion.quantity is not None and portion.quantity > 0 and portion.sure:
            by_item.setdefault(portion.ingredient.start, []).append(portion)
    for portions in by_item.values():
        item = portions[0].ingredient
        totals = [by_span[a.start, a.end] for a in item.amounts if (a.start, a.end) in by_span]
        totals = [edit for edit in totals if edit.exact is not None and not edit.addition]
        if totals:
            yield from _of_item(text, portions, totals, by_span, voice)


def _of_item(
    text: str, portions: list[Portion], totals: list[Edit], by_span: dict[tuple[int, int], Edit], voice: Voice
) -> Iterator[Share]:
    for kind in dict.fromkeys(dimension(portion.unit) for portion in portions):
        mine = [portion for portion in portions if dimension(portion.unit) == kind]
        total = next((edit for edit in totals if _amount(edit) and dimension(_amount(edit).unit) == kind), None)
        parts = [
            _part(text, portion, total or totals[0], by_span.get((portion.start, portion.end))) for portion in mine
        ]
        if total is None:
            yield from (share for part in parts for share in _alone(part, totals[0], voice))
        else:
            yield from _together(parts, total, voice)


def _amount(edit: Edit) -> Amount:
    assert isinstance(edit.target, Amount)
    return edit.target


def _part(text: str, portion: Portion, total: Edit, edit: Edit | None) -> _Part:
    start, end = place(text, portion)
    got = Amount(start, end, text[start:end], portion.quantity, unit=portion.unit, system=_amount(total).system)
    each = (
        spoon_size(got) if dimension(got.unit) == "volume" else size(got.unit) if dimension(got.unit) else Fraction(1)
    )
    old = portion.quantity or Fraction(0)
    was = _amount(total).quantity or Fraction(1)
    exact = edit.exact if edit and edit.exact is not None else old
    if edit is None and portion.of == "restated" and total.exact is not None:
        exact = old * total.exact / was
    return _Part(portion, got, each, exact * each, edit)


def place(text: str, portion: Portion) -> tuple[int, int]:
    """Where the amount stands in a portion's words: "the remaining 3/4 cup sugar" is "3/4 cup"."""
    words = text[portion.start : portion.end]
    lead = _LEAD.match(words)
    start = lead.end() if lead else 0
    token = unit_token(words[start:], portion.unit)
    if token is not None:
        return portion.start + start, portion.start + start + token.end()
    bare = _BARE.search(words, start)
    return (portion.start + bare.start(), portion.start + bare.end()) if bare else (portion.start, portion.end)


def _alone(part: _Part, total: Edit, voice: Voice) -> Iterator[Share]:
    """A portion in a unit its total is not written in: measured by itself."""
    new = amount(part.amount, part.exact / part.each, None, voice, Bound.of(total))
    if new is not None:
        yield Share(part.edit or total, part.amount.start, part.amount.end, new.words, part.exact / part.each)


def _together(parts: list[_Part], total: Edit, voice: Voice) -> Iterator[Share]:
    whole = _amount(total)
    each = (
        spoon_size(whole)
        if dimension(whole.unit) == "volume"
        else size(whole.unit)
        if dimension(whole.unit)
        else Fraction(1)
    )
    bound = Bound.of(total)
    rounded = amount(whole, total.exact or Fraction(0), None, voice, bound)
    old = (whole.quantity or Fraction(0)) * (whole.count or 1) * each
    if rounded is None:
        return
    new = rounded.value * each
    dealt = [part for part in parts if part.portion.of != "restated"]
    sizes = _deal(dealt, old, new, bound, voice)
    sizes += [(part, new if part.old == old else None) for part in parts if part.portion.of == "restated"]
    for part, fixed in sizes:
        if fixed is None:
            yield from _alone(part, total, voice)
        elif fixed != part.old:
            yield _share(part, total, fixed, voice)


def _share(part: _Part, total: Edit, fixed: Fraction, voice: Voice) -> Share:
    how = manner(part.amount.text, part.amount.unit, voice)
    exact = Bound(Fraction(0), egg=egg_part(total.ingredient))
    new = figure(part.amount, part.old / part.each, fixed / part.each, how, exact)
    return Share(part.edit or total, part.amount.start, part.amount.end, how.lead + new.words, part.exact / part.each)


def _even(parts: list[_Part], new: Fraction) -> Fraction | None:
    """The size of each where all are equal and an equal share can be measured (1/4 tsp, or a gram); else None."""
    each = new / len(parts)
    step = Fraction(1, 4) if dimension(parts[0].amount.unit) == "volume" else Fraction(1)
    same = len(parts) > 1 and len({part.old for part in parts}) == 1 and (each / step).denominator == 1
    return each if same and all(part.edit is not None or part.exact != part.old for part in parts) else None


def _deal(
    parts: list[_Part], old: Fraction, new: Fraction, bound: Bound, voice: Voice
) -> list[tuple[_Part, Fraction | None]]:
    """The sizes of portions that make up a whole: all rounded but one, which takes the rest. None: measured alone."""
    if not parts or sum(part.old for part in parts) != old:
        return [(part, None) for part in parts]
    taker = next((part for part in parts if part.portion.of == "remaining"), None)
    taker = taker or max(parts, key=lambda part: part.old)
    same = _even(parts, new)
    if same is not None:
        return [(part, same) for part in parts]
    loose = bound if bound.least_tsp else Bound(least_tsp=_ROUGH_TSP, least_g=_ROUGH_G, egg=bound.egg)
    sizes: list[tuple[_Part, Fraction | None]] = []
    left = new
    for part in parts:
        if part is taker:
            continue
        how = manner(part.amount.text, part.amount.unit, voice)
        got = figure(part.amount, part.old / part.each, part.exact / part.each, how, loose)
        size_ = got.value * part.each if part.exact != part.old else part.old
        sizes.append((part, size_))
        left -= size_
    if left <= 0:
        return [(part, None) for part in parts]
    return [*sizes, (taker, left)]
