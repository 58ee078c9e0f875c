"""The block: short, in order, nothing trimmed that matters."""

from dataclasses import replace
from fractions import Fraction

import pytest

from rewriter.model import Air, Change, Edit, Note, Plan, Query, Recipe
from rewriter.writing import measure, strip, write
from rewriter.writing.block import fitted
from rewriter.writing.notes import notes
from rewriter.writing.registry import Job
from rewriter.writing.rows import few
from tests.writing.cards import AIR, CARD, SOURCE, amount, card, edit, item

NOTES = (
    Note("advice", "Grandma used a hotter oven up at the cabin."),
    Note("start", "All at once first."),
    Note("guide", "Two rules differ here."),
    Note("early", "30 min: look after 24 min"),
    Note("watch", "Fill the pans half full."),
    Note("kept", "yeast stays"),
    Note("caution", "Raw egg.", "USDA FSIS"),
)


def block(
    text: str = CARD, plan: Plan | None = None, queries: tuple[Query, ...] = (), explain: str = "short", air: Air = AIR
) -> list[str]:
    """The lines from the block's first to the one before the record."""
    recipe, usual = card(text)
    plan = plan or usual
    words = write(text, [recipe], [plan], measure(text, recipe, plan), queries, air, explain=explain)
    lines = words[len(text) :].splitlines()
    start = next(index for index, line in enumerate(lines) if line.startswith("=== Altitude notes"))
    return lines[start:-2]


def test_it_opens_with_elevation_boiling_point_and_guide() -> None:
    # 6,500 ft: water boils at 200.1 F (CoolProp with the 1976 atmosphere).
    assert block()[0] == "=== Altitude notes: 6,500 ft (1,981 m); water boils at 200 F (93 C); practice guide ==="
    gentle = replace(card()[1], guide="formula", strength="gentle")
    assert "formula guide, gentle" in block(plan=gentle)[0]


def test_it_says_everything_in_the_order_it_is_read() -> None:
    plan = replace(card()[1], notes=NOTES)
    asked = (Query("q@1", 0, 5, "x", "Which?", ("a", "b")),)
    lines = block(plan=plan, queries=asked)
    said = "\n".join(lines)
    order = [
        "The recipe's own advice: Grandma", "All at once first.", "Two rules differ", "Changed (was -> now):",
        "Check early: 30 min", "Watch for: Fill", "Left as it is: yeast stays", "Questions:",
        '1. "Okafo": Which? (a / b) [q@1]', "CAUTION: Raw egg.", "Sources: common practice, no source; USDA FSIS.",
    ]  # fmt: skip
    places = [said.index(words) for words in order]
    assert places == sorted(places)


def test_without_a_note_of_its_own_it_tells_how_to_begin() -> None:
    assert "one thing at a time" in block()[1]
    assert "leave it alone" in block()[1]


def long_card(lines: int) -> str:
    return CARD + "Serve it plain, or with whatever fruit there is.\n" * lines


@pytest.mark.parametrize("lines", [0, 1, 2, 4, 8, 20])
def test_the_table_takes_a_third_of_the_recipe_at_most(lines: int) -> None:
    text = long_card(lines)
    recipe, plan = card(text)
    changes = measure(text, recipe, plan)
    [section] = notes(Job(text, [recipe], [plan], changes, (), AIR)).sections
    shown = fitted(section, "short")
    assert sum(len(f"{row.name}: {row.move}") + len(why) for row, why in shown) <= len(text) / 3
    assert len(shown) == len(section.rows) or lines < 4
    said = block(text)
    table = said[said.index("Changed (was -> now):") + 1 :]
    assert (f"and {len(section.rows) - len(shown)} more" in " ".join(table)) == (0 < len(shown) < len(section.rows))


def test_a_long_recipe_has_every_row_with_its_reason() -> None:
    lines = block(long_card(12))
    assert "  sugar: 1 1/2 cups -> 1 1/2 cups less 1 1/2 Tbsp (less sugar sets sooner)" in lines
    assert "  oven: 350°F -> 375°F (sets crumb before it falls)" in lines


def test_explained_in_full_it_gives_exact_figures_and_sources() -> None:
    lines = block(explain="full")
    sugar = next(line for line in lines if line.startswith("  sugar"))
    assert sugar == (
        "  sugar: 1 1/2 cups -> 1 1/2 cups less 1 1/2 Tbsp: the sugar rule; in full; exactly 1.406 cup; "
        "source: common practice, no source"
    )


def test_reasons_have_five_words_at_most() -> None:
    from rewriter.writing.rows import _reasons

    assert all(len(words.split()) <= 5 for row in _reasons().values() for words in row.values())
    change = Change(0, 1, "a", "b", "down", None, "no such rule", "because of this, that and much more besides", "")
    assert few(change) == "because of this"


def test_what_rounds_to_nothing_is_one_line() -> None:
    recipe, plan = card()
    eggs = item(CARD, "eggs", "egg", amount(CARD, "3", "3", "each", CARD.index("\n3 eggs")))
    tiny = edit(eggs, "egg", "3.02")
    lines = block(plan=replace(plan, edits=(*plan.edits, tiny)))
    assert "Left as it is: eggs: the correction is too small to measure." in lines
    assert recipe.title == "Okafor-Lind Sunday Cake"


def test_what_is_held_back_is_measured() -> None:
    flour = item(CARD, "flour", "flour", amount(CARD, "2 c.", "2", "cup"))
    later = (edit(flour, "flour", "35/16", step="next"),)
    lines = block(plan=replace(card()[1], later=later))
    assert "Next, if it falls: flour: 2 c. -> 2 c. + 3 Tbsp (more flour holds it up)" in lines


def test_a_dual_amount_is_one_row() -> None:
    text = "1 cup (200 g) sugar\n" + "Cream it with the butter till it is as pale as the winter sun.\n" * 6
    cup, grams = amount(text, "1 cup", "1", "cup"), amount(text, "200 g", "200", "g")
    sugar = item(text, "sugar", "sugar", cup, grams)
    recipe = Recipe("", "shortened-cake", (sugar,), end=len(text))
    plan = Plan((edit(sugar, "sugar", "15/16"), edit(sugar, "sugar", "375/2", 1)))
    words = write(text, [recipe], [plan], measure(text, recipe, plan), [], AIR)
    assert "  sugar: 1 cup / 200 g -> 1 cup less 1 Tbsp / 188 g (less sugar sets sooner)" in words


def two() -> tuple[str, list[Recipe], list[Plan]]:
    """The Sunday cake twice in one paste."""
    first, plan = card()
    text = CARD + CARD
    second, more = _moved(text, len(CARD))
    return text, [first, second], [plan, more]


def _moved(text: str, shift: int) -> tuple[Recipe, Plan]:
    sugar = item(text, "sugar", "sugar", amount(text, "1 1/2 cups", "3/2", "cup", shift), grams=300)
    recipe = Recipe("Second Cake", "shortened-cake", (sugar,), start=shift, end=len(text))
    return recipe, Plan((edit(sugar, "sugar", "45/32"),))


def test_several_recipes_have_one_block_with_a_section_each() -> None:
    text, recipes, plans = two()
    changes = [change for recipe, plan in zip(recipes, plans, strict=True) for change in measure(text, recipe, plan)]
    words = write(text, recipes, plans, changes, [], AIR)
    assert words.count("=== Altitude notes") == 1
    assert words.index("-- Okafor-Lind Sunday Cake --") < words.index("-- Second Cake --")
    assert strip(words) == text


def test_low_down_questions_alone_change_nothing() -> None:
    asked = [Query("q@1", 0, 5, "x", "Which?")]
    low = Air(100.0, 1000.0, 99.6, Fraction(328))
    assert write(CARD, [card()[0]], [Plan()], [], asked, low) == CARD
    assert "Which?" in write(CARD, [card()[0]], [Plan()], [], asked, AIR)


def test_a_note_alone_is_said() -> None:
    plan = Plan(notes=(Note("caution", "Jars: nothing was changed."),))
    words = write(CARD, [card()[0]], [plan], [], [], AIR)
    assert words.startswith(CARD)
    assert "CAUTION: Jars: nothing was changed." in words


def test_an_offer_stands_beside_its_amount() -> None:
    flour = item(CARD, "flour", "flour", amount(CARD, "2 c.", "2", "cup"))
    words = "2 c. plain flour + 1 tsp powder"
    offer = Edit(
        "offer", flour.start, flour.start + 4, "note", None, words, SOURCE, target=flour.amounts[0], step="offer"
    )
    recipe = card()[0]
    words = write(CARD, [recipe], [Plan((offer,))], measure(CARD, recipe, Plan((offer,))), [], AIR)
    assert "2 c. [! or 2 c. plain flour + 1 tsp powder] flour" in words
    assert strip(words) == CARD
