"""What stands as it is, questions and answers, the steps held back, and the notes of the block."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from rewriter import pantry
from rewriter.correcting import GUIDES, NoSuchGuide, plan
from rewriter.correcting.corrections.watch import rows
from rewriter.model import Answer, Fact, Part, Plan, Query, Time
from tests.correcting.bakes import LAYER_CAKE, SEA, bake, corrected, edits_of, exact, heat, line, up

CAKE = bake("shortened-cake", *LAYER_CAKE, heats=[heat(350)])


@pytest.mark.parametrize("guide", GUIDES)
@pytest.mark.parametrize("feet", [-1000, 0, 1500, 2499])
def test_low_kitchens_hear_nothing(guide: str, feet: int) -> None:
    assert corrected(CAKE, feet, guide) == Plan(guide=guide)


def test_from_2500_ft_a_note() -> None:
    made = corrected(CAKE, 2500)
    assert made.edits == ()
    assert [n.kind for n in made.notes] == ["start"]


@pytest.mark.parametrize(("feet", "first"), [(3000, True), (3500, True), (3501, False), (6500, False)])
def test_up_to_3500_ft_as_written_first(feet: int, first: bool) -> None:
    texts = [n.text for n in corrected(CAKE, feet).notes if n.kind == "start"]
    assert any("as written first" in text for text in texts) is first
    assert any("one thing at a time" in text for text in texts)


def test_a_canning_card_is_never_touched() -> None:
    card = replace(
        CAKE, facts=(Fact("canning", 900, 910, "seal jars"),), heats=(heat(240, place="syrup"), heat(350, 5100))
    )
    for guide in GUIDES:
        made = corrected(card, 8200, guide)
        assert made.edits == made.later == made.queries == ()
        assert [n.kind for n in made.notes] == ["caution"]
        assert "extension" in made.notes[0].text


def test_a_bread_machine_times_itself() -> None:
    made = corrected(replace(CAKE, facts=(Fact("machine", 900, 910, "bread machine", "bread machine"),)), 8200)
    assert made.edits == ()
    assert [n.kind for n in made.notes] == ["kept"]


@pytest.mark.parametrize("machine", ["microwave", "air fryer", "slow cooker"])
def test_what_is_said_of_a_machine_is_about_that_machine(machine: str) -> None:
    (note,) = corrected(replace(CAKE, facts=(Fact("machine", 900, 910, machine, machine),)), 8200).notes
    assert machine in note.text
    assert "bread" not in note.text


def test_already_adjusted_asks_and_an_answer_corrects_the_difference() -> None:
    card = replace(CAKE, facts=(Fact("altitude-version", 900, 930, "our 7,000 ft version", "7000 ft"),))
    asked = corrected(card, 9000)
    assert asked.edits == ()
    assert [(q.id, q.choices) for q in asked.queries] == [("written-for@0", ("7000 ft", "sea level"))]
    told = corrected(card, 9000, answers=(Answer("written-for@0", "7000 ft"),))
    assert told.edits == corrected(CAKE, 9000, written_for=7000).edits != ()
    sea = corrected(card, 9000, answers=(Answer("written-for@0", "sea level"),))
    assert sea.edits == corrected(CAKE, 9000).edits


def test_the_recipes_own_advice_comes_first() -> None:
    made = corrected(replace(CAKE, facts=(Fact("altitude-note", 900, 930, "high altitude: add 2 Tbsp flour"),)), 8000)
    assert made.notes[0].kind == "advice"
    assert "add 2 Tbsp flour" in made.notes[0].text
    assert made.edits == corrected(CAKE, 8000).edits


def test_a_skipped_amount_is_left_alone() -> None:
    start = CAKE.ingredients[2].amounts[0].start
    made = corrected(CAKE, 8000, answers=(Answer(f"skip@{start}", "yes"),))
    assert exact(made, "granulated-sugar") is None
    assert exact(made, "milk") is not None


def test_a_question_already_asked_is_not_asked_again() -> None:
    unsure = bake("cookie", line("all-purpose-flour", "1 cup"), line("baking-powder", "2 tsp", sure=False))
    (asked,) = corrected(unsure, 8000).queries
    assert corrected(replace(unsure, queries=(asked,)), 8000).queries == ()
    assert isinstance(asked, Query)


@pytest.mark.parametrize(
    ("feet", "flour"), [(3000, Fraction(1)), (4500, Fraction(2)), (6000, Fraction(3)), (10_000, Fraction(17, 3))]
)
def test_flour_and_egg_are_held_back(feet: int, flour: Fraction) -> None:
    """Common practice, no source: 1 Tbsp at 3,000 ft, another each 1,500 ft; one egg more in a cake."""
    later = {e.rule: e for e in corrected(CAKE, feet).later}
    assert later["flour"].exact == Fraction(5, 2) + flour / 16
    assert later["egg"].exact == 5
    assert {e.step for e in later.values()} == {"next"}
    assert not [e for e in corrected(CAKE, feet).edits if e.rule in ("flour", "egg")]


def test_the_held_back_steps_go_with_the_batch() -> None:
    half = bake("shortened-cake", line("all-purpose-flour", "5/4 cup"), line("egg", "2 each"))
    later = {e.rule: e.exact for e in corrected(half, 6000).later}
    assert later == {"flour": Fraction(5, 4) + Fraction(3, 32), "egg": Fraction(5, 2)}


@pytest.mark.parametrize(("key", "salt"), [("self-rising-flour", True), ("self-raising-flour", False)])
def test_self_rising_flour_is_offered_a_substitution(key: str, salt: bool) -> None:
    """1 cup carries about 1 1/2 tsp baking powder, and in America salt (common kitchen equivalent)."""
    made = corrected(bake("shortened-cake", line(key, "2 cup"), line("milk", "1 cup")), 6500)
    offers = {e.addition: (e.exact, e.unit, e.direction) for e in made.edits if e.step == "offer"}
    assert offers["plain flour"] == (2, "cup", "note")
    assert offers["baking powder"] == (Fraction(3, 2), "tsp", "note")
    assert ("salt" in offers) is salt
    assert edits_of(made, key) == []


def test_written_for_higher_ground_gives_back() -> None:
    made = corrected(CAKE, 0, written_for=6000)
    assert exact(made, "baking-powder") == 6
    assert exact(made, "granulated-sugar") == 2 * Fraction(16, 15)
    assert [e.direction for e in made.edits] == ["up", "up", "down", "down"]


def test_held_above_the_last_point_and_said_so() -> None:
    assert corrected(CAKE, 10_000).edits == corrected(CAKE, 12_000).edits
    assert any("ends at 10,000 ft" in n.text for n in corrected(CAKE, 12_000).notes)
    assert any("ends at 7,000 ft" in n.text for n in corrected(CAKE, 8000, "extension").notes)


@pytest.mark.parametrize(
    ("facts", "word"), [(["raw-egg"], "Raw"), (["sealed-jar-cake"], "sealed"), (["hot-syrup"], "syrup")]
)
def test_cautions(facts: list[str], word: str) -> None:
    made = corrected(bake("shortened-cake", *LAYER_CAKE, facts=facts), 6500)
    assert any(word in n.text for n in made.notes if n.kind == "caution")


def test_unknown_guides_and_strengths_say_what_there_is() -> None:
    with pytest.raises(NoSuchGuide, match="practice"):
        plan(CAKE, SEA, SEA, "folklore")
    with pytest.raises(NoSuchGuide, match="gentle"):
        plan(CAKE, up(6500), SEA, strength="bold")  # type: ignore[arg-type]


def test_every_edit_has_its_reason_and_source() -> None:
    for guide in GUIDES:
        for edit in corrected(CAKE, 8200, guide).edits:
            assert edit.why
            assert edit.source
            assert edit.exact is not None


@pytest.mark.parametrize("guide", ["practice", "formula", "gas-law"])
def test_a_deep_cut_is_set_beside_gentler_ones(guide: str) -> None:
    """Counted in 40 printed recipes with their own high-altitude version: powder down 21 to 25 %, flour up in 24."""
    (note,) = [n for n in corrected(CAKE, 6000, guide).notes if "deep cut" in n.text]
    assert "takes 22 %" in note.text  # the middle of the extension table at 6,000 ft: 21.875 %
    assert "21 to 25 %" in note.text


def test_the_words_on_deep_cuts_tell_what_was_cut_after_the_guards() -> None:
    """Four tsp of powder in 4 cups of a cake flour batter stay above 2 tsp: at 9,000 ft half is cut, not 68 %."""
    recipe = bake("shortened-cake", line("cake-flour", "4 cup"), line("baking-powder", "4 tsp"), line("milk", "2 cup"))
    (note,) = [n for n in corrected(recipe, 9000).notes if "deep cut" in n.text]
    assert note.text.startswith("50 %")
    little = bake("shortened-cake", line("cake-flour", "4 cup"), line("baking-powder", "1 tsp"), line("milk", "2 cup"))
    assert not [n for n in corrected(little, 9000).notes if "deep cut" in n.text]


def test_an_egg_more_is_weighed_where_eggs_are() -> None:
    """One egg for 312 g of flour, 50 g each (USDA FoodData Central, from memory): 624 g of flour, 100 g."""
    dry = line("all-purpose-flour", "624 g", "5 cup")
    cake = bake("shortened-cake", dry, line("egg", "400 g"))
    later = {e.rule: e.exact for e in corrected(cake, 6000).later}
    assert later["egg"] == 500


def test_what_nothing_lifts_does_not_fall() -> None:
    shortbread = bake(
        "cookie", line("all-purpose-flour", "2 cup"), line("butter", "1 cup"), line("granulated-sugar", "1/2 cup")
    )
    assert corrected(shortbread, 7000).later == ()


def test_more_flour_is_more_wheat() -> None:
    """Oats and corn beside it hold no crumb up (common practice, no source)."""
    oats = (line("oats", "3 cup"), line("all-purpose-flour", "3/2 cup"), line("baking-soda", "1 tsp"))
    (edit,) = [e for e in corrected(bake("cookie", *oats, line("egg", "2 each")), 7000).later if e.rule == "flour"]
    assert edit.ingredient is not None
    assert edit.ingredient.key == "all-purpose-flour"


def test_one_egg_more_is_not_one_yolk_more() -> None:
    yolks = bake("shortened-cake", *LAYER_CAKE[:-1], line("egg-yolk", "4 each"), line("egg-white", "4 each"))
    made = corrected(yolks, 7000)
    assert [e.rule for e in made.later if e.rule == "egg"] == []
    assert any(n.kind == "next" and "white and yolk" in n.text for n in made.notes)


def test_the_recipes_own_figures_for_altitude_are_its_authors() -> None:
    """Our rule (common practice, no source): an author's tested figures are shown, never corrected again."""
    advice = Fact("altitude-note", 900, 1000, "At high altitude bake at 375 F")
    cake = bake("shortened-cake", *LAYER_CAKE, heats=[heat(350), replace(heat(375), start=950, end=955)])
    assert len([e for e in corrected(cake, 7000).edits if e.rule == "oven"]) == 2
    told = corrected(replace(cake, facts=(advice,)), 7000)
    assert [900 <= e.start < 1000 for e in told.edits if e.rule == "oven"] == [False]


def test_gentle_cuts_need_no_such_words() -> None:
    assert not [n for n in corrected(CAKE, 6000, "extension").notes if "deep cut" in n.text]
    assert not [n for n in corrected(CAKE, 4000).notes if "deep cut" in n.text]


def test_every_name_in_the_table_of_notes_exists() -> None:
    for row in rows():
        assert all(pantry.entry(key) for key in dict(row.asks).get("keys", ()))
        assert (row.kinds or frozenset()) | (row.raised or frozenset()) <= set(pantry.kinds())
        assert row.note.text.endswith(".")


@pytest.mark.parametrize(
    ("key", "of", "word"),
    [
        ("beef", "simmer", "one quarter longer"),  # Colorado State University Extension
        ("kidney-bean", "simmer", "10 minutes"),  # FDA, Bad Bug Book, from memory
        ("rice", "simmer", "Rice"),
        ("egg", "boil", "Boiled eggs"),
    ],
)
def test_cooking_in_water_is_told_and_not_changed(key: str, of: str, word: str) -> None:
    times = [Time(6000, 6010, "2 hours", Fraction(120), None, of)]
    dish = bake("savoury", line(key, "1 lb", part="dish", role="other"), times=times, parts=[Part("dish", "savoury")])
    made = corrected(dish, 6500)
    assert made.edits == ()
    assert any(word in n.text for n in made.notes)
    assert not any(word in n.text for n in corrected(dish, 2600).notes)
