"""Every kind of file gives its recipe's words."""

import io
import json
import zipfile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rewriter import intake
from rewriter.codec import encode
from rewriter.errors import Unusable

CARD = "Sundquist Rusk\n\n2 1/4 cups flour\n1 tsp baking soda\n½ cup sugar\n\nBake at 350°F for 20 minutes.\n"
RECIPE = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Pell Snow Cake",
    "recipeYield": "12 squares",
    "prepTime": "PT1H5M",
    "recipeIngredient": ["2 cups flour", "1 &frac12; tsp baking powder", "<b>1 cup</b> sugar"],
    "recipeInstructions": [
        {
            "@type": "HowToSection",
            "name": "Batter",
            "itemListElement": [
                {"@type": "HowToStep", "text": "Cream the butter."},
                {"@type": "HowToStep", "text": "Bake at 350 F."},
            ],
        }
    ],
}
AS_TEXT = """Pell Snow Cake

Makes: 12 squares
Preparation: 1 h 5 min

Ingredients
2 cups flour
1 ½ tsp baking powder
1 cup sugar

Directions
Batter:
1. Cream the butter.
2. Bake at 350 F.
"""


def page(*recipes: object) -> bytes:
    scripts = "".join(f'<script type="application/ld+json">{json.dumps(one)}</script>' for one in recipes)
    return f"<!doctype html><html><head>{scripts}</head><body><p>Our story.</p></body></html>".encode()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_text_is_word_for_word_and_goes_back_to_its_bytes(encoding: str) -> None:
    data = CARD.replace("\n", "\r\n").encode(encoding)
    taken = intake.take(data, "rusk.txt")
    assert taken.text == CARD.replace("\n", "\r\n")
    assert taken.form is not None
    assert encode(taken.text, taken.form) == data
    assert taken.data == data


def test_recipe_data_on_a_page_comes_first() -> None:
    # The shape is that of https://schema.org/Recipe, with HowToSection as in its examples.
    assert intake.take(page(RECIPE), "cake.html").text == AS_TEXT


@pytest.mark.parametrize(
    "wrapped",
    [
        {"@graph": [{"@type": "WebSite"}, RECIPE]},
        [RECIPE],
        {"@type": "WebPage", "mainEntity": RECIPE},
        {**RECIPE, "@type": ["Recipe", "NewsArticle"]},
    ],
)
def test_recipe_data_is_found_wherever_it_stands(wrapped: object) -> None:
    assert intake.take(page(wrapped), "cake.html").text == AS_TEXT


def test_the_same_recipe_twice_on_a_page_is_one_and_two_are_cut_apart() -> None:
    other = {**RECIPE, "name": "Teague Snow Cake"}
    assert intake.take(page(RECIPE, RECIPE), "cake.html").text == AS_TEXT
    taken = intake.take(page(RECIPE, other), "cake.html")
    assert [taken.text[start:end] for start, end in taken.cuts] == [AS_TEXT, AS_TEXT.replace("Pell", "Teague")]


def test_microdata_is_read_where_there_is_no_json() -> None:
    html = b"""<!doctype html><div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">Gems</h1>
    <li itemprop="recipeIngredient">2 cups graham flour</li><li itemprop="recipeIngredient">1 egg</li>
    <div itemprop="recipeInstructions">Mix.<br>Bake at 400 F.</div></div>"""
    text = intake.take(html, "gems.html").text
    assert text.startswith("Gems\n\nIngredients\n2 cups graham flour\n1 egg\n\nDirections\n1. Mix.")
    assert "Bake at 400 F." in text


@pytest.mark.parametrize("damage", [b"{bad json", b'{"@type": "Recipe", "name": "Half"}'])
def test_with_damaged_or_partial_data_the_words_of_the_page_are_taken(damage: bytes) -> None:
    html = b'<script type="application/ld+json">' + damage + b"</script><h1>Gems</h1><p>2 cups flour"
    text = intake.take(html, "gems.html").text
    assert "Gems" in text
    assert "2 cups flour" in text


def test_what_a_reader_does_not_see_is_left_out() -> None:
    html = b"""<html><nav>Home</nav><style>p{}</style><p style="display: none">hidden</p><p hidden>too</p>
    <table><tr><td>2 cups</td><td>flour</td></tr></table><ol><li>Mix</li></ol><script>alert(1)</script></html>"""
    text = intake.take(html, "x.html").text
    assert "2 cups  flour" in text
    assert "1. Mix" in text
    assert not any(word in text for word in ("Home", "hidden", "too", "alert", "{}"))


def test_a_page_that_names_its_encoding_is_read_by_it() -> None:
    html = '<html><head><meta charset="windows-1252"></head><body><p>½ cup crème</p></body></html>'
    assert "½ cup crème" in intake.take(html.encode("cp1252"), "x.html").text


def test_documents_give_paragraphs_lists_and_tables_in_order() -> None:
    import docx

    document = docx.Document()
    document.add_paragraph("Okafor-Lind Rolls")
    table = document.add_table(rows=2, cols=2)
    for row, words in zip(table.rows, (("2 cups", "flour"), ("1 pkg", "yeast")), strict=True):
        for cell, word in zip(row.cells, words, strict=True):
            cell.text = word
    document.add_paragraph("Knead.", style="List Number")
    document.add_paragraph("Bake.", style="List Number")
    into = io.BytesIO()
    document.save(into)
    taken = intake.take(into.getvalue(), "rolls.docx")
    assert taken.text == "Okafor-Lind Rolls\n2 cups\tflour\n1 pkg\tyeast\n\n1. Knead.\n2. Bake.\n"


def odt(body: str, styles: str = "", manifest: str = "") -> bytes:
    """An open document with a body of ISO/IEC 26300 elements."""
    spaces = " ".join(
        f'xmlns:{name}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
        for name, long in (("office", "office"), ("text", "text"), ("table", "table"), ("style", "style"))
    )
    content = (
        f"<office:document-content {spaces}><office:automatic-styles>{styles}</office:automatic-styles>"
        f"<office:body><office:text>{body}</office:text></office:body></office:document-content>"
    )
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.text")
        packed.writestr("content.xml", content)
        packed.writestr("META-INF/manifest.xml", manifest or "<m/>")
    return into.getvalue()


def test_open_documents_give_paragraphs_lists_and_tables_in_order() -> None:
    # The elements and their meaning: ISO/IEC 26300, chapters on text and tables (from memory).
    numbered = '<text:list-style style:name="L1"><text:list-level-style-number/></text:list-style>'
    body = """<text:h>Juniper Rolls</text:h><text:tracked-changes><text:p>gone</text:p></text:tracked-changes>
    <text:p>2<text:s/>cups<text:tab/><text:span>fl<text:span>our</text:span></text:span><text:line-break/>1 egg</text:p>
    <table:table><table:table-row><table:table-cell><text:p>1 pkg</text:p></table:table-cell><table:table-cell>
    <text:p>yeast<office:annotation><text:p>fresh</text:p></office:annotation></text:p></table:table-cell>
    </table:table-row></table:table><text:list text:style-name="L1"><text:list-item><text:p>Knead.</text:p>
    </text:list-item><text:list-item><text:p>Bake.</text:p></text:list-item></text:list>"""
    taken = intake.take(odt(body, numbered), "rolls.odt")
    assert taken.text == "Juniper Rolls\n2 cups\tflour\n1 egg\n1 pkg\tyeast\n\n1. Knead.\n2. Bake.\n"
    assert taken.kind == "document"


def test_open_documents_that_are_locked_or_empty_are_refused() -> None:
    with pytest.raises(Unusable, match="password"):
        intake.take(odt("<text:p>x</text:p>", manifest="<manifest:encryption-data/>"), "card.odt")
    with pytest.raises(Unusable, match="no words"):
        intake.take(odt("<text:p/>"), "card.odt")
    with pytest.raises(Unusable, match="damaged"):
        intake.take(odt("<text:p>"), "card.odt")


def test_rich_text_gives_words_breaks_and_table_cells() -> None:
    # Control words: Rich Text Format Specification 1.9.1, Microsoft (from memory).
    data = (
        rb"{\rtf1\ansi\ansicpg1252\deff0{\fonttbl{\f0 Serif;}}{\*\generator x;}\f0 Rusks\par \'bd cup sugar\par "
        rb"\u188? cup cr\'e8me\line{\b 2} eggs\par\trowd 1 cup\cell milk\cell\row\pard 350\'b0F\par"
        rb"{\pict\pngblip 8950}}"
    )
    taken = intake.take(data, "rusks.rtf")
    assert taken.text == "Rusks\n½ cup sugar\n¼ cup crème\n2 eggs\n1 cup\tmilk\n350°F\n"
    assert taken.warnings == ("1 pictures in it are not read",)


def test_json_lines_with_a_bad_line_keep_the_others() -> None:
    lines = [json.dumps({"title": "Rusk", "text": CARD}), "{oops", json.dumps(RECIPE)]
    taken = intake.take("\n".join(lines).encode(), "cards.jsonl")
    assert [taken.text[start:end] for start, end in taken.cuts] == [CARD, AS_TEXT]
    assert "2" in taken.warnings[0]


def test_a_pdf_gives_each_word_and_where_it_stood() -> None:
    typed = intake.take("corpus/specimens/typed.pdf")
    assert typed.kind == "pdf"
    for word in typed.pages[0].words:
        assert typed.text[word.start : word.end] == word.text
        assert 0 <= word.x0 < word.x1 <= typed.pages[0].width
        assert 0 <= word.y0 < word.y1 <= typed.pages[0].height
    assert "flour" in typed.text


@pytest.mark.parametrize(
    ("data", "name", "mend"),
    [
        (b"", "empty.txt", "empty"),
        (b"{\\rtf1 {\\*\\generator x}}", "card.rtf", "no words"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(99), "card.doc", "save it as .docx"),
        (b"PK\x03\x04broken", "card.docx", "damaged"),
        (b"%PDF-1.7 broken", "card.pdf", "damaged"),
        (b"\x89PNG\r\n\x1a\nbroken", "card.png", "damaged"),
        (bytes(range(256)) * 40, "junk.bin", "binary"),
        (b"\0\0\0\x20ftypheic", "card.heic", "JPEG"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(data: bytes, name: str, mend: str) -> None:
    with pytest.raises(Unusable, match=mend):
        intake.take(data, name)


@settings(deadline=None)
@given(
    st.binary(max_size=400),
    st.sampled_from("a.txt a.html a.docx a.rtf a.pdf a.json a.zip a.png".split()),
)
def test_any_bytes_are_taken_or_refused_never_worse(data: bytes, name: str) -> None:
    for one in intake.take_each(data, name):
        assert isinstance(one, intake.Taken) or isinstance(one[2], Unusable)
