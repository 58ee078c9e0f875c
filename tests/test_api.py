"""The walk of a recipe: the rooms called in order, and what comes of bad input."""

from __future__ import annotations

import json
import subprocess
import sys
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import rewriter
from rewriter import Answer, Unusable, correcting, reading, writing
from rewriter.model import Air, Change, Ingredient, Note, Plan, Query, Recipe

EXAMPLES = Path(__file__).parent.parent / "corpus" / "examples"
CAKE = (EXAMPLES / "ninebark-butter-cake.txt").read_text(encoding="utf-8")


class Rooms:
    """Rooms that only note who called them with what."""

    def __init__(self) -> None:
        self.calls: list[tuple[Any, ...]] = []
        self.recipes = [
            Recipe(
                "Cake", "shortened-cake", (Ingredient(0, 4, "flour", "flour", "batter"),), queries=(ask("kind@0", 9),)
            ),
            Recipe("Bun", "rich-yeast", (Ingredient(5, 9, "milk", "liquid", "batter"),)),
        ]

    def strip_report(self, text: str) -> SimpleNamespace:
        self.calls.append(("strip", text))
        best = text.removeprefix("edited ")
        return SimpleNamespace(
            text=text.removeprefix("marked "), intact=best == text, message="It was edited.", best=best
        )

    def read(self, text: str, answers: tuple[Answer, ...] = ()) -> list[Recipe]:
        self.calls.append(("read", text, answers))
        return self.recipes

    def plan(self, recipe: Recipe, air: Air, written_for: Air, guide: str, strength: str, answers: Any) -> Plan:
        self.calls.append(("plan", recipe.title, air.elevation_ft, written_for.elevation_ft, guide, strength, answers))
        return Plan(notes=(Note("watch", "same for both"), Note("watch", recipe.title)), queries=(ask("unit@3", 3),))

    def measure(self, text: str, recipe: Recipe, plan: Plan) -> list[Change]:
        self.calls.append(("measure", text, recipe.title))
        start = 7 if recipe.title == "Cake" else 2
        return [Change(start, start, "", "2 Tbsp", "insert", Fraction(2), "liquid", "drier air", "common practice")]

    def write(self, text: str, *rest: Any, style: str, explain: str) -> str:
        self.calls.append(("write", text, style, explain))
        return f"{text} in {style}"


def ask(name: str, at: int) -> Query:
    return Query(name, at, at, "", "Which is it?", ("a", "b"))


@pytest.fixture
def rooms(monkeypatch: pytest.MonkeyPatch) -> Rooms:
    """The three rooms replaced by ones that note every call."""
    made = Rooms()
    for room, names in {
        reading: ("read",),
        correcting: ("plan",),
        writing: ("strip_report", "measure", "write"),
    }.items():
        for name in names:
            monkeypatch.setattr(room, name, getattr(made, name))
    return made


def test_the_rooms_are_called_in_order(rooms: Rooms) -> None:
    answers = (Answer("role@5", "liquid"),)
    result = rewriter.rewrite(
        "marked 2 c flour", "6500 ft", "1000 ft", "extension", "gentle", "ascii", answers, explain="full"
    )
    assert rooms.calls == [
        ("strip", "marked 2 c flour"),
        ("read", "2 c flour", answers),
        ("plan", "Cake", 6500, 1000, "extension", "gentle", answers),
        ("plan", "Bun", 6500, 1000, "extension", "gentle", answers),
        ("measure", "2 c flour", "Cake"),
        ("measure", "2 c flour", "Bun"),
        ("write", "2 c flour", "ascii", "full"),
    ]
    assert (result.text, result.source) == ("2 c flour in ascii", "2 c flour")
    assert result.recipe is result.recipes[0] is rooms.recipes[0]
    assert [change.start for change in result.changes] == [2, 7]
    assert [query.id for query in result.review] == ["unit@3", "kind@0"]
    assert result.notes == ["same for both", "Cake", "Bun"]
    assert result.air.elevation_ft == 6500


def test_an_answered_question_is_closed(rooms: Rooms) -> None:
    result = rewriter.rewrite("2 c flour", "6500 ft", answers=[Answer("kind@0", "cookie")])
    assert [query.id for query in result.review] == ["unit@3"]


def test_edited_annotations_change_nothing_until_it_is_told_what_to_take(rooms: Rooms) -> None:
    rooms.recipes = [Recipe("Bar", "cookie", (Ingredient(0, 1, "", "flour", "batter"),))]
    asked = rewriter.rewrite("edited 2 c flour", "6500 ft")
    assert [query.id for query in asked.review] == ["edited@0"]
    assert (asked.notes, asked.source) == ([], "edited 2 c flour")
    best, stands = (Answer("edited@0", choice) for choice in asked.review[0].choices)
    assert rewriter.rewrite("edited 2 c flour", "6500 ft", answers=[best]).source == "2 c flour"
    told = rewriter.rewrite("edited 2 c flour", "6500 ft", answers=[stands])
    assert (told.source, [query.id for query in told.review]) == ("edited 2 c flour", ["unit@3"])


def test_a_boiling_test_that_does_not_fit_is_asked_and_its_answer_taken(rooms: Rooms) -> None:
    asked = rewriter.rewrite("2 c flour", "6500 ft", boils_at="206 F")
    assert asked.air.elevation_ft == 6500
    assert "air@0" in [query.id for query in asked.review]
    answered = rewriter.rewrite("2 c flour", "6500 ft", boils_at="206 F", answers=[Answer("air@0", "3264 ft")])
    assert answered.air.elevation_ft == 3264
    assert "air@0" not in [query.id for query in answered.review]


def test_a_weather_reports_pressure_is_told(rooms: Rooms) -> None:
    result = rewriter.rewrite("2 c flour", barometer="1015 hPa")
    assert "reduce it to sea level" in result.notes[0]


def test_json_has_fractions_as_words(rooms: Rooms) -> None:
    found = json.loads(json.dumps(rewriter.rewrite("2 c flour", "6500 ft").to_dict()))
    assert {"text", "recipe", "recipes", "changes", "review", "notes", "air"} <= found.keys()
    assert found["changes"][0]["exact"] == "2"
    assert found["air"]["elevation_ft"] == "6500"
    assert found["recipe"]["title"] == "Cake"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"text": "", "elevation": "6500 ft"}, "empty"),
        ({"text": "\0\1\2\3", "elevation": "6500 ft"}, "binary"),
        ({"text": "2 c flour"}, "where the kitchen is"),
        ({"text": "2 c flour", "elevation": "6500"}, "no unit"),
        ({"text": "2 c flour", "elevation": "30,000 ft"}, "outside"),
        ({"text": "2 c flour", "elevation": "6500 ft", "written_for": "up there"}, "cannot be read"),
        ({"text": "2 c flour", "elevation": "6500 ft", "style": "baroque"}, "inline, ascii"),
    ],
)
def test_bad_input_says_what_and_how_to_mend_it(rooms: Rooms, arguments: dict[str, str], says: str) -> None:
    with pytest.raises(Unusable, match=says) as refused:
        rewriter.rewrite(**arguments)
    assert refused.value.mend
    assert isinstance(refused.value, ValueError)


@pytest.mark.parametrize("found", [[], [Recipe("A letter", "savoury")]])
def test_no_recipe(rooms: Rooms, found: list[Recipe]) -> None:
    rooms.recipes = found
    with pytest.raises(Unusable, match="no recipe"):
        rewriter.rewrite("Dear Odalys, the lake is frozen.", "6500 ft")


def test_importing_loads_no_room() -> None:
    code = "import sys, rewriter; print(*sorted(m for m in sys.modules if m.split('.')[0] in ('rewriter', 'spacy')))"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.split() == ["rewriter"]


def test_spacy_finds_the_components_by_name() -> None:
    """They are registered as entry points of the installed package: nothing here imports rewriter."""
    code = """
import spacy
nlp = spacy.blank("en", config={"nlp": {"tokenizer": {"@tokenizers": "rewriter.RecipeTokenizer.v1"}}})
for name in ("recipe_names", "recipe_amounts", "recipe_layout", "recipe_heats", "recipe_builder"):
    nlp.add_pipe(name)
doc = nlp("Bars\\n\\n2 cups flour\\n1 cup sugar\\n\\nMix. Bake at 350 F for 20 minutes.")
print(*(recipe.kind for recipe in doc.user_data["recipes"]))
"""
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.split() == ["cookie"]


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="nonsense"):
        _ = rewriter.nonsense
    assert {"rewrite", "read", "Result"} <= set(dir(rewriter))


def test_sea_level_is_the_paste() -> None:
    assert rewriter.rewrite(CAKE, "0 ft").text == CAKE


@pytest.mark.parametrize("ft", [3_500, 5_280, 6_500, 9_000])
def test_a_cake_is_annotated_and_strips_back(ft: int) -> None:
    result = rewriter.rewrite(CAKE, f"{ft} ft")
    assert result.text != CAKE
    assert rewriter.strip(result.text) == CAKE
    assert result.recipe.kind == "shortened-cake"
    assert all(change.old == CAKE[change.start : change.end] for change in result.changes)
    assert [change.start for change in result.changes] == sorted(change.start for change in result.changes)
    again = rewriter.rewrite(result.text, f"{ft} ft")
    assert (again.text, again.source) == (result.text, CAKE)


def test_frosting_stays() -> None:
    result = rewriter.rewrite(CAKE, "6500 ft")
    frosting = CAKE.index("For the frosting"), CAKE.index("1. Heat")
    assert not [change for change in result.changes if frosting[0] <= change.start < frosting[1]]


def test_saved_by_its_suffix(tmp_path: Path) -> None:
    result = rewriter.rewrite(CAKE, "6500 ft")
    result.save(tmp_path / "card.txt")
    assert (tmp_path / "card.txt").read_bytes().decode() == result.text
    result.save(tmp_path / "card.json")
    assert json.loads((tmp_path / "card.json").read_text(encoding="utf-8"))["text"] == result.text
    with pytest.raises(Unusable, match="no style"):
        result.save(tmp_path / "card.txt", "baroque")


def test_one_line_alone() -> None:
    milk = rewriter.read_ingredient("3/4 cup whole milk")
    assert (milk.name, milk.role, milk.amounts[0].quantity) == ("whole milk", "liquid", Fraction(3, 4))


def test_reading_nothing_finds_nothing() -> None:
    assert rewriter.read("\n") == []
