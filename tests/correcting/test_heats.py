"""Oven, fat, syrup and inside temperatures."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from rewriter.model import Fact, Heat, Part, Plan, Time
from tests.correcting.bakes import LAYER_CAKE, bake, corrected, heat, line, twin


def degrees(made: Plan) -> list[Fraction | None]:
    return [e.exact for e in made.edits if e.unit == "F"]


# Common practice, no source: 15 F hotter at 3,000 ft, 25 F at 6,000 ft and above.
@pytest.mark.parametrize(("feet", "rise"), [(2999, 0), (3000, 15), (4500, 20), (6000, 25), (12_000, 25)])
@pytest.mark.parametrize("kind", ["shortened-cake", "foam-cake", "quick-bread", "cookie"])
def test_the_oven_rises_for_cakes_quick_breads_and_cookies(kind: str, feet: int, rise: int) -> None:
    made = corrected(bake(kind, *LAYER_CAKE, heats=[heat(350), heat(350, 5100, purpose="preheat")]), feet)
    assert degrees(made) == ([350 + rise] * 2 if rise else [])


@pytest.mark.parametrize(
    "kind",
    [
        "griddle",
        "fried-dough",
        "lean-yeast",
        "rich-yeast",
        "pastry",
        "steam-raised",
        "custard",
        "confection",
        "savoury",
    ],
)
def test_other_ovens_stay(kind: str) -> None:
    assert degrees(corrected(bake(kind, *LAYER_CAKE, heats=[heat(350)]), 8000)) == []


@pytest.mark.parametrize("purpose", ["keep-warm", "roast", "toast", "proof", "dry", "hold"])
def test_only_baking_and_preheating_rise(purpose: str) -> None:
    assert degrees(corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350, purpose=purpose)]), 8000)) == []


@pytest.mark.parametrize(
    ("written", "new"), [(299, None), (300, 325), (450, 475), (460, 475), (475, None), (500, None)]
)
def test_nothing_under_300_and_nothing_written_above_475(written: int, new: int | None) -> None:
    made = corrected(bake("quick-bread", *LAYER_CAKE, heats=[heat(written)]), 8000)
    assert degrees(made) == ([] if new is None else [new])
    if written == 460:
        assert made.edits[-1].unguarded == 485
        assert "475" in made.edits[-1].why


@pytest.mark.parametrize("pan", ["loaf-pan", "tube-pan"])
def test_deep_pans_rise_by_15_at_most(pan: str) -> None:
    made = corrected(bake("quick-bread", *LAYER_CAKE, heats=[heat(350)], facts=[pan]), 8000)
    (edit,) = [e for e in made.edits if e.unit == "F"]
    assert (edit.exact, edit.unguarded) == (365, 375)
    assert "25 F" in edit.why


def test_all_twins_move_together_and_words_beside_a_figure_stay() -> None:
    twins = (twin(180, "C", 5010), twin(160, "fan-C", 5020), twin(4, "gas", 5030), twin(0, "word", 5040))
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350, twins=twins)]), 6000)
    found = [e for e in made.edits if e.unit == "F"]
    assert [e.start for e in found] == [5000, 5010, 5020, 5030]
    assert {e.exact for e in found} == {Fraction(375)}


def test_a_range_moves_with_both_ends() -> None:
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350, maximum=Fraction(375))]), 6000)
    assert [(e.exact, e.exact_max) for e in made.edits if e.unit == "F"] == [(375, 400)]


def test_the_oven_follows_the_part_it_bakes() -> None:
    parts = (Part("dish", "savoury"), Part("batter", "quick-bread"))
    heats = [heat(350, group=0), heat(400, 5100, group=1)]
    recipe = bake("savoury", line("all-purpose-flour", "2 cup", group=1), heats=heats, parts=parts)
    assert degrees(corrected(recipe, 6000)) == [425]


def test_an_unsure_heat_is_asked_about() -> None:
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350, sure=False)]), 6000)
    assert degrees(made) == []
    assert [q.id for q in made.queries] == ["heat@5000"]


def test_four_fifths_only_where_the_oven_rose() -> None:
    times = [
        Time(6000, 6010, "40 minutes", Fraction(40), None, "bake"),
        Time(6020, 6030, "1 hour", Fraction(60), None, "rise"),
    ]
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350)], times=times), 6000)
    assert [(n.start, "32 min" in n.text) for n in made.notes if n.kind == "early"] == [(6000, True)]
    still = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(250)], times=times), 6000)
    assert [n for n in still.notes if n.kind == "early"] == []


# Public Service Company of Colorado bulletin, about 1965, as reprinted: 2 to 3 F per 1,000 ft; never below 340 F.
@pytest.mark.parametrize(("feet", "new"), [(5000, 365), (10_000, 355)])
def test_frying_fat_is_cooler(feet: int, new: int) -> None:
    made = corrected(bake("fried-dough", *LAYER_CAKE, heats=[heat(375, place="oil", purpose="fry")]), feet)
    assert degrees(made) == [new]
    assert any("Hot fat" in n.text for n in made.notes if n.kind == "caution")


@pytest.mark.parametrize(("written", "new"), [(350, 340), (345, 340), (340, None), (325, None)])
def test_frying_fat_is_never_below_340(written: int, new: int | None) -> None:
    made = corrected(bake("fried-dough", *LAYER_CAKE, heats=[heat(written, place="oil")]), 8200)
    assert degrees(made) == ([] if new is None else [new])
    if new:
        assert made.edits[-1].unguarded == Fraction(written) - Fraction(164, 10)


@pytest.mark.parametrize("written", [200, 330, 350])
def test_what_is_no_stage_of_a_syrup_stays(written: int) -> None:
    assert degrees(corrected(bake("confection", heats=[heat(written, place="syrup")]), 8200)) == []


@pytest.mark.parametrize("place", ["water", "food", "pan"])
@pytest.mark.parametrize("written", [110, 160, 180])
def test_yeast_water_scalding_and_custards_stay(place: str, written: int) -> None:
    for kind in ("custard", "rich-yeast", "confection"):
        assert degrees(corrected(bake(kind, *LAYER_CAKE, heats=[heat(written, place=place)]), 8200)) == []


def doneness(written: int, **said: object) -> Heat:
    return replace(heat(written), place="food", purpose="doneness", **said)  # type: ignore[arg-type]


# Boiling point (IAPWS-IF97 at the 1976 atmosphere) less 5 F; at 6,500 ft water boils at 200.1 F.
@pytest.mark.parametrize(("written", "new"), [(205, 195), (200, 195), (190, None), (195, None)])
@pytest.mark.parametrize("kind", ["lean-yeast", "rich-yeast", "shortened-cake", "quick-bread"])
def test_a_loaf_cannot_get_hotter_than_its_water(kind: str, written: int, new: int | None) -> None:
    found = degrees(corrected(bake(kind, *LAYER_CAKE, heats=[doneness(written)]), 6500))
    assert [round(f) for f in found if f is not None] == ([] if new is None else [new])


# Safe minimum temperatures, USDA FSIS: 165, 160, 145 F.
@pytest.mark.parametrize("kind", ["custard", "pastry", "savoury", "lean-yeast", "shortened-cake", "quick-bread"])
@pytest.mark.parametrize("written", [145, 160, 165])
def test_safe_minimum_temperatures_stand(kind: str, written: int) -> None:
    for feet in (6500, 15_000):
        assert degrees(corrected(bake(kind, *LAYER_CAKE, heats=[doneness(written)]), feet)) == []


@pytest.mark.parametrize("kind", ["custard", "pastry", "savoury"])
def test_targets_of_custards_pies_and_meat_never_move(kind: str) -> None:
    assert degrees(corrected(bake(kind, *LAYER_CAKE, heats=[doneness(205)]), 9000)) == []


def test_an_oven_that_stands_under_the_filling_bakes_the_recipe() -> None:
    parts = (Part("filling", "confection"), Part("batter", "quick-bread"))
    recipe = bake("quick-bread", line("all-purpose-flour", "2 cup", group=1), heats=[heat(400, group=0)], parts=parts)
    assert degrees(corrected(recipe, 6000)) == [425]


def test_the_summary_over_the_list_is_not_told_twice() -> None:
    """One time to look: "Bake: 12 min" in a heading, "Bake 11 to 13 minutes" in the method."""
    times = [
        Time(0, 6, "12 min", Fraction(12), None, "bake"),
        Time(6000, 6013, "11-13 minutes", Fraction(11), None, "bake"),
    ]
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350)], times=times), 6500)
    assert [n.start for n in made.notes if n.kind == "early"] == [6000]
    alone = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350)], times=times[:1]), 6500)
    assert [n.start for n in alone.notes if n.kind == "early"] == [0]


def test_a_few_minutes_more_are_not_looked_at_early() -> None:
    times = [Time(6000 + 20 * n, 6010 + 20 * n, f"{m} min", Fraction(m), None, "bake") for n, m in enumerate((30, 3))]
    made = corrected(bake("cookie", *LAYER_CAKE, heats=[heat(350)], times=times), 6000)
    assert [n.start for n in made.notes if n.kind == "early"] == [6000]


def test_an_oven_word_beside_its_figure_stays() -> None:
    hot = replace(heat(400, twins=(twin(400, "F", 5010),)), scale="word")
    assert [e.start for e in corrected(bake("cookie", *LAYER_CAKE, heats=[hot]), 6000).edits if e.unit == "F"] == [5010]
    alone = replace(hot, twins=())
    assert [e.start for e in corrected(bake("cookie", *LAYER_CAKE, heats=[alone]), 6000).edits if e.unit == "F"] == [
        5000
    ]


def test_the_jelly_point_stays_8_f_above_the_boiling_point() -> None:
    """Extension practice: 8 F above the boiling point of water where you are; only on a card without jars."""
    jam = bake("confection", heats=[heat(220, place="syrup")])
    (edit,) = corrected(jam, 6500).edits
    assert edit.exact is not None
    assert abs(float(edit.exact) - (200.1 + 8)) < 0.2
    assert "jelly" in edit.why
    assert corrected(replace(jam, facts=(Fact("canning", 1, 5, "jars"),)), 6500).edits == ()
