"""From exact corrections to measured Changes, in the recipe's own manner."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from rewriter.model import Amount, Change, Edit, Heat, Plan, Recipe, Twin
from rewriter.writing import heats
from rewriter.writing.amounts import Bound, addition, amount
from rewriter.writing.manner import Voice, listen
from rewriter.writing.portions import portion_changes

if TYPE_CHECKING:
    from collections.abc import Iterator


def measure(text: str, recipe: Recipe, plan: Plan) -> list[Change]:
    """The measured changes of one recipe, in reading order.

    Each Edit of ``plan.edits`` becomes a Change whose ``new`` a person can measure; an edit whose rounded figure is
    the old one becomes none. An oven setting changes all its figures. Portions of a changed ingredient in the method
    follow, so that they still add up.
    """
    voice = listen(text, recipe.start, recipe.end or len(text))
    changes = measured(text, plan.edits, voice)
    taken = {(change.start, change.end) for change in changes if not change.addition}
    changes += portion_changes(text, recipe, plan.edits, changes, voice, taken)
    return sorted(changes, key=lambda change: (change.start, change.end))


def measured(text: str, edits: tuple[Edit, ...], voice: Voice) -> list[Change]:
    """The measured changes of some edits (without portions)."""
    own = {(edit.start, edit.end) for edit in edits if isinstance(edit.target, Twin)}
    return [change for edit in edits for change in _changes(text, edit, voice, own)]


def _changes(text: str, edit: Edit, voice: Voice, own: set[tuple[int, int]]) -> Iterator[Change]:
    target = edit.target
    if isinstance(target, Heat):
        yield from _heat_changes(text, edit, target, own)
    elif isinstance(target, Twin):
        yield from _set(text, edit, target, None, target.start, target.end)
    elif edit.addition:
        yield _change(text, edit, addition(edit, voice, target))
    elif edit.exact is None:
        yield _change(text, edit, edit.why)
    elif isinstance(target, Amount):
        new = amount(text, target, edit.exact, edit.exact_max, voice, Bound.of(edit))
        if new is not None:
            yield _change(text, edit, new)


def _heat_changes(text: str, edit: Edit, heat: Heat, own: set[tuple[int, int]]) -> Iterator[Change]:
    """The figure written first, then each twin that has no edit of its own."""
    end = min((twin.start for twin in heat.twins if twin.start > heat.start), default=heat.end)
    stop = heat.end if heat.end <= end else heat.start + len(text[heat.start : end].rstrip(" \t\u00a0(/,;-–—"))
    yield from _set(text, edit, heat, heat, heat.start, stop)
    for twin in heat.twins:
        if (twin.start, twin.end) not in own:
            yield from _set(text, edit, twin, heat, twin.start, twin.end)


def _set(text: str, edit: Edit, setting: Heat | Twin, heat: Heat | None, start: int, end: int) -> Iterator[Change]:
    if edit.exact is None:
        return
    old = text[start:end]
    new = heats.reset(setting, heat, old, edit.exact, edit.exact_max)
    if new != old:
        yield _change(text, edit, new, start, end)


def _change(text: str, edit: Edit, new: str, start: int | None = None, end: int | None = None) -> Change:
    start, end = edit.start if start is None else start, edit.end if end is None else end
    unit = edit.unit or (edit.target.unit if isinstance(edit.target, Amount) else "F" if edit.target else "")
    return Change(
        start=start,
        end=end,
        old=text[start:end],
        new=new,
        direction=edit.direction,
        exact=edit.exact,
        rule=edit.rule,
        why=edit.why,
        source=edit.source,
        exact_max=edit.exact_max,
        sure=edit.sure,
        addition=edit.addition,
        ingredient=edit.ingredient.name if edit.ingredient else "",
        step=edit.step,
        unguarded=edit.unguarded,
        unit=unit,
    )
