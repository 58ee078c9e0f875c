"""A changed total changes its portions, and they still add up."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.model import Change, Plan, Recipe
from rewriter.writing import measure
from tests.writing.cards import CARD, amount, card, edit, item, portion, portion_edit

# NIST Handbook 44, Appendix C.
TSP = {"cup": 48, "cups": 48, "Tbsp": 3, "tsp": 1}


def tsp(words: str) -> Fraction:
    """An amount in figures, added up by the published sizes."""
    total, sign = Fraction(0), 1
    pending = Fraction(0)
    for word in words.split():
        if word in ("+", "less"):
            sign = 1 if word == "+" else -1
        elif word in TSP:
            total, pending = total + sign * pending * TSP[word], Fraction(0)
        else:
            pending += Fraction(word)
    return total


def divided(first: str, second: str, whole: str, exact: str, of: str = "remaining") -> list[Change]:
    text = f"{whole} cup sugar, divided\n\nWhip with {first} cup of the sugar. Fold in the last {second} cup sugar."
    sugar = item(text, "sugar", "sugar", amount(text, f"{whole} cup", whole, "cup"))
    total = edit(sugar, "sugar", exact)
    parts = (
        portion(text, f"{first} cup of the sugar", sugar, first, "cup"),
        portion(text, f"the last {second} cup sugar", sugar, second, "cup", of),
    )
    edits = (total, *(portion_edit(part, total) for part in parts))
    return measure(text, Recipe("", "foam-cake", (sugar,), parts, end=len(text)), Plan(edits))


@given(
    st.integers(1, 11),
    st.integers(1, 11),
    st.sampled_from(["15/16", "7/8", "3/4"]),
    st.sampled_from(["remaining", "portion"]),
)
def test_portions_add_up_to_the_new_total(a: int, b: int, factor: str, of: str) -> None:
    first, second = Fraction(a, 4), Fraction(b, 4)
    changes = divided(str(first), str(second), str(first + second), str((first + second) * Fraction(factor)), of)
    new = {change.old: tsp(change.new) for change in changes}
    parts = (
        [new.get(f"{part} cup", part * 48) for part in (first, second)]
        if first != second
        else [tsp(c.new) for c in changes[1:]]
    )
    whole = tsp(changes[0].new)
    if first == second and len(parts) < 2:
        parts.append(first * 48)
    assert sum(parts) == whole


def test_a_portion_is_marked_at_its_amount() -> None:
    recipe, plan = card()
    changes = [change for change in measure(CARD, recipe, plan) if change.rule == "sugar"]
    assert [change.old for change in changes] == ["1 1/2 cups", "1/2 cup", "1 cup"]
    assert tsp(changes[1].new) + tsp(changes[2].new) == tsp(changes[0].new)
    assert [change.exact for change in changes[1:]] == [Fraction(15, 32), Fraction(15, 16)]


@pytest.mark.parametrize("words", ["the 1 1/2 cups sugar", "1 1/2 cups sugar"])
def test_a_restated_amount_follows_its_total(words: str) -> None:
    text = f"1 1/2 cups sugar\n\nBeat in {words}."
    sugar = item(text, "sugar", "sugar", amount(text, "1 1/2 cups", "3/2", "cup"))
    again = portion(text, words, sugar, "3/2", "cup", "restated")
    whole = edit(sugar, "sugar", "45/32")
    recipe = Recipe("", "shortened-cake", (sugar,), (again,), end=len(text))
    first, second = measure(text, recipe, Plan((whole, portion_edit(again, whole))))
    assert (first.new, first.old) == (second.new, second.old)
    alone = measure(text, recipe, Plan((whole,)))
    assert alone[1].new == second.new


def test_weights_add_up_too() -> None:
    text = "1280 g water\n\nWarm 640 g of the water. Add the remaining 640 g water."
    water = item(text, "water", "liquid", amount(text, "1280 g", "1280", "g"))
    parts = (
        portion(text, "640 g of the water", water, "640", "g"),
        portion(text, "the remaining 640 g water", water, "640", "g", "remaining"),
    )
    whole = edit(water, "liquid", "1331")
    changes = measure(text, Recipe("", "lean-yeast", (water,), parts, end=len(text)), Plan((whole,)))
    figures = [int(change.new.split()[0]) for change in changes]
    assert sum(figures[1:]) + 640 * (3 - len(figures)) == figures[0]
