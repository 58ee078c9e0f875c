"""Each style: what it says, that it gives the pasted text back, and that questions and cautions stand in it."""

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from hypothesis import given, settings

import rewriter
from rewriter.model import Change, Note, Plan, Query, Recipe
from rewriter.writing import measure, save, strip, strip_report, styles, write
from rewriter.writing.registry import find
from rewriter.writing.styled import docx
from tests.writing.cards import AIR, CARD, amount, card, edit, item
from tests.writing.test_strip import texts

ASKED = (
    Query(
        "part@50",
        CARD.index("1 cup milk"),
        CARD.index("1 cup milk") + 10,
        "1 cup milk",
        "For the batter?",
        ("yes", "no"),
    ),
)
CAUTION = Note("caution", "Raw whites: use pasteurized eggs for <children> & the old.", "USDA FSIS")
TEXT_STYLES = [name for name in styles() if not find(name).binary]
REVERSIBLE = [name for name in TEXT_STYLES if find(name).reversible]


def job(text: str = CARD) -> tuple[Recipe, Plan, list[Change]]:
    recipe, plan = card(text)
    plan = replace(plan, notes=(CAUTION, Note("early", "30 min: look after 24 min")))
    return recipe, plan, measure(text, recipe, plan)


def written(style: str, text: str = CARD, explain: str = "short") -> str:
    recipe, plan, changes = job(text)
    return write(text, [recipe], [plan], changes, ASKED, AIR, style=style, explain=explain)


def saved(path: Path, style: str | None = None, text: str = CARD) -> bytes:
    recipe, plan, changes = job(text)
    save(path, text, [recipe], [plan], changes, ASKED, AIR, style=style)
    return path.read_bytes()


@pytest.mark.parametrize("style", REVERSIBLE)
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_the_pasted_text_comes_back(style: str, end: str) -> None:
    text = CARD.replace("\n", end)
    assert strip(written(style, text)) == text


@pytest.mark.parametrize("style", REVERSIBLE)
@settings(max_examples=40)
@given(head=texts, tail=texts)
def test_the_pasted_text_comes_back_whatever_stands_round_the_recipe(style: str, head: str, tail: str) -> None:
    text = head + "\n" + CARD + tail
    recipe, plan = card(text)
    annotated = write(text, [recipe], [plan], measure(text, recipe, plan), [], AIR, style=style)
    assert strip(annotated) == text


@pytest.mark.parametrize("style", REVERSIBLE)
def test_an_edit_is_never_lost(style: str) -> None:
    edited = written(style).replace("3 eggs", "3 eggs and a yolk")
    report = strip_report(edited)
    assert (report.intact, report.text) == (False, edited)
    assert report.best is not None
    if style != "html":  # a page offers the pasted text it carries
        assert report.best == CARD.replace("3 eggs", "3 eggs and a yolk")


@pytest.mark.parametrize("style", TEXT_STYLES)
@pytest.mark.parametrize("explain", ["short", "full"])
def test_cautions_and_questions_stand_in_every_style(style: str, explain: str) -> None:
    words = (
        written(style, explain=explain)
        .replace("\\", "")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&")
    )
    assert CAUTION.text in words
    assert "For the batter? (yes / no)" in words


@pytest.mark.parametrize("style", TEXT_STYLES)
def test_new_amounts_stand_in_every_style(style: str) -> None:
    words = written(style)
    assert "1 tsp" in words
    assert "375" in words


@pytest.mark.parametrize("style", [name for name in REVERSIBLE if name != "html"])
def test_nothing_to_say_leaves_the_text_alone(style: str) -> None:
    recipe = card()[0]
    assert write(CARD, [recipe], [Plan()], [], [], AIR, style=style) == CARD


def test_an_unknown_style_is_told() -> None:
    with pytest.raises(ValueError, match="inline"):
        write(CARD, [], [], [], [], AIR, style="no such style")
    with pytest.raises(ValueError, match="file"):
        write(CARD, [], [], [], [], AIR, style="docx")


def test_ascii_adds_nothing_but_seven_bit_characters() -> None:
    recipe, plan = card()
    annotated = write(CARD, [recipe], [plan], measure(CARD, recipe, plan), [], AIR, style="ascii")
    assert set(filter(lambda char: not char.isascii(), annotated)) == {"°"}
    assert "[-> 1 tsp]" in annotated


def test_clean_is_the_corrected_recipe() -> None:
    words = written("clean")
    assert words.startswith("Okafor-Lind Sunday Cake\nAdjusted for 6,500 ft (1,981 m)")
    assert "\n1 tsp baking powder\n" in words
    assert "375°F (190°C/170°C fan/Gas 5)" in words
    assert not re.search(r"[\[\]→~*]", words.split("Question")[0])


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_clean_says_its_elevation_under_every_title(end: str) -> None:
    text = ("Plain Cake\n1 cup sugar\n\nSmall Cake\n1/2 cup sugar\n").replace("\n", end)
    second = text.index("Small Cake")
    first = item(text, "sugar", "sugar", amount(text, "1 cup", "1", "cup"))
    other = item(text, "sugar", "sugar", amount(text, "1/2 cup", "1/2", "cup"))
    recipes = [
        Recipe("Plain Cake", "shortened-cake", (first,), end=second),
        Recipe("Small Cake", "shortened-cake", (other,), start=second, end=len(text)),
    ]
    plans = [Plan((edit(first, "sugar", "15/16"),)), Plan((edit(other, "sugar", "15/32"),))]
    changes = [change for recipe, plan in zip(recipes, plans, strict=True) for change in measure(text, recipe, plan)]
    lines = write(text, recipes, plans, changes, [], AIR, style="clean").split(end)
    assert [index for index, line in enumerate(lines) if line.startswith("Adjusted for 6,500 ft")] == [1, 5]
    assert (lines[0], lines[4], lines[6]) == ("Plain Cake", "Small Cake", "1/2 cup less 1 1/2 tsp sugar")


def test_clean_is_saved_with_its_original(tmp_path: Path) -> None:
    saved(tmp_path / "cake.txt", "clean")
    assert (tmp_path / "cake.original.txt").read_text("utf-8") == CARD


@pytest.mark.parametrize(
    ("name", "begins"),
    [("a.md", b"Okafor"), ("a.html", b"<!DOCTYPE html>"), ("a.docx", b"PK"), ("a.jsonld", b"{"), ("a.txt", b"Okafor")],
)
def test_save_goes_by_the_ending(tmp_path: Path, name: str, begins: bytes) -> None:
    assert saved(tmp_path / name).startswith(begins)


def accepted(words: str) -> str:
    """CriticMarkup with every change accepted, after the published toolkit's rules (criticmarkup.com, from memory)."""
    words = re.sub(r"\{~~.*?~>(.*?)~~\}", r"\1", words, flags=re.S)
    words = re.sub(r"\{\+\+(.*?)\+\+\}", r"\1", words, flags=re.S)
    return re.sub(r"\{>>.*?<<\}", "", words, flags=re.S)


def rejected(words: str) -> str:
    words = re.sub(r"\{~~(.*?)~>.*?~~\}", r"\1", words, flags=re.S)
    words = re.sub(r"\{\+\+.*?\+\+\}", "", words, flags=re.S)
    return re.sub(r"\{>>.*?<<\}", "", words, flags=re.S)


def test_criticmarkup_rejects_to_the_pasted_text_and_accepts_to_the_corrected_one() -> None:
    words = written("criticmarkup")
    assert rejected(words) == CARD
    body = accepted(words).split("=== Altitude notes")[0]
    assert body.strip() == "\n".join(
        line for line in written("clean").split("\n\nCheck early")[0].splitlines() if not line.startswith("Adjusted")
    )


def test_terminal_is_coloured_only_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "\x1b" not in written("terminal")
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    coloured = written("terminal")
    assert "\x1b[1;32m[→ 1 tsp]\x1b[0m" in coloured
    assert strip(coloured) == CARD
    monkeypatch.setenv("NO_COLOR", "1")
    assert "\x1b" not in written("terminal")


class Page(HTMLParser):
    """What a browser sees: which tags are open, ids, links, and the recipe with its changes taken or not."""

    VOID = frozenset(("meta",))

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[tuple[str, str | None]] = []
        self.tags: set[str] = set()
        self.old = self.new = ""
        self.skip = 0
        self.recipe = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.add(tag)
        if tag not in self.VOID:
            self.open.append(tag)
        if found.get("id"):
            self.ids.append(str(found["id"]))
        if tag == "a":
            self.links.append((str(found["href"]), found.get("aria-label")))
        if found.get("class") == "recipe":
            self.recipe = True
        if (tag == "span" and found.get("class") == "unseen") or tag == "a":
            self.skip += 1

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag
        self.skip -= tag == "a" or (tag == "span" and self.skip > 0)
        self.recipe = self.recipe and tag != "div"

    def handle_data(self, data: str) -> None:
        if self.recipe and not self.skip:
            self.old += "" if "ins" in self.open else data
            self.new += "" if "del" in self.open else data


def test_the_page_is_sound_and_its_reasons_are_within_reach() -> None:
    page = Page()
    words = written("html")
    page.feed(words)
    assert page.open == []
    assert len(page.ids) == len(set(page.ids))
    assert {href.removeprefix("#") for href, _ in page.links} <= set(page.ids)
    assert all(label for href, label in page.links if href.startswith("#why"))
    assert {"del", "ins", "main", "title"} <= page.tags
    assert not {"script", "link", "img", "iframe"} & page.tags
    assert "http" not in words.split("base64")[0]
    assert [re.sub(r"\s+", " ", line).strip() for line in page.old.splitlines()] == [
        line.strip() for line in CARD.splitlines()
    ]


def test_jsonld_is_a_schema_org_recipe() -> None:
    recipe = json.loads(written("jsonld"))
    # Property names of schema.org/Recipe and schema.org/Comment, from memory.
    assert (recipe["@context"], recipe["@type"], recipe["name"]) == (
        "https://schema.org",
        "Recipe",
        "Okafor-Lind Sunday Cake",
    )
    assert "1 tsp baking powder" in recipe["recipeIngredient"]
    assert any("375°F" in step["text"] for step in recipe["recipeInstructions"])
    assert "6,500 ft" in recipe["description"]
    assert CAUTION.text in " ".join(comment["text"] for comment in recipe["comment"])


def test_jsonld_that_came_in_is_kept_and_corrected() -> None:
    slab = {"@type": ["Recipe"], "name": "Ninebark Slab", "recipeYield": "12", "nutrition": {"calories": "210"}}
    slab["recipeIngredient"] = ["1 cup sugar", "2 eggs"]
    text = json.dumps({"@context": "https://schema.org", "@graph": [slab]})
    sugar = item(text, "sugar", "sugar", amount(text, "1 cup", "1", "cup"))
    recipe, plan = (
        Recipe("Ninebark Slab", "shortened-cake", (sugar,), end=len(text)),
        Plan((edit(sugar, "sugar", "15/16"),)),
    )
    out = json.loads(write(text, [recipe], [plan], measure(text, recipe, plan), [], AIR, style="jsonld"))
    [kept] = out["@graph"]
    assert kept["recipeIngredient"] == ["1 cup less 1 Tbsp sugar", "2 eggs"]
    assert (kept["recipeYield"], kept["nutrition"]) == ("12", {"calories": "210"})


def test_docx_rejects_to_the_pasted_text_and_carries_it(tmp_path: Path) -> None:
    text = CARD.replace("\n", "\r\n").replace("3 eggs", "3\teggs\x0c 🥚")
    data = saved(tmp_path / "cake.docx", text=text)
    assert docx.pasted(data) == text
    assert "\n".join(docx.paragraphs(data, accept=False)) == text.replace("\r\n", "\n").replace("\x0c", "")
    accepted = "\n".join(docx.paragraphs(data, accept=True))
    assert "\n1 tsp baking powder\n" in accepted
    assert CAUTION.text in accepted


def test_docx_is_the_same_bytes_for_the_same_recipe(tmp_path: Path) -> None:
    assert saved(tmp_path / "a.docx") == saved(tmp_path / "b.docx")


def test_docx_with_a_broken_part_carries_nothing() -> None:
    assert docx.pasted(b"PK no archive") is None


@pytest.mark.parametrize("style", ["clean", "criticmarkup"])
def test_water_added_in_a_row_of_a_table_stays_in_its_cell(style: str) -> None:
    file = Path(__file__).parents[2] / "corpus" / "examples" / "teague-soda-biscuits.md"
    got = rewriter.rewrite(file.read_text("utf-8"), "6500 ft")
    shown = write(got.source, got.recipes, got.plans, got.changes, got.review, got.air, style=style)
    row = next(line for line in shown.splitlines() if "buttermilk" in line and line.startswith("|"))
    assert "+ 2 Tbsp water" in row
    assert row.endswith("|")
