# ruff: noqa: E501  (pastes stand as they are)
"""Where things stand in a paste. The pastes are our own; what belongs where is common practice, no source."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter.reading.headings import heading, may_head
from rewriter.reading.layout import Layout, lay_out
from rewriter.reading.pipeline import load
from rewriter.reading.rows import lines_of, opens_with_amount
from rewriter.reading.titles import title_text
from rewriter.reading.units import table


def laid(text: str) -> list[Layout]:
    """The layouts of a text as the pipeline finds them, with the pantry's names known."""
    found: list[Layout] = load()(text).user_data["layout"]
    return found


def listed(layout: Layout) -> list[str]:
    return [line.text for line in layout.listed]


def method(text: str, layout: Layout) -> list[str]:
    return [text[start:end] for start, end in layout.method]


CARD = "Teague Scones\n\n2 cups flour\n1 tbsp baking powder\n1 cup cream\n\nMix, pat out, cut. Bake at 425 F for 15 minutes.\n"

OPENING = [
    "2 cups flour",
    "1½ cups flour",
    "½ tsp salt",
    "a pinch of salt",
    "one and one-half cups sugar",
    "about 3 cups flour",
    "(1 stick) butter",
    "Optional: 1/2 cup nuts",
    "Y2 cup sugar",
    "Flour ..... 2 cups",
    "Sugar - 1 cup",
    "Butter, 1/2 cup",
    "3 large eggs",
    "50g caster sugar",
    "200 g Flour",
    "2 dozen dates",
]
NOT_OPENING = [
    "20 minutes",
    "350°F",
    "1. Cream the butter",
    "2-inch pieces of dough",
    "Two lbs. fills a coffee can",
    "2019 was a good year",
    "Salt and pepper",
    "Bake until done.",
    "12 g carbs",
    "12 g Carbs",
    "12 g  fiber",
    "3 eggs were left",
    "10 inch skillet",
]


@pytest.mark.parametrize("content", OPENING)
def test_a_line_that_opens_with_an_amount(content: str) -> None:
    assert opens_with_amount(content)


@pytest.mark.parametrize("content", NOT_OPENING)
def test_a_line_that_opens_with_no_amount(content: str) -> None:
    assert not opens_with_amount(content)


HEADINGS = [
    ("Ingredients:", "ingredients"),
    ("** INGREDIENTS **", "ingredients"),
    ("I N G R E D I E N T S", "ingredients"),
    ("You will need", "ingredients"),
    ("## Method", "method"),
    ("Directions", "method"),
    ("How to", "method"),
    ("STEP 1", "method"),
    ("Notes", "notes"),
    ("14 Comments", "end"),
    ("Your thoughts (5)", "end"),
    ("Calories 232 · Fat 10 g · Carbs 34 g · Protein 3 g", "end"),
    ("© The Pass Kitchen", "end"),
    ("Next, fold in the whites.", ""),
    ("Fold in the whites.", ""),
    ("Cinnamon Rolls", ""),
]


@pytest.mark.parametrize(("content", "kind"), HEADINGS)
def test_what_a_line_heads(content: str, kind: str) -> None:
    assert heading(content) == kind


LISTS = {
    "plain": ("{}", "\n"),
    "bullets": ("- {}", "\n"),
    "stars": ("* {}", "\n"),
    "boxes": ("☐ {}", "\n"),
    "tildes": ("~ {}", "\n"),
    "numbered": ("{n}. {}", "\n"),
    "blank lines between": ("{}", "\n\n"),
    "indented": ("      {}", "\n"),
    "windows lines": ("{}", "\r\n"),
}
SCONES = ["2 cups flour", "1 tbsp baking powder", "1/2 tsp salt", "1 cup cream"]


@pytest.mark.parametrize("heads", [True, False], ids=["headings", "no headings"])
@pytest.mark.parametrize("manner", LISTS)
def test_a_list_in_every_manner(manner: str, heads: bool) -> None:
    form, end = LISTS[manner]
    lines = end.join(form.format(line, n=n) for n, line in enumerate(SCONES, 1))
    before, after = (f"Ingredients{end}", f"Method{end}") if heads else ("", "")
    text = f"Teague Scones{end}{end}{before}{lines}{end}{end}{after}Mix and pat out. Bake at 425 F for 15 minutes.{end}"
    (layout,) = laid(text)
    assert layout.title == "Teague Scones"
    assert listed(layout) == SCONES
    assert method(text, layout) == ["Mix and pat out. Bake at 425 F for 15 minutes."]


def test_a_list_in_one_line() -> None:
    text = "SAUSAGE BISCUITS\n2½ c flour, 4 tsp baking powder, 1 tsp salt, 10 T butter, 1⅓ c milk\nCut in butter. Bake at 425 F."
    (layout,) = laid(text)
    assert listed(layout) == ["2½ c flour", "4 tsp baking powder", "1 tsp salt", "10 T butter", "1⅓ c milk"]


def test_names_before_amounts_in_one_line() -> None:
    text = "SNOW CAPS\n\nButter, 1 c.; powdered sugar, 1/2 c.; vanilla, 2 t.; flour, 2-1/4 c.\nMix. Chill. Bake at 400 F for 10 minutes."
    (layout,) = laid(text)
    assert listed(layout) == ["Butter, 1 c.", "powdered sugar, 1/2 c.", "vanilla, 2 t.", "flour, 2-1/4 c."]


def test_two_columns_on_a_card() -> None:
    text = "Pell Cookies\n\n2 cups flour      1 tsp vanilla\n1 cup sugar       2 eggs\n\nMix and bake at 350 F for 10 minutes."
    (layout,) = laid(text)
    assert listed(layout) == ["2 cups flour", "1 tsp vanilla", "1 cup sugar", "2 eggs"]


def test_a_bakery_formula_takes_its_unit_from_the_column_and_no_percentage() -> None:
    text = (
        "NINEBARK ROLLS\n\n                 grams    %\nBread flour      1,000   100\nWater              620    62\n"
        "Instant yeast       10     1\nTotal            1,630   163\n\n1  All in, 3 min first speed.\n2  Rest 10 min.\n3  Bake 220 C, 14 min.\n"
    )
    (layout,) = laid(text)
    assert [(line.text.split()[0], line.text.split()[-1], line.unit) for line in layout.listed] == [
        ("Bread", "1,000", "g"),
        ("Water", "620", "g"),
        ("Instant", "10", "g"),
    ]
    assert len(layout.method) == 3


def test_a_table_of_amounts_and_a_table_of_steps() -> None:
    text = (
        "Lemon Cake\n| Amount | Ingredient |\n|---|---|\n| 1 cup | butter |\n| 5 | large eggs |\n| 3 cups | flour |\n\n"
        "| Step | What to do |\n|---|---|\n| 1 | Heat oven to 325°F |\n| 2 | Cream butter |\n| 3 | Bake 65 min |\n"
    )
    (layout,) = laid(text)
    assert [line.text.rstrip(" |") for line in layout.listed] == ["1 cup | butter", "5 | large eggs", "3 cups | flour"]


def test_a_scan_with_broken_lines() -> None:
    text = "OATMEAL CRlSPS\n\n1 cup shorten-\ning\n2 eggs\n1 cup flour\n\nCream shorten-\ning and eggs. Add flour. Form in rolls,\n2 inches thick. Bake at 350 F."
    (layout,) = laid(text)
    assert layout.title == "OATMEAL CRISPS"
    assert listed(layout) == ["1 cup shorten-\ning", "2 eggs", "1 cup flour"]


def test_groups_with_and_without_blank_lines() -> None:
    for gap in ("", "\n"):
        text = f"Plum Cake\n\nIngredients\n2 cups flour\n1 cup sugar\n{gap}Vanilla Buttercream Frosting\n1 cup butter\n2 cups powdered sugar\n\nMethod\nBake."
        (layout,) = laid(text)
        assert [(head.text if head else None, last - first) for head, first, last in layout.groups] == [
            (None, 2),
            ("Vanilla Buttercream Frosting", 2),
        ]


def test_a_method_before_its_list() -> None:
    text = "Plum Cake\n\nMethod\nBeat the eggs. Bake at 350 F for 30 minutes.\n\nIngredients\n2 eggs\n1 cup flour\n1 cup sugar\n"
    (layout,) = laid(text)
    assert listed(layout) == ["2 eggs", "1 cup flour", "1 cup sugar"]
    assert method(text, layout) == ["Beat the eggs. Bake at 350 F for 30 minutes."]


@pytest.mark.parametrize("rule", ["", "~~~~~~~~~~\n", "- - - - -\n", "* * *\n", "----\n"])
def test_several_recipes_in_one_paste(rule: str) -> None:
    text = (
        f"From: Dot Pell\nSubject: the 2 you asked for\n\nHi all, here they are.\n\n1) GINGER BUTTONS\n3/4 c butter\n1 c sugar\n2 c flour\n"
        f"Cream, mix, roll in balls. 350, 10 minutes.\n\n{rule}2) APPLE CAKE\n3 eggs\n2 c sugar\n3 c flour\nBeat eggs and sugar. Bake 1 hour at 325 F.\n"
    )
    first, second = laid(text)
    assert (first.title, second.title) == ("GINGER BUTTONS", "APPLE CAKE")
    assert (len(first.listed), len(second.listed)) == (3, 3)
    assert first.end <= second.start


def test_a_frosting_after_the_method_is_no_recipe_of_its_own() -> None:
    text = f"{CARD}\nLemon Icing\n1 cup powdered sugar\n2 tbsp lemon juice\n\nStir and spread.\n"
    (layout,) = laid(text)
    assert len(layout.listed) == 5


PAGE = """Skip to content
Home
Recipes
Cookies
Contact

Cakes » Spring

Rhubarb Cake
By Verity Pell · 9 min read · 34 comments
Jump to Recipe   Print Recipe

I have baked this for 12 years. It takes 2 cups of coffee to write it down.

What you'll need
- Flour: I use plain flour here.
- Sugar: any sugar works.

Advertisement

Rhubarb Cake
Prep Time: 15 minutes
Servings: 12

Ingredients
1x 2x 3x
▢ 2 cups flour
▢ 1 cup sugar
▢ 2 tsp baking powder
▢ 1 cup milk

Instructions
1. Mix everything.
2. Bake at 350 F for 40 minutes.

Notes
For a lighter cake use 1/2 cup sugar.

Nutrition
Calories: 210 | Fat: 9 g | Protein: 3 g

34 Comments
Anna: I used
1 cup brown sugar
2 cups flour
Worked well.

Popular now: Apple Pie · 12 Cookies
"""


def test_a_page_gives_its_one_recipe() -> None:
    (layout,) = laid(PAGE)
    assert layout.title == "Rhubarb Cake"
    assert listed(layout) == ["2 cups flour", "1 cup sugar", "2 tsp baking powder", "1 cup milk"]
    assert method(PAGE, layout) == ["1. Mix everything.", "2. Bake at 350 F for 40 minutes."]
    assert layout.start > PAGE.index("2 cups of coffee")


def test_a_recipe_that_stands_twice_is_read_once() -> None:
    assert len(laid(PAGE + PAGE)) == 1
    lines = "2 cups flour\n1 tbsp baking powder\n1/2 tsp salt\n1 cup cream\n"
    assert len(laid(f"Scones\n\n{lines}\nMix. Bake.\n\nScones again\n\n{lines}\nMix. Bake.\n")) == 1


TITLES = [
    ("No. 2. Ranger Mounds", "Ranger Mounds"),
    ("3) Rice Custard", "Rice Custard"),
    ("Mrs. B. Marchetti           0RANGE NUT BREAD", "ORANGE NUT BREAD"),
    ("SOFT GlNGERBREAD", "SOFT GINGERBREAD"),
    ("**Plum Cake**", "Plum Cake"),
]


@pytest.mark.parametrize(("content", "title"), TITLES)
def test_the_title_in_its_line(content: str, title: str) -> None:
    assert title_text(content) == title


ABOVE = [
    "From: Dot Pell\nTo: the list\n\n",
    "CINDER PASS GRANGE COOKBOOK                page 4l\n\n",
    "Home | Recipes | Shop | About\n\n",
]


@pytest.mark.parametrize("above", ABOVE)
def test_the_title_is_the_dish_not_what_stands_above_it(above: str) -> None:
    assert laid(above + CARD)[0].title == "Teague Scones"


@pytest.mark.parametrize("above", ["about 12 scones\n", "Batch: 9.5 kg\n", "Makes 12\n", "2 trays, 30 x 40 cm\n"])
def test_a_yield_above_the_list_is_no_ingredient(above: str) -> None:
    text = CARD.replace("\n\n2 cups", f"\n{above}\n2 cups", 1)
    assert listed(laid(text)[0])[0] == "2 cups flour"


PROSE = "Take one cup of butter and two cups of sugar; beat to a cream, add four eggs and three cups of flour. Bake in a quick oven.\n"
PROSE_TITLES = [
    ("SILVER CAKE WITH SPICE. (Mrs. Pell's.)\n\n", "SILVER CAKE WITH SPICE. (Mrs. Pell's.)"),
    ("Cup Cake\n\n", "Cup Cake"),
    ("l12                THE ASSAY HOUSE RECEIPTS\n\nPOP-OVERS, THAT DO.\n\n", "POP-OVERS, THAT DO."),
    ("Sponge cake.—", "Sponge cake"),
    ("", ""),
]


@pytest.mark.parametrize(("above", "title"), PROSE_TITLES)
def test_the_title_of_running_prose(above: str, title: str) -> None:
    (layout,) = laid(above + PROSE)
    assert layout.prose
    assert layout.title == title


def test_two_recipes_in_running_prose() -> None:
    first, second = laid(f"POP-OVERS.\n\n{PROSE}\nRYE GEMS.\n\n{PROSE}")
    assert (first.title, second.title) == ("POP-OVERS.", "RYE GEMS.")


LINE = st.sampled_from(
    [
        *SCONES,
        "Ingredients",
        "Method",
        "Mix and bake.",
        "----",
        "| 1 | Heat oven |",
        "Flour   1,000   100",
        "Notes",
        "A Cake",
        "",
    ]
)


@given(st.lists(LINE, max_size=14).map("\n".join) | st.text(max_size=200))
def test_never_raises_and_stays_inside_the_text(text: str) -> None:
    for layout in lay_out(text):
        assert 0 <= layout.start <= layout.end <= len(text)
        for start, end in [*layout.method, *layout.notes]:
            assert 0 <= start < end <= len(text)
        for line in [*layout.listed, *layout.headings]:
            assert text[line.start : line.end] == line.text
        covered = [k for _, first, last in layout.groups for k in range(first, last)]
        assert covered == list(range(len(layout.listed)))


@given(st.text(max_size=300))
def test_lines_are_slices_in_order(text: str) -> None:
    lines = lines_of(text)
    assert all(text[line.start : line.end] == line.text for line in lines)
    assert all(first.end <= second.start for first, second in itertools.pairwise(lines))


@pytest.mark.parametrize("filler", [".", " ", "\t", "-", "| ", ", 1 ", "1. ", "Flour ... ", "1 cup a,\nb\n"])
def test_long_runs_are_read_to_their_end(filler: str) -> None:
    text = "Flour" + filler * (20_000 // len(filler)) + "!"
    assert all(layout.end <= len(text) for layout in lay_out(text))


def test_a_letters_page_of_titles_that_count() -> None:
    text = "Notes\n5 eggs: yes. 6 eggs: too many.\n\nTHREE MILKS CAKE\nServes 15\n\n1 cup flour\n5 eggs\n1 cup sugar\n\nBeat and bake at 350 F.\n"
    (layout,) = laid(text)
    assert layout.title == "THREE MILKS CAKE"
    assert listed(layout) == ["1 cup flour", "5 eggs", "1 cup sugar"]


_HEADS = table("layout")["heading"]
_HEADING_PATTERNS = [
    *(pattern for name in ("ingredients", "method", "end", "notes", "end_opening") for pattern in _HEADS[name]),
    *table("layout")["clutter"]["lines"],
]


@pytest.mark.parametrize("pattern", _HEADING_PATTERNS)
@settings(max_examples=15)
@given(data=st.data())
def test_no_heading_fails_at_the_first_look(pattern: str, data: st.DataObject) -> None:
    """The first words of the table hold those of every heading and of all clutter."""
    assert may_head(data.draw(st.from_regex(re.compile(pattern, re.IGNORECASE), fullmatch=True)))
