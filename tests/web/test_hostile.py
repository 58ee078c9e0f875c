"""Pastes and files made to harm: nothing runs, nothing breaks, what is too much is refused with a clear word."""

from __future__ import annotations

import json
import time
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from rewriter.web import jobs, limits, uploads
from tests.web.conftest import CAKE, SHOTS, fill, until

SCRIPTS = """Cake <script>window.harm = 1</script><img src=x onerror="window.harm = 2">

2 cups flour <svg onload="window.harm = 3">
1 cup sugar "><script>window.harm = 4</script>
1 tsp baking powder {{ 7 * 7 }} ${window.harm = 5} javascript:window.harm=6
1 cup milk

Mix. Bake at 350 F for 30 minutes. <iframe src="http://evil.example/"></iframe>
"""
TURNED = (
    "Pell \u202ecake\u202c\n\n2 cups flour\u200f\n1 cup \u2066sugar\u2069\n"
    "1 tsp \u202ebaking powder\n1 cup milk\u0000\u0007\n\n"
    "Mix.\u001b[31m Bake at 350 F for 30 minutes.\n"
)
KIND = {"content-type": "application/octet-stream"}


@pytest.mark.parametrize("paste", [SCRIPTS, TURNED])
def test_hostile_text_comes_back_word_for_word(client: TestClient, paste: str) -> None:
    made = client.post("/api/annotate", json={"text": paste, "elevation": "8200 ft"})
    assert made.status_code == 200
    assert made.headers["content-type"] == "application/json"
    assert made.content.isascii()
    assert made.json()["source"] == paste


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.text(st.characters(), max_size=80))
def test_any_characters_within_a_recipe_are_answered(client: TestClient, junk: str) -> None:
    paste = f"Cake\n\n2 cups flour\n1 cup sugar {junk}\n1 tsp baking powder\n1 cup milk\n\nBake at 350 F.\n"
    body = json.dumps({"text": paste, "elevation": "8200 ft"})
    answer = client.post("/api/annotate", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (200, 422)
    if answer.status_code == 200:
        made = answer.json()
        for card in made["cards"]:
            for one in card["changes"]:
                assert made["source"][one["start"] : one["end"]] == one["old"]


def test_five_megabytes_are_refused(client: TestClient) -> None:
    answer = client.post("/api/annotate", json={"text": "2 cups flour\n" * 400_000, "elevation": "8200 ft"})
    assert answer.status_code == 422
    assert "5 MB" in answer.json()["error"]["what"]


def test_a_body_beyond_the_limit_is_not_even_read(client: TestClient) -> None:
    def endless() -> Any:
        for _ in range(40):
            yield b" " * 1_000_000

    headers = {"content-type": "application/json"}
    assert client.post("/api/annotate", content=endless(), headers=headers).status_code == 413
    said = {**headers, "content-length": str(limits.BODY + 1)}
    assert client.post("/api/annotate", content=b"{}", headers=said).status_code == 413


def test_a_file_beyond_the_limit_is_refused(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(uploads, "MOST", 1_000_000)
    answer = client.post("/api/intake", content=b"x" * 1_000_001, headers=KIND)
    assert answer.status_code == 413
    assert "1 MB" in answer.json()["error"]["what"]


@pytest.mark.parametrize("apart", [False, True])
def test_work_that_takes_too_long_is_given_up(client: TestClient, monkeypatch: pytest.MonkeyPatch, apart: bool) -> None:
    monkeypatch.setattr(limits, "SECONDS", 0.3)
    monkeypatch.setattr(limits, "LARGE", 0 if apart else 1_000_000)
    paste = f"{CAKE}\n\n\n" * 2000 if apart else CAKE
    if not apart:
        monkeypatch.setitem(jobs.JOBS, "annotate", lambda _: time.sleep(2) or {})
    answer = client.post("/api/annotate", json={"text": paste, "elevation": "8200 ft"})
    assert answer.status_code == 503
    assert "split" in answer.json()["error"]["mend"]


@pytest.mark.parametrize(
    "data", [b"\x00\x01\x02" * 500, b"%PDF-1.4 broken", b"PK\x03\x04 broken", b"\xff\xd8\xff broken", b""]
)
def test_broken_files_are_refused_in_one_line(client: TestClient, data: bytes) -> None:
    answer = client.post("/api/intake", content=data, headers={**KIND, "x-file-name": "..%2F..%2Fetc%2Fcard.txt"})
    assert answer.status_code in (422, 501)
    assert answer.json()["error"]["what"]


def test_scripts_in_a_paste_are_words_on_the_page(visit: Any) -> None:
    page = visit()
    fill(page, SCRIPTS)
    page.locator(".now").first.click()
    page.locator("summary", has_text="How it was read").click()
    page.wait_for_timeout(300)
    assert page.evaluate("window.harm") is None
    assert page.locator(".card script, .card img, .card iframe, .card svg[onload]").count() == 0
    assert "<script>window.harm = 1</script>" in page.locator(".words").inner_text()
    page.screenshot(path=SHOTS / "hostile.png", full_page=True)


def test_characters_that_turn_writing_round_are_shown_and_do_nothing(visit: Any) -> None:
    page = visit()
    fill(page, TURNED)
    shown = page.locator(".words").inner_text()
    assert not set(shown) & set("\u202e\u202c\u2066\u2069\u200f\u0000\u0007\u001b")
    assert page.locator(".words .odd").count() >= 6
    assert "U+202E" in page.locator(".words .odd").first.get_attribute("title")


@pytest.mark.parametrize("way", ["paste", "drop"])
def test_five_megabytes_are_refused_before_the_page_has_to_show_them(visit: Any, way: str) -> None:
    page = visit()
    fill(page, CAKE)
    taken = page.evaluate(
        """(way) => {
            const held = new DataTransfer();
            held.setData("text/plain", "2 cups flour\\n".repeat(400000));
            const event = way === "paste"
                ? new ClipboardEvent("paste", { clipboardData: held, bubbles: true, cancelable: true })
                : new DragEvent("drop", { dataTransfer: held, bubbles: true, cancelable: true });
            return document.getElementById("paste").dispatchEvent(event);
        }""",
        way,
    )
    assert not taken
    until(page, "document.getElementById('trouble').textContent.includes('5 MB')")
    assert page.input_value("#paste") == CAKE
    page.fill("#figure", "7000")
    until(page, "document.getElementById('answer-words').textContent.includes('7,000')")
    assert page.locator("#trouble").inner_text() == ""
