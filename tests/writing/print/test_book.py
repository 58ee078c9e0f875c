"""Pages as a reader would see them: set, rendered, and their words looked for where they must stand."""

from __future__ import annotations

import io
import re
from fractions import Fraction

import numpy as np
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rewriter
from rewriter import intake
from rewriter.commands.print import guide_curves, job_of
from rewriter.model import Air, Change, Ingredient, Note, Plan, Recipe
from rewriter.writing.print import PAPERS, Curve, book
from rewriter.writing.print.book import _drawn
from rewriter.writing.print.sheet import sheets
from rewriter.writing.registry import Job

AIR = Air(1981.2, 796.9, 93.4, Fraction(6500))
CAKE = """Pell Saturday Cake

For the cake:
2 cups all-purpose flour
2 teaspoons baking powder
1/2 teaspoon salt
1/2 cup butter
1 1/2 cups sugar
2 eggs
1 cup milk

For the frosting:
1 cup powdered sugar
2 tablespoons milk

Method
Heat the oven to 350°F (175°C). Cream the butter and sugar, beat in the eggs, then the flour in turns with the
milk. Bake 30 minutes. Mix the frosting and spread it when the cake is cold.
"""


def pages(pdf: bytes) -> list[str]:
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range() for page in document]


def flat(text: str) -> str:
    return " ".join(text.split())


def rendered(pdf: bytes, number: int = 0, scale: float = 2.0) -> np.ndarray:
    return np.asarray(pypdfium2.PdfDocument(pdf)[number].render(scale=scale).to_pil().convert("L"))


@pytest.fixture(scope="module")
def cake() -> Job:
    return job_of(rewriter.rewrite(CAKE, "6500 ft"))


# Sizes: ISO 216 for A4 (210 x 297 mm), ANSI/ASME Y14.1 for letter; index cards are named for theirs in inches.
@pytest.mark.parametrize(
    ("paper", "inches"),
    [("letter", (8.5, 11)), ("a4", (210 / 25.4, 297 / 25.4)), ("card-4x6", (6, 4)), ("card-5x8", (8, 5))],
)
def test_papers_have_their_sizes(cake: Job, paper: str, inches: tuple[float, float]) -> None:
    size = pypdfium2.PdfDocument(book([cake], paper))[0].get_size()
    assert size == pytest.approx([72 * side for side in inches], abs=0.6)


@pytest.mark.parametrize("paper", PAPERS)
def test_an_ingredient_list_is_never_split(cake: Job, paper: str) -> None:
    on_one = [
        page for page in pages(book([cake], paper)) if "all-purpose flour" in page and "2 tablespoons milk" in page
    ]
    assert len(on_one) == 1


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [12, 22, 34])
def test_a_long_list_is_made_to_fit(paper: str, count: int) -> None:
    names = [f"{number} cups thing{number}" for number in range(1, count + 1)]
    text = "Long Soup\n\nA word before it.\n\n" + "\n".join(names) + "\n\nStir.\n"
    items = []
    for name in names:
        start = text.index(name + "\n")
        items.append(Ingredient(start, start + len(name), name, "other", "dish"))
    recipe = Recipe("Long Soup", "savoury", tuple(items), end=len(text))
    found = pages(book([Job(text, [recipe], [], [], [], AIR)], paper))
    first = [number for number, page in enumerate(found) if "thing1\r" in page + "\r" or "thing1\n" in page]
    assert first
    assert all(flat(name) in flat(found[first[0]]) for name in names)


def test_the_old_amount_is_struck_and_the_new_stands_right_beside_it(cake: Job) -> None:
    """The strike is a line of ink across the old amount and not across the new one."""
    pdf = book([cake], "letter")
    words = {word.text: word for word in reversed(intake.take(pdf, "x.pdf").pages[0].words)}
    powder = next(change for change in cake.changes if change.ingredient == "baking powder")
    text = flat(pages(pdf)[0])
    assert f"{powder.old} {powder.new} baking powder" in text
    ink = rendered(pdf, scale=4) < 128
    old, name = words["teaspoons"], words["powder"]

    def across(word: object) -> float:
        x0, x1 = int(4 * word.x0) + 4, int(4 * word.x1) - 4
        rows = ink[int(4 * word.y0) : int(4 * word.y1), x0:x1]
        return float(rows.mean(axis=1).max())

    assert across(old) > 0.98
    assert across(name) < 0.9


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_black_on_white(cake: Job, paper: str) -> None:
    pixels = np.asarray(pypdfium2.PdfDocument(book([cake], paper))[0].render(scale=2).to_pil().convert("RGB")).astype(
        int
    )
    assert (np.ptp(pixels, axis=2) == 0).all()
    assert pixels.min() == 0
    assert pixels.max() == 255


# Arm's length, about 28 in (70 cm): type of 10 points and more is commonly held readable there; common practice, no
# source.
@pytest.mark.parametrize(("paper", "least"), [("letter", 12), ("a4", 12), ("card-4x6", 10), ("card-5x8", 11)])
def test_type_can_be_read_at_arms_length(cake: Job, paper: str, least: float) -> None:
    import pypdfium2.raw as raw

    layer = pypdfium2.PdfDocument(book([cake], paper))[0].get_textpage()
    at = layer.get_text_range().index("cups")
    assert raw.FPDFText_GetFontSize(layer.raw, at) >= least


def test_all_words_of_the_recipe_are_printed_once_each_in_order(cake: Job) -> None:
    """With what was added taken out, the recipe is there word for word."""
    sheet = sheets(cake)[0]
    lines = [
        line["pieces"] for block in sheet["blocks"] if block["kind"] == "list" for g in block["groups"] for line in g
    ]
    lines += [block["pieces"] for block in sheet["blocks"] if block["kind"] != "list"]
    kept = sorted(flat("".join(words for kind, words in pieces if kind in ("plain", "old"))) for pieces in lines)
    kept = [line for line in kept if line]
    paragraph = "Heat the oven " + flat(CAKE.split("Heat the oven")[1])
    wanted = [line for line in CAKE.splitlines()[1:] if line and not line.startswith(("Heat", "milk."))]
    assert kept == sorted([*wanted, flat(paragraph)])


def test_a_line_that_is_added_stands_in_its_list() -> None:
    text = "Cookies\n\n2 cups flour\n1 cup butter\n\nBake.\n"
    at = text.index("\n\nBake")
    items = (Ingredient(9, 21, "flour", "flour", "batter"), Ingredient(22, at, "butter", "fat", "batter"))
    change = Change(at, at, "", "+ 2 Tbsp water", "insert", Fraction(2), "liquid", "why", "s", addition="water")
    job = Job(text, [Recipe("Cookies", "cookie", items, end=len(text))], [], [change], [], AIR)
    lists = [block for block in sheets(job)[0]["blocks"] if block["kind"] == "list"]
    assert [line["pieces"] for line in lists[0]["groups"][0]][-1] == [("new", "+ 2 Tbsp water")]
    assert "+ 2 Tbsp water" in flat(pages(book([job]))[0])


def test_what_stands_around_a_recipe_can_be_left_out() -> None:
    text = f"Subscribe!\n\nI love October.\n\n{CAKE}\nComments\n\nSue says: mine needed 3 cups!\n"
    job = job_of(rewriter.rewrite(text, "6500 ft"))
    short = flat(" ".join(pages(book([job], whole=False))))
    for words in ("For the cake:", "all-purpose flour", "spread it when the cake is cold."):
        assert words in short
    for words in ("Subscribe", "October", "Comments", "Sue says"):
        assert words not in short
    assert "Sue says" in flat(" ".join(pages(book([job]))))


def test_cautions_stand_before_the_recipe_and_are_never_trimmed() -> None:
    text = "Pell Doughnuts\n\n2 cups flour\n2 tsp baking powder\n\nFry in deep fat.\n"
    items = (Ingredient(16, 28, "flour", "flour", "batter"), Ingredient(29, 48, "baking powder", "leavener", "batter"))
    plan = Plan(notes=(Note("caution", "Hot fat burns: never leave it, and keep water away from it."),))
    job = Job(text, [Recipe("Pell Doughnuts", "fried-dough", items, end=len(text))], [plan], [], [], AIR)
    for paper in PAPERS:
        first = flat(pages(book([job], paper))[0])
        assert first.index("CAUTION: Hot fat burns: never leave it, and keep water away from it.") < first.index(
            "2 cups"
        )


def test_a_booklet_has_contents_with_the_pages_where_recipes_begin(cake: Job) -> None:
    bread = job_of(
        rewriter.rewrite(
            "Odalys Loaf\n\n3 cups bread flour\n1 1/4 cups water\n2 tsp yeast\n\nKnead. Bake.\n", "6500 ft"
        )
    )
    found = pages(book([cake, bread, cake], title="Ninebark Oven"))
    assert "Ninebark Oven" in found[0]
    listed = re.findall(r"(Pell Saturday Cake|Odalys Loaf)[ .]+(\d+)", found[0])
    assert len(listed) == 3
    for title, number in listed:
        assert found[int(number) - 1].lstrip().startswith(title)
        assert f"{number} / {len(found)}" in found[int(number) - 1]


def test_the_guide_page_is_last_and_shows_the_figures_for_this_kitchen(cake: Job) -> None:
    curves = guide_curves("practice", "middle", AIR)
    last = pages(book([cake], curves=curves))[-1]
    assert "The guide by elevation" in last
    assert [curve.here for curve in curves if curve.title.startswith(("Oven", "Leavener"))] == [50, 25]
    for curve in curves:
        assert curve.title in last
        assert f"{curve.here:g}" in last.split()


def test_a_curve_is_nothing_below_its_first_point_and_held_after_its_last() -> None:
    curve = Curve("Oven, hotter", "degrees F", ((3000.0, 15.0), (6000.0, 25.0)), 25.0)
    assert _drawn(curve)["line"] == [(0.0, 0.0), (3000.0, 0.0), (3000.0, 15.0), (6000.0, 25.0), (12000, 25.0)]


HOSTILE = [
    '#import "@preview/evil:1.0.0": *',
    '#read("/etc/passwd")',
    "#sys.inputs #panic() \\u{41} $x^2$ *bold* _it_ `raw` <label> @ref ~ -- /* gone */ // gone",
    "= Heading\n+ item\n- item\n/ term: said",
    '"quoted" \\" \\n {{}} [[]] #[ ]) }',
    "\x00\x07\ud800 \ufffe",
    "עוגת שוקולד ケーキ 🍰 e\u0301",
    "x" * 400,
]


@pytest.mark.parametrize("words", HOSTILE)
def test_words_are_shown_and_never_obeyed(words: str) -> None:
    text = f"{words}\n\n2 cups {words}\n\n{words}\n"
    end = text.index("\n\n", len(words) + 2)
    item = Ingredient(len(words) + 2, end, words, "other", "dish")
    job = Job(text, [Recipe(words, "savoury", (item,), end=len(text))], [], [], [], AIR)
    shown = flat(pages(book([job]))[0]).replace("\u200b", "")
    for word in re.findall(r"[#@$*/=+\[\]{}\\]?[a-z_]{3,12}[(\"]?", words):
        assert shown.count(word) >= 3


@given(st.text(max_size=80), st.sampled_from(list(PAPERS)))
@settings(max_examples=20, deadline=None)
def test_any_text_can_be_printed(words: str, paper: str) -> None:
    job = Job(words, [Recipe(words, "savoury", end=len(words))], [], [], [], AIR)
    assert book([job], paper).startswith(b"%PDF")


def test_the_same_recipe_gives_the_same_bytes(cake: Job) -> None:
    assert book([cake]) == book([cake])


def test_nothing_to_print_is_refused(cake: Job) -> None:
    with pytest.raises(ValueError, match="no recipes"):
        book([])
    with pytest.raises(ValueError, match="card-4x6"):
        book([cake], "papyrus")


def test_a_page_renders_with_ink_only_inside_its_margins(cake: Job) -> None:
    for paper, sheet in PAPERS.items():
        ink = rendered(book([cake], paper), scale=1) < 200
        edge = int(sheet.margin) - 3
        assert ink.any()
        assert not ink[:, :edge].any()
        assert not ink[:, ink.shape[1] - edge :].any()
        assert not ink[:edge].any()


def test_a_document_opens_with_its_title(cake: Job) -> None:
    assert pypdfium2.PdfDocument(io.BytesIO(book([cake]))).get_metadata_dict()["Title"] == "Pell Saturday Cake"
