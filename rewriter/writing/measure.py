"""From exact corrections to measured Changes, in the recipe's own manner."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from rewriter.model import Amount, Change, Edit, Heat, Plan, Recipe, Twin
from rewriter.writing import heats
from rewriter.writing.amounts import addition, amount
from rewriter.writing.figures import Bound
from rewriter.writing.manner import Voice, listen
from rewriter.writing.method import at_line_end, in_method
from rewriter.writing.portions import Share, shares

DUAL = 30  # characters between two measures of one ingredient, at most


def measure(text: str, recipe: Recipe, plan: Plan) -> list[Change]:
    """The measured changes of one recipe, in reading order.

    Each Edit of ``plan.edits`` becomes a Change whose ``new`` a person can measure; an edit whose rounded figure is
    the old one becomes none. An oven setting changes all its figures. Portions of a changed ingredient in the method
    follow it, so that they still add up; what is added to the list is named again where the method uses it.
    Offsets count characters of ``text``. Never raises for edits whose places lie inside the text.

    >>> from rewriter.model import Ingredient
    >>> cup = Amount(0, 5, "1 cup", Fraction(1), unit="cup")
    >>> sugar = Ingredient(0, 11, "sugar", "sugar", "batter", (cup,))
    >>> less = Edit("sugar", 0, 5, "down", Fraction(15, 16), "it sets sooner", "", target=cup, ingredient=sugar)
    >>> [change.new for change in measure("1 cup sugar", Recipe("", "cookie", (sugar,)), Plan((less,)))]
    ['1 cup less 1 Tbsp']
    """
    voice = listen(text, recipe.start, recipe.end or len(text))
    spans = {(portion.start, portion.end) for portion in recipe.portions if portion.quantity is not None}
    totals = tuple(edit for edit in plan.edits if (edit.start, edit.end) not in spans)
    changes = added_once(measured(text, totals, voice, recipe))
    for share in shares(text, recipe, plan.edits, voice):
        changes.append(_of_share(text, share))
    changes += [_in_method(change, place) for change, place in in_method(text, recipe, changes)]
    return sorted(changes, key=lambda change: (change.start, change.end))


def added_once(changes: list[Change]) -> list[Change]:
    """Changes with what is added beside both measures of a dual amount said once: "+ 2 Tbsp (35 ml) water"."""
    out: list[Change] = []
    for change in changes:
        last = next((c for c in reversed(out) if c.addition), None) if change.addition else None
        twice = last is not None and _alike(last, change)
        if last is not None and twice:
            measure_ = change.new.removeprefix("+ ").removesuffix(change.addition).strip()
            words = last.new.removesuffix(last.addition).strip()
            out[out.index(last)] = replace(last, new=f"{words} ({measure_}) {last.addition}")
        else:
            out.append(change)
    return out


def _alike(one: Change, other: Change) -> bool:
    """Whether two additions are one, beside two measures of the same ingredient."""
    near = 0 < other.start - one.end < DUAL and one.start != one.end
    return near and one.step == other.step == "now" and (one.rule, one.ingredient, one.addition) == (
        other.rule, other.ingredient, other.addition,
    )  # fmt: skip


def measured(text: str, edits: Sequence[Edit], voice: Voice, recipe: Recipe | None = None) -> list[Change]:
    """The measured changes of some edits (without portions)."""
    own = {(edit.start, edit.end) for edit in edits if isinstance(edit.target, Twin)}
    heats_there = recipe.heats if recipe else ()
    return [change for edit in edits for change in _changes(text, edit, voice, own, heats_there, recipe)]


def _changes(
    text: str, edit: Edit, voice: Voice, own: set[tuple[int, int]], there: Sequence[Heat], recipe: Recipe | None
) -> Iterator[Change]:
    target = edit.target
    if isinstance(target, Heat):
        yield from _heat_changes(text, edit, target, own)
    elif isinstance(target, Twin):
        heat = next((heat for heat in there if target in heat.twins), None)
        yield from _set(text, edit, target, heat, target.start, target.end)
    elif edit.addition:
        place = at_line_end(text, edit, recipe) if edit.start == edit.end else edit.end
        yield _change(
            text, edit, addition(edit, voice), min(place, edit.start) if edit.start != edit.end else place, place
        )
    elif edit.exact is None:
        yield _change(text, edit, edit.why)
    elif isinstance(target, Amount):
        new = amount(target, edit.exact, edit.exact_max, voice, Bound.of(edit))
        if new is not None:
            yield _change(text, edit, new.words)


def _heat_changes(text: str, edit: Edit, heat: Heat, own: set[tuple[int, int]]) -> Iterator[Change]:
    """The figure written first, then each twin that has no edit of its own."""
    first = min((twin.start for twin in heat.twins if twin.start > heat.start), default=heat.end)
    end = heat.end if heat.end <= first else heat.start + len(text[heat.start : first].rstrip(" \t\u00a0(/,;-–—"))
    yield from _set(text, edit, heat, heat, heat.start, end)
    for twin in heat.twins:
        if (twin.start, twin.end) not in own and twin.scale != "word":
            yield from _set(text, edit, twin, heat, twin.start, twin.end)


def _set(text: str, edit: Edit, setting: Heat | Twin, heat: Heat | None, start: int, end: int) -> Iterator[Change]:
    if edit.exact is None:
        return
    old = text[start:end]
    new = heats.reset(setting, heat, old, edit.exact, edit.exact_max)
    if new != old:
        yield _change(text, edit, new, start, end)


def _of_share(text: str, share: Share) -> Change:
    return _change(text, share.edit, share.words, share.start, share.end, share.exact)


def _in_method(change: Change, place: int) -> Change:
    """The same addition again, where the method uses it: a note, so that nobody counts it twice."""
    return Change(
        place, place, "", change.new, "note", change.exact, change.rule, change.why, change.source,
        addition=change.addition, ingredient=change.ingredient, unit=change.unit,
    )  # fmt: skip


def _change(
    text: str, edit: Edit, new: str, start: int | None = None, end: int | None = None, exact: Fraction | None = None
) -> Change:
    start, end = edit.start if start is None else start, edit.end if end is None else end
    unit = edit.unit or (edit.target.unit if isinstance(edit.target, Amount) else "F" if edit.target else "")
    return Change(
        start=start,
        end=end,
        old=text[start:end],
        new=new,
        direction=edit.direction,
        exact=edit.exact if exact is None else exact,
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
