"""The guides side by side."""

from __future__ import annotations

from fractions import Fraction

import pytest

from rewriter.correcting import GUIDES, compare
from rewriter.correcting.comparison import course, recommended
from rewriter.correcting.policy import policies
from tests.correcting.bakes import LAYER_CAKE, SEA, bake, corrected, heat, line, twin, up

CAKE = bake("shortened-cake", *LAYER_CAKE, heats=[heat(350, twins=(twin(180, "C", 5010),))])


def test_one_row_for_what_any_guide_changes() -> None:
    made = compare(CAKE, up(6000), SEA)
    rows = {row.label: row for row in made.rows}
    assert list(rows) == ["all-purpose-flour", "baking-powder", "granulated-sugar", "butter", "egg", "milk", "oven"]
    assert rows["all-purpose-flour"].by["practice"] is None
    for guide in GUIDES:
        edit = rows["baking-powder"].by[guide]
        assert edit is not None
        assert edit.exact == next(e.exact for e in corrected(CAKE, 6000, guide).edits if e.rule == "leavener")


def test_how_far_they_differ() -> None:
    row = next(r for r in compare(CAKE, up(7500), SEA).rows if r.label == "all-purpose-flour")
    assert row.differ == Fraction(9, 100)


def test_added_water_is_a_row_without_a_written_figure() -> None:
    recipe = bake("shortened-cake", line("all-purpose-flour", "5/2 cup"), line("buttermilk", "2 cup"))
    row = next(r for r in compare(recipe, up(6000), SEA).rows if "added" in r.label)
    assert row.was is None
    assert row.differ > 0


@pytest.mark.parametrize(
    ("kind", "guide"),
    [("shortened-cake", "formula"), ("quick-bread", "extension"), ("griddle", "extension"), ("cookie", "extension"),
     ("foam-cake", "practice"), ("lean-yeast", "practice")],
)  # fmt: skip
def test_which_to_start_from(kind: str, guide: str) -> None:
    lines = (*LAYER_CAKE, line("instant-yeast", "2 tsp"))
    (told,) = compare(bake(kind, *lines), up(6500), SEA).start_from
    assert told[:2] == (kind, guide)
    assert told[2]


def test_every_kind_that_changes_has_a_recommendation() -> None:
    assert set(recommended()) == {kind for kind, rule in policies().items() if not rule.still}


def test_published_recipes_are_gentler_and_it_is_said() -> None:
    made = compare(CAKE, up(6500), SEA)
    assert "gentler" in made.published
    assert made.published_source


def test_nothing_to_compare_by_the_sea() -> None:
    assert compare(CAKE, SEA, SEA).rows == ()


def test_the_course_of_a_guide_over_elevations() -> None:
    found = course(CAKE, SEA, [up(feet) for feet in (0, 3000, 6000)], "practice")
    assert found["leavener"] == [100, 100, 50]
    assert found["sugar"] == [100, Fraction(375, 4), Fraction(375, 4)]
    assert found["liquid"] == [0, 2, 5]
    assert found["oven"] == [0, 15, 25]
