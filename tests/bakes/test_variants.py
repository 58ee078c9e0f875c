"""One invented cake written in several ways: doubled, by weight, with twin measures, with every dial of the oven."""

from __future__ import annotations

from fractions import Fraction

import pytest

import rewriter
from rewriter import Result

CUPS = ("2 cups", "1 1/2 cups", "4 tsp", "1/2 cup", "2", "1 cup")
DOUBLE = ("4 cups", "3 cups", "8 tsp", "1 cup", "4", "2 cups")
GRAMS = ("250 g", "300 g", "18.4 g", "115 g", "2", "240 ml")
TWINS = ("2 cups (250 g)", "1 1/2 cups (300 g)", "4 tsp (18.4 g)", "1/2 cup (115 g)", "2", "1 cup (240 ml)")
NAMES = ("flour", "sugar", "baking powder", "butter", "eggs", "milk")
KITCHENS = (3000, 4500, 5280, 6500, 8200, 9000, 12_000)


def baked(amounts: tuple[str, ...], feet: int, oven: str = "350 F", guide: str = "practice") -> Result:
    """The cake with these amounts in this kitchen."""
    lines = "\n".join(f"{amount} {name}" for amount, name in zip(amounts, NAMES, strict=True))
    method = "Cream butter and sugar, add eggs, then flour and powder with the milk."
    return rewriter.rewrite(
        f"Ptarmigan Cake\n\n{lines}\n\n{method} Bake at {oven} for 30 minutes.\n", elevation=f"{feet} ft", guide=guide
    )


def exact(got: Result) -> dict[str, Fraction]:
    """Exact changes of the list by ingredient, as more or less than was written, in its first measure."""
    written = {i.name: next(a.quantity for a in i.amounts) or Fraction(0) for i in got.recipe.ingredients}
    found: dict[str, Fraction] = {}
    for change in got.changes:
        if change.ingredient and change.exact is not None:
            found.setdefault(change.ingredient, change.exact - written[change.ingredient])
    return found


@pytest.mark.parametrize("guide", ["practice", "extension", "formula", "gas-law"])
@pytest.mark.parametrize("feet", KITCHENS)
def test_twice_the_recipe_is_twice_the_correction(feet: int, guide: str) -> None:
    once, twice = exact(baked(CUPS, feet, guide=guide)), exact(baked(DOUBLE, feet, guide=guide))
    for name in once.keys() & twice.keys():  # what is lost in measuring once may show twice
        assert twice[name] == 2 * once[name]
    assert {"sugar", "milk"} <= set(once)


@pytest.mark.parametrize("guide", ["practice", "extension", "formula", "gas-law"])
@pytest.mark.parametrize("feet", KITCHENS)
def test_grams_get_the_same_share_as_cups(feet: int, guide: str) -> None:
    """Proportional rows alone: the household rule of liquid is the named exception."""
    spoons, scale = exact(baked(CUPS, feet, guide=guide)), exact(baked(GRAMS, feet, guide=guide))
    assert scale["sugar"] / 300 == spoons["sugar"] / Fraction(3, 2)
    if "baking powder" in spoons:
        assert float(scale["baking powder"] * 5 / 92) == pytest.approx(float(spoons["baking powder"] / 4), rel=0.01)


@pytest.mark.parametrize("feet", KITCHENS)
def test_both_measures_of_a_dual_amount_say_the_same(feet: int) -> None:
    """A cup of sugar 200 g and of milk 244 g, a tsp of baking powder 4.6 g (USDA FoodData Central, from memory)."""
    got = baked(TWINS, feet)
    by_unit = {(c.ingredient, c.unit): float(c.exact or 0) for c in got.changes if c.ingredient}
    assert by_unit["sugar", "g"] / by_unit["sugar", "cup"] == pytest.approx(200)
    assert by_unit["milk", "ml"] / by_unit["milk", "cup"] == pytest.approx(238, abs=3)
    if feet > 3000:
        assert by_unit["baking powder", "g"] / by_unit["baking powder", "tsp"] == pytest.approx(4.6)


@pytest.mark.parametrize(
    ("oven", "new"),
    [
        ("350 F (180 C, fan 160 C, gas mark 4)", "375 F 190 C 170 C gas mark 5"),
        ("fan 160C/180C/gas 4", "175C 195C gas 5"),  # 180 C is 356 F, 381 F is 194 C
        ("gas 8", "gas 9"),
        ("gas 1/2", ""),  # 250 F: nothing under 300 F
        ("350-375 F", "375-400 F"),
        ("460 F", "475 F"),  # nothing above 475 F
        ("500 F", ""),
        ("a moderate oven", "moderately hot oven, 375 F"),
    ],
)
def test_every_dial_of_one_setting_moves_together(oven: str, new: str) -> None:
    """Gas mark n is 250 + 25 n F; a fan oven is set 20 C lower (common practice, no source)."""
    moved = [c.new for c in baked(CUPS, 6500, oven).changes if c.rule == "oven"]
    assert " ".join(moved).removeprefix("a ") == new
