"""Bakes, the next step, the recipe's own line, carried elevations, and what a kitchen does otherwise."""

from __future__ import annotations

import pytest

from corpus.family_folder import photo, texts
from rewriter import air, api, correcting
from rewriter.collection import Box
from rewriter.collection.fitting import fit
from rewriter.collection.ways import Way
from rewriter.errors import Unusable

from .conftest import CAKE

CARD = 3
UP_HERE = "8200 ft"


def test_the_first_bake_makes_the_guide_s_version_and_marks_it_tried(box: Box) -> None:
    done = box.bake(CARD, UP_HERE, rating=4, day="2026-03-31")
    [found, fitted] = box.revisions(CARD)
    assert (found.number, fitted.parent, fitted.trial, fitted.why) == (0, 0, "tried", "fitted")
    assert fitted.text == api.rewrite(CAKE, UP_HERE).text
    assert (done.bake.revision, done.bake.outcome, done.next) == (1, "worked", None)


@pytest.mark.parametrize("text", [text for _, text in texts()[::8]])
def test_without_bakes_a_card_is_fitted_as_the_guide_has_it(text: str) -> None:
    here = air.of(UP_HERE)
    assert fit(text, here, Way()).text == api.rewrite(text, UP_HERE).text


def test_the_next_step_follows_from_the_fault_one_change_at_a_time(box: Box) -> None:
    recipe = api.read(CAKE)[0]
    _, steps = correcting.next_steps(recipe, air.of(UP_HERE), air.of("0 ft"), "sank")
    for count in range(3):
        done = box.bake(CARD, UP_HERE, faults=["sank in the middle"])
        assert done.bake.outcome == "failed"
        assert done.next is not None
        assert (done.next.why, done.next.trial, done.next.parent) == ("next step", "untried", done.bake.revision)
        assert steps[count].text in done.next.note
        edits = {(e.start, e.addition): e.exact for e in steps[count].plan.edits}
        assert done.next.formula["steps"] == [["sank", number] for number in range(count + 1)]
        flour = next(i for i in recipe.ingredients if i.role == "flour").amounts[0]
        exact = edits[flour.start, ""]
        assert exact is not None
        assert done.next.formula["roles"]["flour"][0] == pytest.approx(float(exact) / 2)
    assert [one.revision for one in box.bakes(CARD)] == [1, 2, 3]


def test_a_step_against_another_fault_comes_on_top(box: Box) -> None:
    box.bake(CARD, UP_HERE, faults=["sank"])
    after = box.bake(CARD, UP_HERE, faults=["dense"]).next
    assert after is not None
    assert after.formula["steps"] == [["sank", 0], ["dense", 0]]
    assert after.formula["roles"]["flour"][0] > 1
    guide = after.formula["roles"]["leavener"][1]
    assert after.formula["roles"]["leavener"][0] == pytest.approx((1 + guide) / 2)  # half of the cut goes back


def test_steps_run_out_and_it_is_said(box: Box) -> None:
    for _ in range(20):
        done = box.bake(CARD, UP_HERE, faults=["sank"])
        if done.next is None:
            break
    assert done.next is None
    assert "no further step" in done.words[0]


def test_what_was_changed_by_hand_is_a_revision_with_its_figures(box: Box) -> None:
    done = box.bake(CARD, UP_HERE, changed="baking powder 1 1/2 tsp; oven 360 F; sang to it", rating=5)
    one = box.revisions(CARD)[done.bake.revision]
    assert one.why == "by hand"
    assert "→ 1 1/2 tsp] baking powder" in one.text
    assert "[→ 360 F]" in one.text
    assert one.formula["roles"]["leavener"][0] == pytest.approx(0.75)
    assert "sang to it" in done.words[0]
    assert done.bake.changed.endswith("sang to it")


def test_a_carried_version_is_marked_and_not_tried(box: Box) -> None:
    box.bake(CARD, UP_HERE, changed="baking powder 1 1/2 tsp", rating=5)
    carried = box.carry(CARD, UP_HERE, "6500 ft")
    assert (carried.trial, carried.why) == ("carried", "carried")
    assert "not tried" in carried.note
    used, guide = carried.formula["roles"]["leavener"]
    there_used, there_guide = box.revisions(CARD)[2].formula["roles"]["leavener"]
    assert (1 - used) / (1 - guide) == pytest.approx((1 - there_used) / (1 - there_guide), rel=0.05)
    assert box.bake(CARD, "6500 ft", rating=4).bake.revision == carried.number
    assert box.revisions(CARD)[carried.number].trial == "tried"


def test_nothing_is_carried_from_where_nothing_worked(box: Box) -> None:
    box.bake(CARD, UP_HERE, faults=["sank"])
    with pytest.raises(Unusable, match="no bake of it has worked"):
        box.carry(CARD, UP_HERE, "6500 ft")


def test_revisions_are_compared_and_named(box: Box) -> None:
    box.bake(CARD, UP_HERE, rating=3)
    box.name(CARD, 1, "our 8,200 ft version")
    told = box.compare(CARD, 0, "our 8,200 ft version")
    assert "-2 tsp baking powder" in told
    assert "+2 tsp [→" in told
    assert "Altitude notes" not in told
    box.bake(CARD, UP_HERE, faults=["dry"])
    with pytest.raises(Unusable, match="revision 1 is called"):
        box.name(CARD, 2, "our 8,200 ft version")
    with pytest.raises(Unusable, match="cannot be a number"):
        box.name(CARD, 1, "7")
    with pytest.raises(Unusable, match=r"there are 0, 1 \(our 8,200 ft version\)"):
        box.compare(CARD, 0, "theirs")


def test_a_kitchen_s_own_way_is_told_with_how_many_bakes_say_so(box: Box) -> None:
    guide = box.bake(CARD, UP_HERE, faults=["dense"]).bake.formula["roles"]["leavener"][1]
    assert guide <= 0.5
    for _ in range(3):
        box.bake(CARD, UP_HERE, changed="baking powder 4/3 tsp", rating=5)
    [habit, *_] = [one for one in box.kitchen(UP_HERE) if one.role == "leavener"]
    assert (habit.count, habit.against, habit.by_guide) == (3, 1, 0)
    assert habit.words.startswith("here, a third less leavener works better than ")
    assert habit.own == pytest.approx(-1 / 3, abs=0.02)
    assert habit.guide == pytest.approx(guide - 1)
    assert "(3 bakes say so; as the guide has it, 0 worked and 1 failed)" in habit.words
    assert box.kitchen("5000 ft") == []


def test_bakes_by_the_guide_alone_are_no_habit(box: Box) -> None:
    box.bake(CARD, UP_HERE, rating=5)
    assert box.kitchen() == []


def test_barometer_photo_and_date_are_kept(box: Box) -> None:
    picture = photo()
    kept = box.bake(CARD, barometer="745 hPa", day="2026-01-02", rating=3, photo=picture).bake
    assert kept.pressure_hpa == pytest.approx(745)
    assert box.bakes(CARD)[0].photo == picture
    assert box.bakes(CARD)[0].day == "2026-01-02"


@pytest.mark.parametrize(
    ("told", "complaint"),
    [
        ({"rating": 6}, "give 1 to 5"),
        ({"day": "last week"}, "is no date"),
        ({"faults": ["purple"]}, "names no fault"),
        ({"photo": b"no picture at all"}, "no photo"),
        ({"outcome": "so so"}, "worked or failed"),
        ({"revision": 9}, "there is no revision"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(box: Box, told: dict[str, object], complaint: str) -> None:
    with pytest.raises(Unusable, match=complaint):
        box.bake(CARD, UP_HERE, **told)
    assert box.bakes() == []
    assert len(box.revisions(CARD)) == 1


def test_a_kitchen_must_be_said(box: Box) -> None:
    with pytest.raises(Unusable, match="where the kitchen is"):
        box.bake(CARD)


def test_a_card_for_jars_is_not_baked_by(box: Box) -> None:
    with pytest.raises(Unusable, match="tested directions"):
        box.bake(1, UP_HERE, rating=5)
