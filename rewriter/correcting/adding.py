"""Adding liquid to a batter: which liquid takes it, and the edits that say so in the recipe's own measures."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from rewriter.correcting.batch import Batch
from rewriter.correcting.changing import as_amount, changed, doubt, measured
from rewriter.correcting.stuff import stuff
from rewriter.correcting.weigh import figure, unit_size
from rewriter.model import Amount, Edit, Ingredient, Query

ZERO, ONE = Fraction(0), Fraction(1)
WATER_CUP_G = Fraction(237)  # USDA FoodData Central, from memory
BESIDE = frozenset(("acid", "alcohol", "juice", "cream", "savoury"))
# The unit in which water is added beside an amount: as the scale or the jug it was measured with, else in Tbsp.
_WATER_UNIT = {"g": "g", "kg": "g", "ml": "ml", "l": "ml"}
POURED = frozenset(("can", "each", "packet", "bottle", "carton", "jar", "box", "", "piece"))


@dataclass(frozen=True, slots=True)
class More:
    """An exact amount of liquid to add (negative: to leave out), in Tbsp or in grams, with the guide's own figure."""

    tbsp: Fraction | None = None
    grams: Fraction | None = None
    free_tbsp: Fraction | None = None

    def in_tbsp(self) -> Fraction:
        """As Tbsp of water."""
        return self.tbsp if self.tbsp is not None else (self.grams or ZERO) * 16 / WATER_CUP_G

    def in_grams(self) -> Fraction:
        """As grams of water."""
        return self.grams if self.grams is not None else (self.tbsp or ZERO) * WATER_CUP_G / 16


def pourable(batch: Batch) -> list[Ingredient]:
    """The liquids of a batter that could take more: no citrus juice, spirit or flavouring, and measured."""
    return [i for i in batch.of("liquid") if stuff(i).pour != "never" and batch.cups(i)]


def main_liquid(batch: Batch) -> Ingredient | None:
    """The largest pourable liquid by volume; of equals the one that simply takes more, else the first."""
    liquids = pourable(batch)
    if len(liquids) > 1:
        return max(liquids, key=lambda i: (batch.cups(i), beside(i) == ""))
    return liquids[0] if liquids else None


def beside(ingredient: Ingredient) -> str:
    """Why water goes beside a liquid instead of more of it (acid, alcohol, juice, cream), else ""."""
    pour = stuff(ingredient).pour
    return pour if pour in BESIDE else ""


def pour_more(batch: Batch, main: Ingredient, more: More, rule: str, why: str, source: str) -> Iterator[Edit | Query]:
    """Add to the main liquid: one edit for each of its measures, as more of it or as water beside it."""
    asked = doubt(main)
    if asked is not None:
        yield asked
        return
    amounts = measured(main)
    water = more.in_tbsp() > 0 and (bool(beside(main)) or any(_whole_vessel(a) for a in amounts))
    for amount in amounts:
        yield (
            _watered(main, amount, more, rule, why, source)
            if water
            else _increased(main, amount, more, rule, why, source)
        )
    if not water:
        yield from _in_method(batch, main, more, rule, why, source)


def water_in(batch: Batch, more: More, rule: str, why: str, source: str) -> Edit:
    """Insert water after the last ingredient of a batter that has no liquid to increase."""
    listed = [i for i in batch.members if i.listed] or list(batch.members)
    last = max(listed, key=lambda i: i.end)
    exact, unit = (more.in_grams(), "g") if batch.weighed else (more.in_tbsp(), "tbsp")
    free = more.free_tbsp if more.free_tbsp is None or unit == "tbsp" else more.free_tbsp * WATER_CUP_G / 16
    return Edit(
        rule, last.end, last.end, "insert", exact, why, source, unit=unit, addition="water",
        unguarded=free, group=last.group,
    )  # fmt: skip


def _whole_vessel(amount: Amount) -> bool:
    return amount.count is not None or amount.unit in POURED


def _increased(main: Ingredient, amount: Amount, more: More, rule: str, why: str, source: str) -> Edit:
    step = in_unit(amount, main, more)
    edit = changed(main, amount, "up" if step > 0 else "down", lambda q: q + step, rule, why, source)
    return edit if more.free_tbsp is None else _with_free(edit, amount, main, more)


def _with_free(edit: Edit, amount: Amount, main: Ingredient, more: More) -> Edit:
    assert amount.quantity is not None
    return replace(edit, unguarded=amount.quantity + in_unit(amount, main, More(tbsp=more.free_tbsp)))


def _watered(main: Ingredient, amount: Amount, more: More, rule: str, why: str, source: str) -> Edit:
    unit = _WATER_UNIT.get(amount.unit, "tbsp")
    exact = in_unit(_one(unit), None, more)
    free = None if more.free_tbsp is None else in_unit(_one(unit), None, More(tbsp=more.free_tbsp))
    return Edit(
        rule, amount.start, amount.end, "up", exact, why, source, unit=unit, addition="water", target=amount,
        ingredient=main, unguarded=free, group=main.group,
    )  # fmt: skip


def _one(unit: str) -> Amount:
    return Amount(0, 0, "", ONE, unit=unit)


def in_unit(amount: Amount, main: Ingredient | None, more: More) -> Fraction:
    """The addition in the unit of an amount: grams stay grams, Tbsp by the weight of a cup of the liquid."""
    measures, size = unit_size(amount.unit, amount.system)
    cup_g = stuff(main).cup_g if main is not None else WATER_CUP_G
    if measures == "mass":
        grams = more.grams if more.grams is not None else (more.tbsp or ZERO) / 16 * cup_g
        return grams / size
    volume = more.tbsp / 16 if more.tbsp is not None else (more.grams or ZERO) / cup_g
    return volume / size


def _in_method(batch: Batch, main: Ingredient, more: More, rule: str, why: str, source: str) -> Iterator[Edit]:
    """The same addition where the method says the liquid again, or on its largest share where all are measured."""
    shares = [p for p in batch.recipe.portions if p.ingredient.start == main.start and p.sure]
    restated = [p for p in shares if p.of == "restated" and p.quantity]
    divided = [p for p in shares if p.of == "portion" and p.quantity]
    if divided and not any(p.of == "remaining" for p in shares) and len(divided) > 1:
        restated.append(max(divided, key=lambda p: (figure(as_amount(p)) or ZERO) * unit_size(p.unit)[1]))
    for portion in restated:
        yield _increased(main, as_amount(portion), more, rule, why, source)
