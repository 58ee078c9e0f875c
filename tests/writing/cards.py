"""Recipes read and corrected by hand, for the writing room alone."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from rewriter.model import Air, Amount, Direction, Edit, Heat, Ingredient, Plan, Portion, Recipe, Twin

AIR = Air(1981.2, 796.9, 93.4, Fraction(6500))
SOURCE = "common practice, no source"


def amount(text: str, words: str, quantity: str, unit: str, after: int = 0, **more: Any) -> Amount:
    start = text.index(words, after)
    return Amount(start, start + len(words), words, Fraction(quantity), unit=unit, **more)


def item(
    text: str, name: str, role: str, *amounts: Amount, grams: float | None = None, part: str = "batter"
) -> Ingredient:
    end = text.index(name, amounts[-1].end) + len(name)
    start = min(a.start for a in amounts)
    return Ingredient(start, end, name, role, part, amounts, grams, name_start=end - len(name), name_end=end)


def edit(ingredient: Ingredient, rule: str, exact: str, which: int = 0, **more: Any) -> Edit:
    target = ingredient.amounts[which]
    new = Fraction(exact)
    direction: Direction = "up" if target.quantity is not None and new > target.quantity else "down"
    return Edit(
        rule, target.start, target.end, direction, new, f"the {rule} rule; in full", SOURCE, unit=target.unit,
        target=target, ingredient=ingredient, **more,
    )  # fmt: skip


def portion(text: str, words: str, ingredient: Ingredient, quantity: str, unit: str, of: str = "portion") -> Portion:
    start = text.index(words, ingredient.end)
    return Portion(start, start + len(words), words, ingredient, Fraction(quantity), unit=unit, of=of)


def portion_edit(share: Portion, whole: Edit) -> Edit:
    """The edit of a portion, scaled as its whole is."""
    assert isinstance(whole.target, Amount)
    assert whole.exact is not None
    assert share.quantity is not None
    target = Amount(share.start, share.end, share.text, share.quantity, unit=share.unit)
    exact = share.quantity * whole.exact / (whole.target.quantity or 1)
    return Edit(
        whole.rule, share.start, share.end, whole.direction, exact, whole.why, SOURCE, unit=share.unit, target=target,
        ingredient=whole.ingredient,
    )  # fmt: skip


def change_of(text: str, words: str, quantity: str, unit: str, exact: str, role: str = "sugar", **more: Any) -> str:
    """What one amount becomes in a text that holds only it (and what voice it has)."""
    from rewriter.writing import measure

    ingredient = item(text, "it", role, amount(text, words, quantity, unit, **more))
    changes = measure(
        text, Recipe("", "shortened-cake", (ingredient,), end=len(text)), Plan((edit(ingredient, "rule", exact),))
    )
    return changes[0].new if changes else ""


CARD = """Okafor-Lind Sunday Cake

2 c. flour
1 1/2 cups sugar, divided
2 tsp baking powder
1 cup milk
3 eggs

Heat the oven to 350°F (180°C/160°C fan/Gas 4). Whip the eggs with 1/2 cup of the sugar.
Stir in the remaining 1 cup sugar and the milk. Bake at 350°F.
"""


def card(text: str = CARD) -> tuple[Recipe, Plan]:
    """The Sunday cake, read and corrected by hand for 6,500 ft."""
    sugar = item(text, "sugar", "sugar", amount(text, "1 1/2 cups", "3/2", "cup"), grams=300)
    powder = item(text, "baking powder", "leavener", amount(text, "2 tsp", "2", "tsp"), grams=9.2)
    milk = item(text, "milk", "liquid", amount(text, "1 cup", "1", "cup"), grams=244)
    first = text.index("350°F")
    twins = (
        _twin(text, "180°C", "180", "C"),
        _twin(text, "160°C fan", "160", "fan-C"),
        _twin(text, "Gas 4", "4", "gas"),
    )
    oven = Heat(first, first + 5, "350°F", Fraction(350), Fraction(180), twins, value=Fraction(350), purpose="preheat")
    again = text.index("350°F", first + 1)
    bake = Heat(again, again + 5, "350°F", Fraction(350), Fraction(530, 3), value=Fraction(350))
    shares = (
        portion(text, "1/2 cup of the sugar", sugar, "1/2", "cup"),
        portion(text, "the remaining 1 cup sugar", sugar, "1", "cup", "remaining"),
    )
    whole = edit(sugar, "sugar", "45/32")
    edits = [whole, edit(powder, "leavener", "1"), edit(milk, "liquid", "43/32")]
    edits += [portion_edit(share, whole) for share in shares]
    edits += [
        Edit("oven", h.start, h.end, "up", Fraction(375), "a hotter oven: 25 F", SOURCE, unit="F", target=h)
        for h in (oven, *twins, bake)
    ]
    method = text.index("Heat the oven")
    recipe = Recipe(
        "Okafor-Lind Sunday Cake", "shortened-cake", (sugar, powder, milk), shares, (oven, bake), end=len(text),
        method=((method, len(text)),),
    )  # fmt: skip
    return recipe, Plan(tuple(edits))


def _twin(text: str, words: str, value: str, scale: str) -> Twin:
    start = text.index(words)
    return Twin(start, start + len(words), words, Fraction(value), scale)
