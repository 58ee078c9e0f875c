"""The page in a real browser, as a person with flour on their hands uses it."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

import rewriter
from tests.web.conftest import ASKS, BISCUITS, CAKE, JARS, SHOTS, fill, until


def changed(page: Any) -> list[str]:
    return [text.strip() for text in page.locator(".now .figure").all_inner_texts()]


def shown(result: rewriter.Result) -> list[str]:
    return [one.new.removeprefix("+ ") for one in result.changes if one.step == "now"]


def test_paste_and_place_give_the_recipe_at_once(visit: Any) -> None:
    page = visit(color_scheme="light")
    fill(page, CAKE)
    assert changed(page) == shown(rewriter.rewrite(CAKE, "8200 ft"))
    assert "8,200 ft" in page.locator("#answer-title").inner_text()
    assert "197\xa0°F" in page.locator("#air").inner_text()
    for line in CAKE.split("\n"):
        if line.strip() and not any(sign in line for sign in ("sugar", "powder", "whole milk", "350")):
            assert line in page.locator(".words").inner_text()
    page.screenshot(path=SHOTS / "day.png", full_page=True)


def test_another_elevation_gives_another_recipe_and_is_remembered(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.fill("#figure", "5000")
    until(page, "document.getElementById('answer-words').textContent.includes('5,000')")
    assert changed(page) == shown(rewriter.rewrite(CAKE, "5000 ft"))
    page.reload()
    page.wait_for_selector(".card")
    assert page.input_value("#figure") == "5000"
    assert page.context.cookies() == []


def test_metres_barometer_and_boiling_water(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.select_option("#unit", "m")
    assert page.input_value("#figure") == "2499"
    page.select_option("#way", "boils_at")
    page.fill("#figure", "200.1")
    until(page, "document.getElementById('air').textContent.includes('6,49')")
    page.select_option("#way", "barometer")
    page.fill("#figure", "1100")
    until(page, "document.getElementById('trouble').textContent.includes('outside')")
    page.fill("#figure", "749")
    until(page, "document.getElementById('air').textContent.includes('8,1')")


def test_the_rod_says_the_height_too(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.focus("#rod")
    page.keyboard.press("ArrowUp")
    until(page, "document.getElementById('answer-words').textContent.includes('8,300')")
    assert page.input_value("#figure") == "8300"
    assert page.get_attribute("#rod", "aria-valuetext") == "8,300 feet"


def test_one_request_at_a_time_while_typing(visit: Any) -> None:
    page = visit()
    flights = {"now": 0, "most": 0, "all": 0}

    def sent(request: Any) -> None:
        if request.url.endswith("/annotate"):
            flights["now"] += 1
            flights["all"] += 1
            flights["most"] = max(flights["most"], flights["now"])

    def came(request: Any) -> None:
        if request.url.endswith("/annotate"):
            flights["now"] -= 1

    page.on("request", sent)
    page.on("requestfinished", came)
    fill(page, CAKE)
    page.focus("#figure")
    for _ in range(12):
        page.keyboard.press("Backspace")
        page.keyboard.type("8200"[-1])
    page.wait_for_timeout(800)
    assert flights["most"] == 1
    assert flights["all"] < 12


def test_an_annotation_opens_to_its_reason_source_figure_and_the_other_guides(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    change = next(one for one in rewriter.rewrite(CAKE, "8200 ft").changes if one.rule == "leavener")
    page.locator(".now", has_text=change.new).first.click()
    slip = page.locator(".slip")
    slip.locator("tbody tr").nth(3).wait_for()
    text = slip.inner_text()
    assert change.why[1:] in text
    assert change.source in text
    assert str(change.exact) in text
    assert slip.locator("tbody tr").count() == 4
    other = next(
        one for one in rewriter.rewrite(CAKE, "8200 ft", guide="extension").changes if one.start == change.start
    )
    assert other.new in text
    page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    assert slip.count() == 0
    assert page.evaluate("document.activeElement.className").startswith("now")


def test_guide_and_strength_rewrite_the_recipe(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.select_option("#guide", "extension")
    page.select_option("#strength", "gentle")
    expected = shown(rewriter.rewrite(CAKE, "8200 ft", guide="extension", strength="gentle"))
    until(
        page,
        "want => JSON.stringify([...document.querySelectorAll('.now .figure')].map(n => n.textContent)) === want",
        json.dumps(expected, ensure_ascii=False, separators=(",", ":")),
    )


def test_written_for_another_elevation(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.fill("#written", "8,200 ft")
    until(page, "document.querySelectorAll('.now').length === 0")
    assert "Nothing in it changes" in page.locator("#status").inner_text()


def test_a_question_is_answered_on_the_spot_kept_and_taken_back(visit: Any) -> None:
    page = visit()
    fill(page, ASKS)
    asked = page.locator(".asked li")
    before = asked.count()
    assert before >= 2
    asked.first.locator("select").select_option("flour")
    asked.first.locator("button", has_text="That is it").click()
    until(page, f"document.querySelectorAll('.asked li').length === {before - 1}")
    assert page.evaluate("document.activeElement.closest('.asked') !== null")
    page.screenshot(path=SHOTS / "answered.png", full_page=True)
    page.reload()
    page.wait_for_selector(".card")
    assert page.locator(".asked li").count() == before - 1
    page.locator(".told button").first.click()
    until(page, f"document.querySelectorAll('.asked li').length === {before}")


def test_answers_stay_with_their_words_while_the_text_changes(visit: Any) -> None:
    page = visit()
    fill(page, ASKS)
    before = page.locator(".asked li").count()
    page.locator(".asked li").first.locator("select").select_option("flour")
    page.locator(".asked li button", has_text="That is it").first.click()
    until(page, f"document.querySelectorAll('.asked li').length === {before - 1}")
    page.fill("#paste", ASKS.replace("Pell Bars", "Pell Bars \U0001f370 of Aunt Pell"))
    until(page, "document.querySelector('.words').textContent.includes('Aunt Pell')")
    assert page.locator(".asked li").count() == before - 1
    assert page.locator(".told li").count() == 1


def test_a_reading_is_overruled_from_the_slip_and_from_the_readings(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    amount = changed(page)[1]
    page.locator(".now", has_text=amount).first.click()
    page.locator(".slip button", has_text="Leave this one").click()
    page.wait_for_selector(".told")
    assert amount not in changed(page)
    page.locator("summary", has_text="How it was read").click()
    page.get_by_label("whole milk goes into").select_option("frosting")
    until(page, "![...document.querySelectorAll('.now .figure')].some(n => n.textContent.includes('1 1/3 cups'))")
    page.locator("summary", has_text="How it was read").click()
    page.get_by_label("The batter is a").select_option("custard")
    until(page, "document.querySelector('.kind').textContent.includes('custard')")
    assert page.locator(".told li").count() == 3


def test_several_recipes_are_several_cards(visit: Any) -> None:
    page = visit()
    fill(page, f"{CAKE}\n\n\n{BISCUITS}")
    assert page.locator("article.card").count() == 2
    assert "2 recipes" in page.locator("#status").inner_text()


def test_pictures_with_their_words(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.locator("summary", has_text="Pictures").click()
    page.wait_for_selector(".drawn svg")
    assert page.locator(".drawn svg[role=img]").count() == 5
    for drawn in page.locator(".drawn svg[role=img]").all():
        name, words = (page.locator(f"#{one}").text_content() for one in drawn.get_attribute("aria-labelledby").split())
        assert name
        assert any(figure.isdigit() for figure in words)
    assert "liquid 87 %, then 116 %" in page.locator(".drawn desc").first.text_content()
    page.locator(".drawn summary").nth(1).click()
    assert "8,200 ft" in page.locator(".drawn table").nth(1).inner_text()
    page.locator("details.fold[open]").first.screenshot(path=SHOTS / "pictures.png")


def test_after_the_bake_the_next_step_is_offered(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.locator("summary", has_text="I baked it").click()
    page.get_by_label("What came of it?").fill("it sank in the middle")
    page.keyboard.press("Enter")
    page.wait_for_selector(".steps li")
    assert "flour" in page.locator(".steps li").first.inner_text()
    page.locator(".steps summary").first.click()
    assert "2 1/2 cups" in page.locator(".steps .words").first.inner_text()
    page.screenshot(path=SHOTS / "baked.png", full_page=True)


def test_download_in_every_style(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    for style in page.locator("#style option:not([disabled])").evaluate_all("all => all.map(one => one.value)"):
        page.select_option("#style", style)
        with page.expect_download() as coming:
            page.click("#download")
        data = Path(coming.value.path()).read_bytes()
        assert coming.value.suggested_filename.startswith("ninebark-butter-cake-8200-ft")
        assert len(data) > 400
        if style == "inline":
            assert rewriter.strip(data.decode("utf-8")) == CAKE


def test_a_saved_card_opens_again_with_its_answers(visit: Any, tmp_path: Path) -> None:
    page = visit()
    fill(page, ASKS)
    before = page.locator(".asked li").count()
    page.locator(".asked li").first.locator("select").select_option("flour")
    page.locator(".asked li button", has_text="That is it").first.click()
    until(page, f"document.querySelectorAll('.asked li').length === {before - 1}")
    with page.expect_download() as coming:
        page.click("#keep")
    kept = tmp_path / coming.value.suggested_filename
    coming.value.save_as(kept)
    fresh = visit()
    fresh.set_input_files("#file", kept)
    fresh.wait_for_selector(".card")
    assert fresh.input_value("#paste") == ASKS
    assert fresh.input_value("#figure") == "8200"
    assert fresh.locator(".asked li").count() == before - 1


def test_a_file_keeps_its_own_line_ends(visit: Any, tmp_path: Path) -> None:
    card = tmp_path / "card.txt"
    card.write_bytes(CAKE.replace("\n", "\r\n").encode())
    page = visit()
    page.fill("#figure", "8200")
    page.set_input_files("#file", card)
    page.wait_for_selector(".card")
    page.select_option("#style", "inline")
    with page.expect_download() as coming:
        page.click("#download")
    assert rewriter.strip(Path(coming.value.path()).read_bytes().decode()) == CAKE.replace("\n", "\r\n")


def test_a_broken_file_is_refused_with_a_word(visit: Any, tmp_path: Path) -> None:
    broken = tmp_path / "card.pdf"
    broken.write_bytes(b"%PDF-1.7 nothing")
    page = visit()
    page.set_input_files("#file", broken)
    until(page, "!document.getElementById('heard').textContent.startsWith('Reading')")
    assert ";" in page.locator("#heard").inner_text()


def test_copy_gives_the_text_with_its_notes(visit: Any) -> None:
    page = visit(permissions=["clipboard-read", "clipboard-write"])
    fill(page, CAKE)
    page.click("#copy")
    until(page, "document.getElementById('taken').textContent.includes('Copied')")
    assert page.evaluate("navigator.clipboard.readText()") == rewriter.rewrite(CAKE, "8200 ft").text


def test_on_paper_stand_the_recipes_and_nothing_else(visit: Any) -> None:
    page = visit(color_scheme="dark")
    fill(page, f"{CAKE}\n\n\n{BISCUITS}")
    data = page.pdf(format="Letter", print_background=True)
    (SHOTS / "paper.pdf").write_bytes(data)
    page.emulate_media(media="print")
    for mark in page.locator(".now").all():  # black on white, also where a printer prints grounds
        assert mark.evaluate("one => getComputedStyle(one).backgroundColor") == "rgba(0, 0, 0, 0)"
    book = pypdfium2.PdfDocument(io.BytesIO(data))
    text = " ".join("".join(sheet.get_textpage().get_text_range() for sheet in book).split())
    for words in ("Ninebark Butter Cake", "Teague family", "1 1/2 cups less 1 1/2 Tbsp", "8,200 ft", "common practice"):
        assert words in text
    for words in ("Choose a file", "Download", "I baked it", "Where is your kitchen"):
        assert words not in text
    for number, sheet in enumerate(book):
        picture = sheet.render(scale=1.2).to_pil()
        picture.save(SHOTS / f"paper-{number}.png")
        assert picture.getpixel((4, 4)) == (255, 255, 255)


def test_the_token_is_taken_from_the_address_and_hidden(visit: Any, locked: str) -> None:
    page = visit(f"{locked}#juniper-and-rye")
    fill(page, CAKE)
    assert page.url == locked


def test_without_the_token_the_page_asks_for_it(visit: Any, locked: str) -> None:
    page = visit(locked)
    page.fill("#figure", "8200")
    page.fill("#paste", CAKE)
    page.wait_for_selector("#door:not([hidden])")
    page.fill("#token", "juniper-and-rye")
    page.keyboard.press("Enter")
    page.wait_for_selector(".card")


def test_a_page_elsewhere_cannot_use_the_program(browser: Any, address: str, locked: str) -> None:
    """From one origin on this machine to another: a fetch gets nothing."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(locked)  # another port is another origin
    told = page.evaluate(
        """async (address) => {
            try {
                const answer = await fetch(address + "api/choices", { mode: "no-cors" });
                return answer.type + answer.status;
            } catch (error) {
                return "refused";
            }
        }""",
        address,
    )
    assert told == "refused"
    context.close()


def test_a_caution_stands_before_all_and_jars_are_left_alone(visit: Any) -> None:
    page = visit()
    fill(
        page,
        JARS,
    )
    assert page.locator(".card .alarm").count() >= 1
    assert page.locator(".now").count() == 0


@pytest.mark.parametrize(
    "text",
    [
        "",
        "The snow fell all night.",
        "Mehl und Zucker mit der Milch und den Eiern verrühren und bei 180 Grad in dem Ofen backen",
    ],
)
def test_what_is_no_recipe_is_said_and_not_shown(visit: Any, text: str) -> None:
    page = visit()
    page.fill("#figure", "8200")
    page.fill("#paste", text)
    until(page, "document.getElementById('trouble').textContent + document.getElementById('status').textContent")
    page.wait_for_timeout(500)
    assert page.locator(".card").count() == 0
    assert page.locator("#trouble").inner_text() or "Paste a recipe" in page.locator("#status").inner_text()


def test_the_sample_shows_the_page_as_the_readme_does(visit: Any) -> None:
    page = visit(width=1400, height=1000, color_scheme="light")
    page.click("#sample")
    page.wait_for_selector(".card")
    page.locator(".now").nth(1).click()
    page.locator(".slip tbody tr").nth(3).wait_for()
    page.mouse.move(5, 5)
    page.screenshot(path=SHOTS / "readme.png", animations="disabled")  # corpus/pictures/page.png is a copy of it
    assert page.input_value("#figure") == "8200"


def test_what_is_still_to_be_said_is_pointed_at_and_nothing_stale_stays(visit: Any) -> None:
    page = visit()
    page.fill("#paste", CAKE)
    page.wait_for_selector("#figure.wanted")
    page.fill("#figure", "8200")
    page.wait_for_selector(".card")
    page.fill("#figure", "")
    page.wait_for_selector("#figure.wanted")
    assert page.locator(".card, .now").count() == 0
    assert page.locator("#air").inner_text() == ""
    assert page.locator("#take").is_hidden()
