"""Whole recipes of our own invention: parts, kinds, questions, answers, and what must hold for any text."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from spacy.language import Language
from spacy.tokens import Doc

from rewriter import pantry
from rewriter.model import Answer, Ingredient, Recipe
from rewriter.reading.answers import AnswerError
from rewriter.reading.pipeline import load, read

BUNS = """Pell Custard Buns

1 cup milk
1/4 cup sugar
2 1/4 tsp active dry yeast
3 1/2 cups flour
1/4 cup butter
1 egg
1 cup milk
2 egg yolks
1/3 cup sugar
2 tbsp cornstarch

Warm the milk, add yeast and sugar. Mix in flour, butter and egg. Knead and let rise 1 hour.
For the custard, heat the milk, whisk yolks, sugar and cornstarch, and cook until thick. Cool.
Bake the buns at 375 F for 18 minutes. Fill with the custard.
"""
CAKE = """Ninebark Snack Cake

2 cups flour
1 teacup sugar
1 tsp each baking powder and soda
1 cup grommet meal
1 cup buttermilk
1/2 cup butter
2 eggs

Mix it all. Bake at 350 for 30 minutes.
"""
POT_PIE = """Teague Pot Pie

Filling
1 lb chicken
2 carrots
1 onion
2 cups chicken broth
1/4 cup flour
3 tbsp butter

Biscuits
2 cups flour
1 tbsp baking powder
1/2 tsp salt
1/4 cup butter
3/4 cup milk

Cook the chicken, carrots and onion in butter, stir in flour and broth.
Cut butter into flour, baking powder and salt; stir in milk. Drop on the filling and bake at 425 F for 20 minutes.
"""
FROSTED = """Sundquist Cocoa Cake

2 cups flour
1 cup sugar
1 tsp baking soda
1 cup water
1/2 cup oil

Frosting
2 cups powdered sugar
3 tbsp milk

Mix the cake. Bake at 350 F for 30 minutes in a 9x13 pan. Beat sugar and milk and spread over the cake.
"""


def one(text: str, *answers: tuple[str, str]) -> Recipe:
    (recipe,) = read(text, tuple(Answer(what, told) for what, told in answers))
    return recipe


def parts_of(recipe: Recipe) -> list[tuple[str, str]]:
    return [(ingredient.role, ingredient.part) for ingredient in recipe.ingredients]


def named(recipe: Recipe, name: str) -> Ingredient:
    return next(ingredient for ingredient in recipe.ingredients if ingredient.name == name)


def test_the_same_thing_twice_without_headings_is_told_apart_by_the_method() -> None:
    recipe = one(BUNS)
    milks = [ingredient.part for ingredient in recipe.ingredients if ingredient.key == "milk"]
    sugars = [ingredient.part for ingredient in recipe.ingredients if ingredient.role == "sugar"]
    assert milks == sugars == ["batter", "filling"]
    assert recipe.kind == "rich-yeast"


def test_a_heading_tells_the_part() -> None:
    recipe = one(FROSTED)
    assert named(recipe, "powdered sugar").part == named(recipe, "milk").part == "frosting"
    assert named(recipe, "flour").part == named(recipe, "water").part == "batter"
    assert [part.name for part in recipe.parts] == ["batter", "frosting"]


def test_biscuits_on_a_stew_have_a_kind_of_their_own() -> None:
    recipe = one(POT_PIE)
    assert recipe.kind == "savoury"
    assert [part.kind for part in recipe.parts if part.name == "batter"] == ["quick-bread"]
    assert named(recipe, "baking powder").part == named(recipe, "milk").part == "batter"
    assert named(recipe, "chicken broth").part != "batter"


KINDS = {
    "shortened-cake": """Ridge Layer Cake

2 cups flour
1 1/2 cups sugar
2 tsp baking powder
1/2 cup butter
1 cup milk
2 eggs

Cream the butter. Bake at 350 F.""",
    "quick-bread": """Corn Muffins

1 cup flour
1 cup cornmeal
1 tbsp baking powder
1/4 cup sugar
1 cup milk
1 egg

Stir. Bake at 400 F.""",
    "cookie": """Ginger Cookies

2 cups flour
1 cup sugar
2 tsp baking soda
3/4 cup butter
1 egg

Roll in balls. Bake at 350 F.""",
    "griddle": """Sunday Pancakes

2 cups flour
1 tbsp baking powder
1 1/2 cups milk
2 eggs

Cook on a hot griddle.""",
    "lean-yeast": """Country Loaf

500 g flour
350 g water
10 g salt
5 g instant yeast

Knead. Let rise. Bake at 230 C.""",
    "foam-cake": """Angel Food Cake

1 cup cake flour
1 1/2 cups sugar
12 egg whites
1 tsp cream of tartar

Beat the whites to soft peaks. Bake at 350 F.""",
    "steam-raised": """Cream Puffs

1 cup water
1/2 cup butter
1 cup flour
4 eggs

Boil water and butter, add flour all at once, then the eggs. Bake at 400 F.""",
    "pastry": """Plum Pie

2 cups flour
3/4 cup butter
4 cups plums
1 cup sugar

Roll out the crust. Bake at 400 F.""",
}


@pytest.mark.parametrize(("kind", "text"), KINDS.items())
def test_kinds_with_their_reason(kind: str, text: str) -> None:
    recipe = one(text)
    assert recipe.kind == kind
    assert all(part.why for part in recipe.parts)


def test_what_is_not_sure_is_asked_once() -> None:
    recipe = one(CAKE)
    asked = [query.id for query in recipe.queries]
    assert len(asked) == len(set(asked))
    assert [query.id.partition("@")[0] for query in recipe.queries] == ["unit", "quantity", "role"]
    assert all(CAKE[query.start : query.end] == query.text for query in recipe.queries)


def test_a_nameless_batter_is_asked_what_it_is_and_no_griddle_in_an_oven() -> None:
    recipe = one(
        "Plain Thing\n\n2 cups flour\n2 tsp baking powder\n1/2 cup sugar\n1/2 cup milk\n1 egg\n\nMix. Bake at 350 F.\n"
    )
    assert [query.id.partition("@")[0] for query in recipe.queries] == ["kind"]
    assert recipe.kind != "griddle"


def test_shared_amounts_are_two_ingredients() -> None:
    shared = [ingredient for ingredient in one(CAKE).ingredients if "shared" in ingredient.flags]
    assert [ingredient.key for ingredient in shared] == ["baking-powder", "baking-soda"]
    assert len({ingredient.amounts for ingredient in shared}) == 1


ANSWERS = [
    ("role@{grommet}", "flour", lambda r: named(r, "grommet meal").role, "flour"),
    ("part@{buttermilk}", "filling", lambda r: named(r, "buttermilk").part, "filling"),
    ("unit@{teacup}", "3/4 cup", lambda r: r.ingredients[1].amounts[0].quantity, Fraction(3, 4)),
    ("unit@{teacup}", "3/4 cup", lambda r: r.ingredients[1].amounts[0].unit, "cup"),
    ("quantity@{teacup}", "2", lambda r: r.ingredients[1].amounts[0].quantity, 2),
    ("quantity@{teacup}", "1 1/2 cups", lambda r: r.ingredients[1].amounts[0].unit, "cup"),
    ("kind@0", "quick-bread", lambda r: r.kind, "quick-bread"),
    ("heat@{heat}", "325", lambda r: r.heats[0].fahrenheit, 325),
    ("heat@{heat}", "not oven", lambda r: r.heats[0].place, "food"),
]  # fmt: skip


def _place(what: str) -> str:
    spots = {"grommet": "1 cup grommet", "buttermilk": "1 cup butter", "teacup": "1 teacup", "heat": "350"}
    return re.sub(r"\{(\w+)\}", lambda slot: str(CAKE.index(spots[slot[1]])), what)


@pytest.mark.parametrize(("what", "told", "look", "expected"), ANSWERS)
def test_an_answer_overrules_the_reading(what: str, told: str, look: object, expected: object) -> None:
    recipe = one(CAKE, (_place(what), told))
    assert look(recipe) == expected  # type: ignore[operator]
    assert _place(what) not in {query.id for query in recipe.queries}


@pytest.mark.parametrize(
    ("what", "told", "mend"),
    [
        ("kind@0", "brick", "choose one of"),
        ("role@{grommet}", "gravel", "choose one of"),
        ("part@{grommet}", "roof", "choose one of"),
        ("quantity@{teacup}", "lots", "write one such as"),
        ("heat@{heat}", "warmish", "degrees F"),
    ],
)
def test_an_answer_that_does_not_fit_says_what_would(what: str, told: str, mend: str) -> None:
    with pytest.raises(AnswerError, match=mend):
        one(CAKE, (_place(what), told))


def test_what_is_no_ingredient_is_none() -> None:
    text = (
        "Marchetti-Ruiz Cake, 1942\n\nServes 8\n\n2 cups flour\n1 cup sugar\n2 tsp baking powder\n"
        "1 cup milk\n2 cups fruit, in 2-inch pieces\n\n"
        "1. Mix.\n2. Bake at 350 F for 30 minutes in a 9x13 pan.\n\nNutrition: calories 240, protein 4 g, $3.50\n"
    )
    amounts = [amount.text for ingredient in one(text).ingredients for amount in ingredient.amounts]
    assert amounts == ["2 cups", "1 cup", "2 tsp", "1 cup", "2 cups"]


LINES = st.sampled_from(
    [
        *BUNS.splitlines(),
        *FROSTED.splitlines(),
        *POT_PIE.splitlines(),
        "l Y2 c. sugar",
        "Sugar | 1 cup",
        "Step 1",
        "half the flour",
    ]
)


def _sound(text: str) -> None:
    recipes = read(text)
    assert recipes == read(text)
    for recipe in recipes:
        for ingredient in recipe.ingredients:
            assert 0 <= ingredient.start <= ingredient.end <= len(text)
            assert all(amount.text == text[amount.start : amount.end] for amount in ingredient.amounts)
            assert 0 <= ingredient.group < max(1, len(recipe.parts))
        assert all(heat.text == text[heat.start : heat.end] for heat in recipe.heats)
        assert all(portion.text == text[portion.start : portion.end] for portion in recipe.portions)
        assert all(portion.ingredient in recipe.ingredients for portion in recipe.portions)
        assert all(
            query.text == text[query.start : query.end] for query in recipe.queries if not query.id.startswith("kind")
        )


@settings(deadline=None, max_examples=60)
@given(st.text(max_size=400))
def test_any_text_is_read_without_an_error(text: str) -> None:
    _sound(text)


@settings(deadline=None, max_examples=60)
@given(st.lists(LINES, max_size=25))
def test_lines_of_recipes_in_any_order_are_read_soundly(lines: list[str]) -> None:
    _sound("\n".join(lines))


def test_the_pipeline_leaves_its_findings_on_the_doc() -> None:
    doc = load()(FROSTED)
    assert doc.text == FROSTED
    assert len(doc.spans["ingredients"]) == 7
    assert [span.text for span in doc.spans["heats"]] == ["350 F"]
    assert doc.user_data["recipes"] == read(FROSTED)


def test_a_component_that_is_added_to_the_pipeline_sees_tokens() -> None:
    seen: list[str] = []

    @Language.component("seen_by_a_test")
    def look(doc: Doc) -> Doc:
        seen.extend(token.text for token in doc)
        return doc

    load().add_pipe("seen_by_a_test")
    try:
        read("Bread\n\n2cups flour")
    finally:
        load().remove_pipe("seen_by_a_test")
    assert seen[-3:] == ["2", "cups", "flour"]


def test_a_text_longer_than_spacy_takes_is_refused() -> None:
    with pytest.raises(ValueError, match="exceeds maximum"):
        read("a" * (load().max_length + 1))


def test_a_kind_is_asked_about_in_a_baker_s_words_with_few_choices() -> None:
    unsure = [query for recipe in _unsure_kinds() for query in recipe.queries if query.id.startswith("kind@")]
    assert unsure
    for query in unsure:
        assert query.question.startswith("Is this ")
        assert 2 <= len(query.choices) <= 4
        assert len(set(query.choices)) == len(query.choices)
        assert set(query.choices) <= set(pantry.kinds())


def _unsure_kinds() -> list[Recipe]:
    rounds = "Ada's Rounds\n\n3/4 cup lard\n1 cup sugar\n2 eggs\n2 cups flour\n2 tsp soda\n\nMix. Bake at 375 F."
    sweet = "Effie's Best\n\n4 cups sugar\n1 cup butter\n\nMix and let stand."
    return [*read(rounds), *read(sweet)]
