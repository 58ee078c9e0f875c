"""The recipe box on the page: the same guards, answers of the shape described, and a family's way through it.

Shapes are checked by jsonschema (JSON Schema 2020-12), the description by openapi-spec-validator, the guards by the
rules of W3C Fetch Metadata Request Headers, the pages by axe-core (WCAG 2.2 A and AA).
"""

from __future__ import annotations

import base64
import io
import json
import os
import sqlite3
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import jsonschema
import pytest
from openapi_spec_validator import validate
from starlette.testclient import TestClient

from rewriter import cli
from rewriter.collection import Box, lineage
from rewriter.further import next_step
from rewriter.model import Answer
from rewriter.web import Door, create_app
from rewriter.web.boxasks import FIELDS
from rewriter.web.boxout import FORMS
from rewriter.web.boxshapes import PATHS, described
from tests.web.conftest import ASKS, BISCUITS, CAKE, JARS, SHOTS, bound, fill, served, until
from tests.web.test_access import violations

SNOW = """Teague Snow Day Cake

1/2 c. butter, softened
1 1/4 cups sugar
2 eggs
2 cups all-purpose flour
2 tsp baking powder
1/2 tsp salt
1 cup sweet milk

Heat the oven to 350 F. Cream the butter and sugar, beat in the eggs, and add the flour, powder and salt in turns
with the milk. Bake in two greased 8-inch pans for 30 minutes. Makes 12 slices.
"""
AUNT = SNOW.replace("Teague Snow Day Cake", "Aunt Wilma's Plain Cake").replace("1 1/4 cups sugar", "1 cup sugar")
LOAF = """Sundquist Honey Loaf

3 cups bread flour
2 tsp instant yeast
1 1/2 tsp salt
1/4 cup honey
1 1/4 cups warm water

Mix and knead; let rise 1 hour. Shape, rise 40 minutes, bake in a loaf pan at 375 F for 35 minutes. Makes 1 loaf.
"""
SCRIPT = """<script>window.harm = 1</script><img src=x onerror="window.harm = 2">

1 cup butter
1 cup brown sugar
1 1/2 cups flour
1 tsp baking soda
2 cups rolled oats
1/2 cup walnuts {{ 7 * 7 }}

Cream, stir, and bake on a sheet at 375 F for 10 minutes. <iframe src="http://evil.example/"></iframe>
"""
HERE = {"elevation": "8200 ft"}
PNG = base64.b64decode(
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)


def filled(path: Path) -> str:
    """A box of four cards: 1 cake, 2 its twin, 3 loaf, 4 jam."""
    with Box(path) as box:
        for text in (SNOW, AUNT, LOAF, JARS):
            box.add_text(text)
    return str(path)


@pytest.fixture
def path(tmp_path: Path) -> str:
    return filled(tmp_path / "box.sqlite")


@pytest.fixture
def own(path: str) -> TestClient:
    """A client of a server with a box."""
    return TestClient(create_app(box=path), base_url="http://127.0.0.1")


def fits(shape: str, value: Any) -> None:
    whole = {"$ref": f"#/components/schemas/{shape}", "components": {"schemas": described()["components"]["schemas"]}}
    jsonschema.Draft202012Validator(whole).validate(value)


def asks(client: TestClient, name: str, **body: Any) -> Any:
    """Ask the box; what is sent and what comes back must have the shapes described."""
    _, sent, shape, _ = PATHS[name]
    fits(sent, body)
    answer = client.post(f"/api/box/{name}", json=body)
    assert answer.status_code == 200, answer.text
    fits(shape, answer.json())
    return answer.json()


def titles(client: TestClient, **body: Any) -> list[str]:
    return [one["title"] for one in asks(client, "search", **body)["cards"]]


# the guards


@pytest.mark.parametrize("path", ["/box", "/box/1", "/box/twins"])
def test_without_a_box_there_are_no_box_pages(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404
    assert client.post("/api/box/search", json={}).status_code == 404
    assert "box" not in "".join(client.get("/api/openapi.json").json()["paths"])
    assert "/box" not in client.get("/").text


@pytest.mark.parametrize("path", ["/box", "/box/1", "/box/twins", "/"])
def test_pages_hold_nothing_of_the_box_and_no_inline_script(own: TestClient, path: str) -> None:
    answer = own.get(path)
    assert answer.status_code == 200
    assert "Snow Day" not in answer.text
    assert "<style" not in answer.text
    assert " style=" not in answer.text
    assert answer.text.count("<script") == answer.text.count('<script type="module" src="/static/') > 0
    assert "https://" not in answer.text
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize("name", [*PATHS, "out"])
@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": "kitchen.example"}, 421),
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "null"}, 403),
        ({"sec-fetch-site": "cross-site", "sec-fetch-mode": "cors"}, 403),
        ({"sec-fetch-site": "same-site", "sec-fetch-mode": "no-cors"}, 403),
        ({"content-type": "text/plain"}, 415),
        ({"content-type": "application/x-www-form-urlencoded"}, 415),
    ],
)
def test_the_box_stands_behind_the_same_guards(
    own: TestClient, path: str, name: str, headers: dict[str, str], status: int
) -> None:
    before = Path(path).read_bytes()
    body = json.dumps({"card": 1, "text": CAKE, **HERE})
    answer = own.post(f"/api/box/{name}", content=body, headers={"content-type": "application/json", **headers})
    assert answer.status_code == status
    assert own.get(f"/api/box/{name}").status_code == 405
    assert Path(path).read_bytes() == before


@pytest.mark.parametrize("name", [*PATHS, "out"])
def test_the_box_asks_for_the_token(path: str, name: str) -> None:
    door = Door("0.0.0.0", 8260, token="juniper-and-rye")
    client = TestClient(create_app(door, path), base_url="http://127.0.0.1:8260")
    assert client.post(f"/api/box/{name}", json={"card": 1}).status_code == 401
    told = {"authorization": "Bearer juniper-and-rye"}
    assert client.post(f"/api/box/{name}", json={"nonsense": 1}, headers=told).status_code == 422


# what is sent


@pytest.mark.parametrize(
    ("name", "body"),
    [
        ("card", {}),
        ("card", {"card": "1"}),
        ("card", {"card": True}),
        ("card", {"card": -1}),
        ("card", {"card": 10**30}),
        ("card", {"card": 99}),
        ("card", {"card": 1, "more": 1}),
        ("card", [1]),
        ("search", {"phrase": "x" * 401}),
        ("search", {"phrase": "\ud800"}),
        ("search", {"phrase": "a\0b"}),
        ("search", {"kinds": ["zeppelin"]}),
        ("search", {"roles": "sugar"}),
        ("search", {"elevation": "upstairs"}),
        ("search", {"fault": "purple monkeys"}),
        ("search", {"ingredients": ["x"] * 41}),
        ("bake", {"card": 1}),
        ("bake", {"card": 1, **HERE, "rating": 6}),
        ("bake", {"card": 1, **HERE, "rating": 0}),
        ("bake", {"card": 1, **HERE, "day": "yesterday"}),
        ("bake", {"card": 1, **HERE, "faults": ["purple monkeys"]}),
        ("bake", {"card": 1, **HERE, "outcome": "splendid"}),
        ("bake", {"card": 1, **HERE, "note": "\udfff"}),
        ("bake", {"card": 1, **HERE, "photo": "no base64!"}),
        ("bake", {"card": 1, **HERE, "photo": base64.b64encode(b"<svg onload=alert(1)>").decode()}),
        ("bake", {"card": 1, **HERE, "revision": 7}),
        ("bake", {"card": 4, **HERE}),  # jars: never baked by
        ("name", {"card": 1, "revision": 0, "words": "12"}),
        ("differ", {"card": 1, "one": 0, "other": 9}),
        ("carry", {"card": 1, "origin": "8200 ft", "to": "5000 ft"}),
        ("merge", {"keep": 1, "others": []}),
        ("merge", {"keep": 1, "others": [1]}),
        ("keep", {"text": "", **HERE}),
        ("keep", {"text": CAKE}),
        ("keep", {"text": CAKE + "\ud800", **HERE}),
        ("out", {"form": "everything"}),
        ("out", {"form": "booklet"}),
        ("out", {"form": "text"}),
        ("out", {"form": "photo", "card": 1, "bake": 5}),
        ("apply", {"card": 1, "seen": "0" * 64}),
    ],
)
def test_what_cannot_be_used_is_said_in_a_line_and_changes_nothing(
    own: TestClient, path: str, name: str, body: Any
) -> None:
    def held() -> list[Any]:
        with Box(path, create=False) as box:
            return [box.numbers(), box.bakes(), [box.revisions(card.number) for card in box.cards()]]

    before = held()
    answer = own.post(f"/api/box/{name}", content=json.dumps(body), headers={"content-type": "application/json"})
    assert answer.status_code == 422, answer.text
    fits("Error", answer.json())
    assert held() == before


def test_a_body_too_large_is_refused(own: TestClient) -> None:
    body = b'{"card": 1, "note": "' + b"x" * 16_000_000 + b'"}'
    assert own.post("/api/box/bake", content=body, headers={"content-type": "application/json"}).status_code == 413


def test_a_box_that_is_gone_or_damaged_is_explained(own: TestClient, path: str) -> None:
    Path(path).write_bytes(b"\0" * 4096)
    answer = own.post("/api/box/search", json={})
    assert answer.status_code == 422
    assert "damaged" in answer.json()["error"]["what"]


def test_the_description_is_valid_and_tells_of_every_job() -> None:
    told = described()
    validate(told)
    assert {f"/api/box/{name}" for name in (*FIELDS, "keep")} <= told["paths"].keys()
    for name, (needed, optional) in FIELDS.items():
        sent = told["paths"][f"/api/box/{name}"]["post"]["requestBody"]["content"]["application/json"]["schema"]
        shape = told["components"]["schemas"][sent["$ref"].rpartition("/")[2]]
        assert shape["properties"].keys() == {*needed, *optional}
        assert shape["required"] == list(needed)


def test_the_page_for_programs_tells_of_the_box(own: TestClient) -> None:
    assert "/api/box/search" in own.get("/api").text


# what it does


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ({}, ["Aunt Wilma's Plain Cake", "Sundquist Honey Loaf", "Sundquist Plum Jam", "Teague Snow Day Cake"]),
        ({"phrase": "yeast breads with honey"}, ["Sundquist Honey Loaf"]),
        ({"phrase": "Wilma"}, ["Aunt Wilma's Plain Cake"]),
        ({"phrase": '"'}, []),
        ({"ingredients": ["honey"]}, ["Sundquist Honey Loaf"]),
        ({"phrase": "Teague", "without": ["butter"]}, []),
        ({"kinds": ["shortened-cake"]}, ["Aunt Wilma's Plain Cake", "Teague Snow Day Cake"]),
        ({"roles": ["yeast"]}, ["Sundquist Honey Loaf"]),
        ({"elevation": "8200 ft"}, ["Teague Snow Day Cake"]),
        ({"elevation": "5000 ft"}, []),
        ({"outcome": "failed"}, ["Teague Snow Day Cake"]),
        ({"outcome": "worked"}, []),
        ({"fault": "it sank"}, ["Teague Snow Day Cake"]),
    ],
)
def test_cards_are_found(own: TestClient, body: dict[str, Any], found: list[str]) -> None:
    asks(own, "bake", card=1, **HERE, faults=["sank"])
    assert titles(own, **body) == found


def test_many_cards_come_a_hundred_at_a_time(own: TestClient, path: str) -> None:
    with Box(path) as box, box.store.write():
        for number in range(120):
            box.add_text(LOAF.replace("Honey Loaf", f"Honey Loaf {number:03}"))
    first = asks(own, "search")
    rest = asks(own, "search", after=100)
    assert (first["found"], len(first["cards"]), len(rest["cards"])) == (124, 100, 24)
    assert len({one["number"] for one in first["cards"] + rest["cards"]}) == 124


def test_a_bake_is_stored_and_its_next_step_is_a_new_revision(own: TestClient, path: str) -> None:
    photo = base64.b64encode(PNG).decode()
    told = {"day": "2026-03-31", "faults": ["sank in the middle"], "rating": 2, "note": "Windy.", "photo": photo}
    made = asks(own, "bake", card=1, **HERE, **told)
    assert made["bake"]["outcome"] == "failed"
    assert made["next"]["why"] == "next step"
    assert "flour" in made["words"][0]
    card = asks(own, "card", card=1)
    assert [one["why"] for one in card["revisions"]] == ["as found", "fitted", "next step"]
    assert card["bakes"] == [made["bake"]]
    with Box(path) as box:
        (kept,) = box.bakes(1)
        assert (kept.faults, kept.rating, kept.note, kept.photo) == (("sank",), 2, "Windy.", PNG)
    answer = own.post("/api/box/out", json={"form": "photo", "card": 1, "bake": 0})
    assert answer.content == PNG
    assert answer.headers["content-disposition"].startswith("attachment")


def test_revisions_are_named_compared_and_carried(own: TestClient) -> None:
    made = asks(own, "bake", card=1, **HERE, rating=5)
    assert made["next"] is None
    assert asks(own, "name", card=1, revision=1, words="our 8,200 ft version")["name"] == "our 8,200 ft version"
    lines = asks(own, "differ", card=1, one=0, other=1)["lines"]
    assert {"way": "gone", "text": "2 tsp baking powder"} in lines
    carried = asks(own, "carry", card=1, origin="8200 ft", to="5000 ft")
    assert (carried["trial"], carried["elevation"]) == ("carried", "5,000 ft")


def test_tidying_is_seen_first_and_only_what_was_seen_is_applied(own: TestClient, path: str) -> None:
    seen = asks(own, "tidy", card=1)
    assert {"way": "gone", "text": "1 cup sweet milk"} in seen["lines"]
    assert {"way": "new", "text": "1 cup sweet milk [whole milk]"} in seen["lines"]
    assert len(asks(own, "card", card=1)["revisions"]) == 1
    with Box(path) as box:
        box.edit(1, SNOW.replace("350 F", "355 F"))
    late = own.post("/api/box/apply", json={"card": 1, "seen": seen["seen"]})
    assert late.status_code == 422
    again = asks(own, "tidy", card=1)
    assert asks(own, "apply", card=1, seen=again["seen"]) == {"revision": 2}
    with Box(path) as box:
        assert box.original(1) == SNOW.encode()
        assert "355 F" in box.card(1).text


def test_a_card_for_jars_is_left_alone(own: TestClient) -> None:
    seen = asks(own, "tidy", card=4)
    assert (seen["changed"], seen["lines"]) == (False, [])
    assert "jars" in seen["left"]


def test_words_set_right_are_a_revision_of_the_card_that_was_seen(own: TestClient, path: str) -> None:
    seen = asks(own, "card", card=1)["seen"]
    mended = SNOW.replace("sweet milk", "whole milk")
    assert asks(own, "edit", card=1, text=mended, seen=seen, note="as she said it") == {"revision": 1}
    card = asks(own, "card", card=1)
    assert (card["text"], card["revisions"][1]["why"], card["revisions"][1]["note"]) == (
        mended, "by hand", "as she said it",
    )  # fmt: skip
    assert asks(own, "edit", card=1, text=mended, seen=card["seen"]) == {"revision": None}
    late = own.post("/api/box/edit", json={"card": 1, "text": SNOW, "seen": seen})
    assert (late.status_code, "changed since" in late.json()["error"]["what"]) == (422, True)
    empty = own.post("/api/box/edit", json={"card": 1, "text": " \n", "seen": card["seen"]})
    assert (empty.status_code, "no words" in empty.json()["error"]["what"]) == (422, True)
    with Box(path) as box:
        assert box.original(1) == SNOW.encode()


def test_how_this_kitchen_bakes_is_told_when_bakes_say_so(own: TestClient) -> None:
    assert asks(own, "habits") == {"habits": []}
    for _ in range(2):
        asks(own, "bake", card=1, **HERE, changed="baking powder 1 1/2 tsp", rating=5)
    assert "leavener" in asks(own, "habits")["habits"][0]
    assert asks(own, "habits", elevation="5000 ft") == {"habits": []}


def test_twins_stand_side_by_side_and_come_apart_again(own: TestClient) -> None:
    (group,) = asks(own, "twins")["groups"]
    assert [one["number"] for one in group["cards"]] == [1, 2]
    assert [row for row in group["rows"] if row["differs"]] == [
        {"name": "sugar", "amounts": ["1 1/4 cups", "1 cup"], "differs": True}
    ]
    assert group["differences"] == [["1 cup sugar, not 1 1/4 cups"]]
    asks(own, "merge", keep=1, others=[2])
    assert asks(own, "twins")["groups"] == []
    assert asks(own, "card", card=2)["stands_behind"] == 1
    assert [one["number"] for one in asks(own, "card", card=1)["behind"]] == [2]
    asks(own, "part", card=2)
    assert len(asks(own, "twins")["groups"]) == 1


def test_a_paste_is_kept_once_with_its_answers(own: TestClient, path: str) -> None:
    asked = {"text": ASKS, **HERE, "answers": [{"query": "role@11", "value": "flour"}], "strength": "gentle"}
    annotated = own.post("/api/annotate", json=asked).json()["text"]
    assert annotated != own.post("/api/annotate", json={**asked, "answers": []}).json()["text"]
    made = asks(own, "keep", **asked)
    assert (made["again"], made["revision"]) == (False, 1)
    assert asks(own, "keep", **asked) == {**made, "again": True}
    number = made["cards"][0]["number"]
    card = asks(own, "card", card=number)
    assert card["revisions"][1]["text"] == annotated
    assert card["answered"] is True
    with Box(path) as box:
        assert box.original(number) == ASKS.encode()
        assert box.revisions(number)[1].formula["answers"] == [["role@11", "flour"]]
    told = asks(own, "bake", card=number, **HERE, faults=["sank"])
    assert told["next"] is not None
    answers = [Answer("role@11", "flour")]
    step = next_step(ASKS, HERE["elevation"], "sank", strength="gentle", answers=answers)
    with Box(path) as box:
        made = box.revisions(number)[-1]
        assert (made.why, made.formula["strength"]) == ("next step", "gentle")
        assert box.original(number) == ASKS.encode()
        marked = made.text.partition("\n===")[0].replace("[! question 1] ", "")
        assert marked == step.text.partition("\n===")[0]
        assert marked != next_step(ASKS, HERE["elevation"], "sank").text.partition("\n===")[0]


def test_answers_to_another_text_are_not_used_but_said(own: TestClient, path: str) -> None:
    made = asks(own, "keep", text=ASKS, **HERE, answers=[{"query": "role@11", "value": "flour"}])
    number = made["cards"][0]["number"]
    with Box(path) as box:
        lineage.revise(box.store, number, "A line more\n" + ASKS, "tidied", 0)
    told = asks(own, "bake", card=number, **HERE, faults=["sank"])
    assert any("said of another text" in word for word in told["words"])


def test_several_recipes_become_several_cards_and_jars_stay_plain(own: TestClient) -> None:
    assert len(asks(own, "keep", text=f"{CAKE}\n\n\n{BISCUITS}", **HERE)["cards"]) == 2
    jars = asks(own, "keep", text=JARS, **HERE)
    assert (jars["again"], jars["revision"]) == (True, None)


def test_keeping_again_does_not_push_aside_what_bakes_have_led_to(own: TestClient) -> None:
    asks(own, "bake", card=1, **HERE, faults=["sank"])
    made = asks(own, "keep", text=SNOW, **HERE)
    assert (made["again"], made["revision"], made["own_line"]) == (True, None, True)
    assert asks(own, "card", card=1)["revisions"][-1]["why"] == "next step"


@pytest.mark.parametrize("form", [form for form in FORMS if form != "photo"])
def test_everything_is_taken_out(own: TestClient, path: str, tmp_path: Path, form: str) -> None:
    answer = own.post("/api/box/out", json={"form": form, "card": 1, **HERE})
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-disposition"].startswith("attachment")
    data = answer.content
    if form == "dump":
        (tmp_path / "box.jsonl").write_bytes(data)
        with Box(tmp_path / "other.sqlite") as other, Box(path) as box:
            assert other.load(tmp_path / "box.jsonl").recipes == 4
            assert [card.text for card in other.cards()] == [card.text for card in box.cards()]
    elif form == "backup":
        (tmp_path / "copy.sqlite").write_bytes(data)
        assert sqlite3.connect(tmp_path / "copy.sqlite").execute("SELECT count(*) FROM recipes").fetchone() == (4,)
    elif form == "folder":
        names = zipfile.ZipFile(io.BytesIO(data)).namelist()
        assert "box/cards/teague-snow-day-cake-1.txt" in names
        assert sum(name.startswith("box/originals/") for name in names) == 4
        assert all(name.startswith("box/") and ".." not in name for name in names)
    elif form == "booklet":
        assert data.startswith(b"%PDF-")
    else:
        assert data == SNOW.encode()


def test_serve_makes_the_box_and_its_pages(tmp_path: Path) -> None:
    path = tmp_path / "box.sqlite"
    command = [sys.executable, "-m", "rewriter", "serve", "--port", "0", "--box", str(path)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONUNBUFFERED": "1"})
    try:
        assert process.stdout is not None
        address = process.stdout.readline().strip()
        with httpx.Client(transport=httpx.HTTPTransport(retries=8), base_url=address) as client:
            assert client.get("/box").status_code == 200
            assert client.post("/api/box/search", json={}).json() == {"found": 0, "after": 0, "cards": []}
    finally:
        process.terminate()
        process.wait(15)
    with Box(path, create=False) as box:
        assert box.check() == []


def test_serve_refuses_a_file_that_is_no_box(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear Odalys, " * 40)
    assert cli.main(["serve", "--box", str(path)]) == 2
    assert "no recipe box" in capsys.readouterr().err


# in a real browser


@pytest.fixture(scope="module")
def boxed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    path = filled(tmp_path_factory.mktemp("box") / "box.sqlite")
    with Box(path) as box:
        box.add_text(SCRIPT)
    port = bound()
    yield from served(create_app(Door("127.0.0.1", port.getsockname()[1]), path), port)


def test_a_family_goes_through_its_box(visit: Any, boxed: str) -> None:
    page = visit(boxed, color_scheme="light")
    fill(page, CAKE)
    page.click("#box-keep")
    page.wait_for_selector("#box-kept a")
    assert "revision 1" in page.locator("#box-kept").inner_text()
    page.screenshot(path=SHOTS / "box-keep.png", full_page=True)
    assert violations(page) == []
    page.locator("#box-kept a").click()
    page.wait_for_selector("#card-title")
    assert page.locator("#card-title").inner_text() == "Ninebark Butter Cake"
    assert page.locator(".card .words").first.inner_text().startswith("Odalys made this one")
    page.get_by_text("Write a bake down").click()
    assert page.input_value("#bake-where") == "8200 ft"
    page.get_by_label("sank", exact=True).check()
    page.select_option("#bake-rating", "2")
    page.fill("#bake-note", "Odalys <b>tasted</b> it.")
    page.get_by_role("button", name="Keep this bake").click()
    page.wait_for_selector("#bake-next h3")
    assert page.evaluate("document.activeElement.id") == "bake-next"
    assert "flour" in page.locator("#bake-next").inner_text()
    assert "Odalys <b>tasted</b> it." in page.locator(".bakes").inner_text()
    page.get_by_role("button", name="Compare", exact=True).click()
    page.wait_for_selector(".sect .change")
    page.screenshot(path=SHOTS / "box-card.png", full_page=True)
    page.get_by_role("link", name="The cards").click()
    page.wait_for_selector(".cards li")
    page.fill("#phrase", "yeast breads with honey")
    page.keyboard.press("Enter")
    until(page, "document.querySelectorAll('.cards li').length === 1")
    assert page.locator("#status").inner_text() == "1 card."
    page.get_by_role("button", name="All cards").click()
    until(page, "document.querySelectorAll('.cards li').length === 6")
    with page.expect_download() as coming:
        page.click("#out")
    assert coming.value.suggested_filename == "box.zip"


def test_tidying_by_keyboard_and_twins(visit: Any, boxed: str) -> None:
    page = visit(f"{boxed}box/1", width=390)
    page.wait_for_selector("#tidy")
    page.focus("#tidy")
    page.keyboard.press("Enter")
    page.wait_for_selector(".change .new")
    assert page.locator(".change .new").all_inner_texts()[-1].endswith("1 cup sweet milk [whole milk]")
    heard = page.locator(".change").first.aria_snapshot()
    assert "was:" in heard
    assert "now:" in heard
    page.screenshot(path=SHOTS / "box-tidy-390.png", full_page=True)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    until(page, "document.getElementById('status').textContent.startsWith('Tidied')")
    assert "[whole milk]" in page.locator(".card .words").inner_text()
    page.goto(f"{boxed}box/twins")
    page.wait_for_selector(".card table")
    assert page.locator("tr.unsure th").all_text_contents() == ["sugar (differs)"]
    page.get_by_role("button", name="Let the others stand behind it").click()
    until(page, "document.getElementById('status').textContent.includes('stands in front')")
    page.goto(f"{boxed}box/1")
    page.get_by_role("button", name="Take Aunt Wilma's Plain Cake out").click()
    until(page, "document.getElementById('status').textContent.includes('by itself again')")


def test_words_are_set_right_by_hand_and_the_kitchen_s_way_is_shown(visit: Any, boxed: str) -> None:
    page = visit(f"{boxed}box/3")
    page.get_by_text("Change the card by hand").click()
    field = page.get_by_role("textbox", name="Set its words right")
    field.fill(field.input_value().replace("1/4 cup honey", "1/3 cup honey"))
    page.get_by_label("Why").fill("her own spoon")
    page.get_by_role("button", name="Save these words").click()
    until(page, "document.getElementById('status').textContent.startsWith('Your words are revision')")
    assert "1/3 cup honey" in page.locator(".card .words").first.inner_text()
    for _ in range(2):
        done = {"card": 3, "elevation": "8200 ft", "changed": "instant yeast 1 1/4 tsp", "rating": 5}
        assert page.request.post(f"{boxed}api/box/bake", data=done).ok
    page.goto(f"{boxed}box")
    page.wait_for_selector("#ours:not([hidden]) li")
    assert "yeast" in page.locator("#habits").inner_text()
    assert violations(page) == []


def test_a_hostile_card_is_only_text(visit: Any, boxed: str) -> None:
    page = visit(f"{boxed}box")
    page.get_by_role("link", name="<script>").click()
    page.wait_for_selector("#card-title")
    assert "<script>window.harm = 1</script>" in page.locator("#card-title").inner_text()
    assert page.evaluate("window.harm") is None
    assert page.locator("main img, main iframe").count() == 0


def test_a_card_for_jars_offers_neither_tidying_nor_baking(visit: Any, boxed: str) -> None:
    page = visit(f"{boxed}box/4")
    page.wait_for_selector("#card-title")
    assert page.locator("main h2").all_inner_texts() == ["Sundquist Plum Jam", "Bakes", "Revisions"]
    assert "Follow tested directions exactly" in page.locator("p.alarm").last.inner_text()
    shown = page.locator("#shown").evaluate("one => [...one.childNodes].map((child) => child.nodeName)")
    assert set(shown) == {"ARTICLE", "SECTION"}  # and no stray words between


@pytest.mark.parametrize(("scheme", "width"), [("light", 1280), ("dark", 390)])
@pytest.mark.parametrize("where", ["box", "box/1", "box/4", "box/twins"])
def test_axe_finds_nothing_and_nothing_runs_out_at_the_side(
    visit: Any, boxed: str, scheme: str, width: int, where: str
) -> None:
    page = visit(boxed + where, width=width, color_scheme=scheme, reduced_motion="reduce")
    page.wait_for_selector("#shown > *")
    for summary in page.locator("summary").all():
        summary.click()
    if where == "box/1":
        page.click("#tidy")
        page.wait_for_selector(".sect h3[tabindex]")
    page.screenshot(path=SHOTS / f"{where.replace('/', '-')}-{scheme}-{width}.png", full_page=True)
    assert violations(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_token_is_asked_for_and_then_the_cards_are_shown(visit: Any, tmp_path: Path) -> None:
    path = filled(tmp_path / "locked.sqlite")
    port = bound()
    door = Door("127.0.0.1", port.getsockname()[1], token="juniper-and-rye")
    running = served(create_app(door, path), port)
    page = visit(f"{next(running)}box")
    page.wait_for_selector("#door:not([hidden])")
    assert page.locator(".cards").count() == 0
    page.fill("#token", "juniper-and-rye")
    page.keyboard.press("Enter")
    page.wait_for_selector(".cards li")
    assert page.locator("#door").is_hidden()
    page.close()
    assert list(running) == []
