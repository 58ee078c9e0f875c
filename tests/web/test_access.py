"""The page for everyone: axe-core (WCAG 2.2 A and AA rules) finds nothing, the keyboard does all, a phone fits."""

from __future__ import annotations

from typing import Any

import pytest

from tests.web.conftest import ASKS, AXE, CAKE, SHOTS, fill, lacking, until

RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def violations(page: Any) -> list[str]:
    if not AXE.exists():
        lacking("axe-core")
    page.evaluate(AXE.read_text("utf-8"))
    found = page.evaluate("rules => axe.run(document, { runOnly: rules })", RULES)
    assert len(found["passes"]) > 15
    return [
        f"{one['id']}: {node['target']} {node['failureSummary']}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


def unfold(page: Any) -> None:
    """Open all there is."""
    page.locator(".now").first.click()
    page.locator(".slip tbody tr").nth(3).wait_for()
    for words in ("All changes", "Pictures", "How it was read", "I baked it"):
        page.locator("summary", has_text=words).first.click()
    page.wait_for_selector(".drawn svg")
    page.get_by_label("What came of it?").fill("dry")
    page.keyboard.press("Enter")
    page.wait_for_selector(".steps li")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
@pytest.mark.parametrize("text", [CAKE, ASKS])
def test_axe_finds_nothing(visit: Any, scheme: str, width: int, text: str) -> None:
    page = visit(width=width, color_scheme=scheme, reduced_motion="reduce")
    assert violations(page) == []
    fill(page, text)
    unfold(page)
    page.screenshot(path=SHOTS / f"all-{scheme}-{width}-{len(text)}.png", full_page=True)
    assert violations(page) == []


def test_axe_finds_nothing_on_the_page_for_programs(visit: Any) -> None:
    assert violations(visit("api")) == []


@pytest.mark.parametrize(("width", "height"), [(390, 844), (320, 568), (820, 1180), (1280, 900)])
@pytest.mark.parametrize("larger", [False, True])
def test_nothing_runs_out_at_the_side(visit: Any, width: int, height: int, larger: bool) -> None:
    page = visit(width=width, height=height, has_touch=width < 1000)
    if larger:
        page.click("#larger")
    fill(page, ASKS)
    unfold(page)
    page.screenshot(path=SHOTS / f"fit-{width}{'-larger' if larger else ''}.png", full_page=True)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("parseFloat(getComputedStyle(document.querySelector('.words')).fontSize)") >= 19


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_dark_and_light_follow_the_device_and_the_choice(visit: Any, scheme: str) -> None:
    page = visit(color_scheme=scheme)

    def ground() -> int:
        shown = page.evaluate("getComputedStyle(document.body).backgroundColor")
        return int(shown.split("(")[1].split(",")[0])

    assert (ground() < 128) == (scheme == "dark")
    page.select_option("#light", "day" if scheme == "dark" else "night")
    assert (ground() < 128) == (scheme == "light")
    page.reload()
    assert (ground() < 128) == (scheme == "light")


def reach(page: Any, wanted: str, most: int = 80) -> None:
    """Go on with Tab until an element is reached; its focus must be seen."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if page.evaluate("wanted => document.activeElement.matches(wanted)", wanted):
            outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert outline != "none"
            return
    pytest.fail(f"Tab never reaches {wanted}")


def test_the_keyboard_alone_goes_from_paste_to_download(visit: Any) -> None:
    page = visit()
    reach(page, "#figure")
    page.keyboard.type("8200")
    reach(page, "#paste")
    page.keyboard.insert_text(ASKS)
    page.wait_for_selector(".card")
    before = page.locator(".asked li").count()
    reach(page, ".asked select")
    page.keyboard.type("flour")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    until(page, f"document.querySelectorAll('.asked li').length === {before - 1}")
    reach(page, ".asked button")
    page.keyboard.press("Space")
    until(page, f"document.querySelectorAll('.asked li').length === {before - 2}")
    reach(page, ".now")
    page.keyboard.press("Enter")
    page.wait_for_selector(".slip")
    reach(page, ".slip button")
    page.keyboard.press("Escape")
    assert page.locator(".slip").count() == 0
    assert page.evaluate("document.activeElement.matches('.now')")
    reach(page, "#download")
    with page.expect_download() as coming:
        page.keyboard.press("Enter")
    assert coming.value.suggested_filename.endswith(".txt")


def test_the_skip_link_goes_to_the_recipe(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    page.reload()
    page.wait_for_selector(".card")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "answer"


def test_a_screen_reader_hears_what_was_and_what_is(visit: Any) -> None:
    page = visit()
    fill(page, CAKE)
    heard = page.locator(".words").aria_snapshot()
    assert "was 2 1/2 tsp" in heard
    assert "now 1 tsp , less. Why?" in heard
    assert page.locator("#status").get_attribute("role") == "status"
    assert page.locator("#trouble").get_attribute("role") == "alert"


def test_the_page_works_with_forced_colours_and_without_motion(visit: Any) -> None:
    page = visit(forced_colors="active", reduced_motion="reduce")
    fill(page, CAKE)
    page.locator(".now").first.click()
    assert page.evaluate("getComputedStyle(document.querySelector('.now')).borderTopWidth") != "0px"
    assert page.evaluate("getComputedStyle(document.querySelector('.slip')).animationName") == "none"


@pytest.mark.parametrize("width", [820, 1280])
def test_an_amount_stands_in_the_line_it_belongs_to(visit: Any, width: int) -> None:
    page = visit(width=width)
    fill(page, "Bars\n\n2 cups flour\n1 cup sugar\n1 tsp baking powder\n1 egg\n\nMix. Bake at 350 F.\n")
    for change in page.locator(".now").all():
        line = change.evaluate("one => one.closest('.line').getBoundingClientRect().height")
        assert line < 2 * page.locator(".line", has_text="2 cups flour").bounding_box()["height"]
