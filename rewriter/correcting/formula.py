"""A batter as a baker's-percentage table: weights with an honest range, hydration, sugar, lift, acid, and balance.

>>> from rewriter.model import Amount, Ingredient, Part
>>> flour = Ingredient(0, 9, "flour", "flour", "batter", (Amount(0, 5, "500 g", Fraction(500), unit="g"),))
>>> measure = Amount(9, 14, "325 g", Fraction(325), unit="g")
>>> water = Ingredient(9, 19, "water", "liquid", "batter", (measure,), key="water")
>>> table = formulas(Recipe("Loaf", "lean-yeast", (flour, water), parts=(Part("batter", "lean-yeast"),)))[0]
>>> table.rows[1].percent, table.hydration
(Fraction(65, 1), Fraction(65, 1))
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter.correcting.balance import Rule, check
from rewriter.correcting.batch import Batch, every_batch
from rewriter.correcting.chemistry import Soda, flour_g, hydration, soda_side, sugar_g
from rewriter.correcting.weigh import grams, spread
from rewriter.model import Amount, Edit, Ingredient, Plan, Recipe

ZERO, HUNDRED = Fraction(0), Fraction(100)


@dataclass(frozen=True, slots=True)
class FormulaRow:
    """One ingredient: grams (None: unknown), the lowest and highest its cups may weigh, percent of the flour."""

    name: str
    role: str
    grams: Fraction | None
    low: Fraction | None
    high: Fraction | None
    percent: Fraction | None


@dataclass(frozen=True, slots=True)
class Formula:
    """A batter by weight.

    flour: grams of flour and starch. hydration: its water in percent of flour, counting milk, eggs, butter and honey.
    sugar: all its sugar in percent of flour, counting honey, syrups and condensed milk. lift: baking-powder
    equivalents, tsp a cup of flour. soda: what soda or acid is left over. rules: the balance rules that apply.
    unweighed: the names whose weight is unknown, so that the figures are too low by them.
    """

    kind: str
    group: int
    rows: tuple[FormulaRow, ...]
    flour: Fraction
    hydration: Fraction | None
    sugar: Fraction | None
    lift: Fraction | None
    soda: Soda
    rules: tuple[Rule, ...]
    unweighed: tuple[str, ...]


def formulas(recipe: Recipe, plan: Plan | None = None) -> list[Formula]:
    """The table of every batter and dough of a recipe, as written or, with a plan, as corrected by it."""
    changed = recipe if plan is None else after(recipe, plan)
    return [_formula(batch) for batch in every_batch(changed)]


def after(recipe: Recipe, plan: Plan) -> Recipe:
    """The recipe with its exact corrected amounts in place, and added water as an ingredient of its own."""
    edits = {(e.start, e.end): e for e in plan.edits if e.step == "now" and e.exact is not None}
    moved = [_corrected(one, edits) for one in recipe.ingredients]
    return replace(recipe, ingredients=(*moved, *_added(plan)))


def _corrected(one: Ingredient, edits: dict[tuple[int, int], Edit]) -> Ingredient:
    amounts = tuple(_moved(a, edits.get((a.start, a.end))) for a in one.amounts)
    if amounts == one.amounts:
        return one
    old, new = (next((a.quantity for a in some if a.quantity), None) for some in (one.amounts, amounts))
    weight = one.grams * float(new / old) if one.grams is not None and old and new else None
    return replace(one, amounts=amounts, grams=weight)


def _moved(amount: Amount, edit: Edit | None) -> Amount:
    if edit is None or edit.addition:
        return amount
    return replace(amount, quantity=edit.exact, quantity_max=edit.exact_max)


def _added(plan: Plan) -> list[Ingredient]:
    found: dict[int, Ingredient] = {}
    for edit in plan.edits:
        if edit.addition == "water" and edit.step == "now" and edit.exact is not None:
            owner = edit.ingredient.start if edit.ingredient else edit.start
            amount = Amount(edit.start, edit.end, "", edit.exact, unit=edit.unit)
            water = Ingredient(edit.end, edit.end, "water (added)", "liquid", "batter", (amount,), key="water")
            found.setdefault(owner, replace(water, group=edit.group))
    return list(found.values())


def _formula(batch: Batch) -> Formula:
    weighed = [(one, grams(one)) for one in batch.members]
    flour = sum((flour_g(one) for one in batch.members), ZERO)
    sugar = sum((sugar_g(one) for one in batch.members), ZERO)
    wet, cups = hydration(batch), batch.flour_cups
    return Formula(
        kind=batch.kind,
        group=batch.group,
        rows=tuple(_row(one, g, flour) for one, g in weighed),
        flour=flour,
        hydration=None if wet is None else HUNDRED * wet,
        sugar=HUNDRED * sugar / flour if flour else None,
        lift=batch.lift.total / cups if cups else None,
        soda=soda_side(batch),
        rules=tuple(check(batch)),
        unweighed=tuple(one.name for one, g in weighed if g is None and one.role not in ("other", "salt")),
    )


def _row(one: Ingredient, weight: Fraction | None, flour: Fraction) -> FormulaRow:
    low, high = spread(one) or (None, None)
    percent = HUNDRED * weight / flour if weight is not None and flour else None
    return FormulaRow(one.name, one.role, weight, low, high, percent)
