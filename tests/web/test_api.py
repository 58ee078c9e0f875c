"""The API: every answer has the shape its description gives, and says what the same call in Python says.

The description is checked by openapi-spec-validator against the OpenAPI 3.1 specification, the answers by jsonschema.
"""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest
from openapi_spec_validator import validate
from starlette.testclient import TestClient

import rewriter
from rewriter.reading.answers import AnswerError
from rewriter.web import jobs
from rewriter.web.openapi import POSTS, description
from rewriter.writing.registry import styles
from tests.web.conftest import ASKS, BISCUITS, CAKE, JARS

PASTES = [CAKE, ASKS, f"{CAKE}\n\n\n{BISCUITS}", JARS]


def fits(shape: str, value: Any) -> None:
    whole = {"$ref": f"#/components/schemas/{shape}", "components": {"schemas": description()["components"]["schemas"]}}
    jsonschema.Draft202012Validator(whole).validate(value)


def test_the_description_is_valid_openapi(client: TestClient) -> None:
    told = client.get("/api/openapi.json").json()
    validate(told)
    assert {f"/api/{name}" for name in jobs.JOBS} <= told["paths"].keys()
    assert "/api/annotate" in client.get("/api").text


@pytest.mark.parametrize("paste", PASTES)
@pytest.mark.parametrize(("name", "shape"), [(name, shape) for name, _, shape, _ in POSTS])
def test_answers_have_the_shape_described(client: TestClient, name: str, shape: str, paste: str) -> None:
    asked = {"text": paste, "elevation": "8200 ft", "fault": "sank in the middle"}
    fits("Ask", asked)
    answer = client.post(f"/api/{name}", json=asked)
    assert answer.status_code == 200
    fits(shape, answer.json())


def test_choices_have_their_shape_and_every_part_is_one_the_reading_takes(client: TestClient) -> None:
    told = client.get("/api/choices").json()
    fits("Choices", told)
    for part in told["parts"]:
        try:
            rewriter.read(CAKE, [rewriter.Answer("part@129", part["name"])])
        except AnswerError:  # pragma: no cover
            pytest.fail(f"the reading does not take the part {part['name']}")


def test_annotate_says_what_python_says(client: TestClient) -> None:
    made = client.post("/api/annotate", json={"text": CAKE, "elevation": "8200 ft"}).json()
    result = rewriter.rewrite(CAKE, "8200 ft")
    assert made["text"] == result.text
    shown = [
        (one["start"], one["end"], one["old"], one["new"], one["exact"]["exact"]) for one in made["cards"][0]["changes"]
    ]
    assert shown == [(one.start, one.end, one.old, one.new, str(one.exact)) for one in result.changes]
    assert all(one["why"] and one["source"] for one in made["cards"][0]["changes"])


@pytest.mark.parametrize(
    "where",
    [{"elevation": "2499.36 m"}, {"barometer": "749.3 hPa"}, {"boils_at": "197.0 F"}, {"elevation": "8,200 ft"}],
)
def test_the_kitchen_is_told_in_each_way(client: TestClient, where: dict[str, str]) -> None:
    air = client.post("/api/annotate", json={"text": CAKE, **where}).json()["air"]
    assert air["elevation_ft"] == pytest.approx(8200, abs=120)


def test_several_recipes_are_several_cards_in_order(client: TestClient) -> None:
    cards = client.post("/api/annotate", json={"text": f"{CAKE}\n\n\n{BISCUITS}", "elevation": "8200 ft"}).json()[
        "cards"
    ]
    assert [card["kind"] for card in cards] == ["shortened-cake", "quick-bread"]
    assert cards[0]["start"] < cards[1]["start"]
    for card in cards:
        assert all(card["start"] <= one["start"] <= card["end"] for one in card["changes"])


def test_an_answer_closes_its_question_and_changes_the_recipe(client: TestClient) -> None:
    asked: dict[str, Any] = {"text": ASKS, "elevation": "8200 ft"}
    before = client.post("/api/annotate", json=asked).json()["cards"][0]
    question = next(one for one in before["questions"] if one["id"].startswith("role@"))
    assert "flour" in question["choices"]
    after = client.post(
        "/api/annotate", json={**asked, "answers": [{"query": question["id"], "value": "flour"}]}
    ).json()["cards"][0]
    assert question["id"] not in [one["id"] for one in after["questions"]]
    assert next(one for one in after["ingredients"] if one["name"] == "blorp")["role"] == "flour"


def test_a_reading_is_overruled_and_an_amount_left_alone(client: TestClient) -> None:
    answers = [{"query": "skip@186", "value": "yes"}, {"query": "kind@0", "value": "cookie"}]
    card = client.post("/api/annotate", json={"text": CAKE, "elevation": "8200 ft", "answers": answers}).json()[
        "cards"
    ][0]
    assert card["kind"] == "cookie"
    assert 186 not in [one["start"] for one in card["changes"]]


def test_compare_gives_what_each_guide_gives_alone(client: TestClient) -> None:
    made = client.post("/api/compare", json={"text": CAKE, "elevation": "8200 ft"}).json()
    for guide in (one["name"] for one in made["guides"]):
        alone = {one.start: one for one in rewriter.rewrite(CAKE, "8200 ft", guide=guide).changes}
        for place in made["cards"][0]["places"]:
            theirs = place["by"][guide]
            if theirs is None:
                assert place["start"] not in alone
            else:
                assert theirs["exact"]["exact"] == str(alone[place["start"]].exact)


def test_formula_is_in_percent_of_the_flour(client: TestClient) -> None:
    paste = (
        "Rye loaf\n\n500 g bread flour\n350 g water\n10 g salt\n5 g instant yeast\n\nKnead, let rise, bake at 450 F.\n"
    )
    batter = client.post("/api/formula", json={"text": paste, "elevation": "8200 ft"}).json()["cards"][0]["batters"][0]
    before = {row["role"]: row["percent"][0] for row in batter["rows"]}
    # Baker's percent by its definition: weight over flour weight; 350 g of 500 g is 70.
    assert before == {"liquid": 70.0, "salt": 2.0, "yeast": 1.0}


def test_curves_start_as_written_and_mark_the_kitchen(client: TestClient) -> None:
    made = client.post("/api/curves", json={"text": CAKE, "elevation": "8200 ft"}).json()
    assert made["here_ft"] == 8200
    names = [line["name"] for line in made["cards"][0]["lines"]]
    assert names == ["leavener", "sugar", "liquid", "oven"]
    for line in made["cards"][0]["lines"]:
        assert all(by["line"][0] == line["rest"] and len(by["line"]) == len(made["feet"]) for by in line["by"].values())
    # Common practice, no source: half of the leavener is left at 6,000 ft, and the oven is 25 F hotter from there on.
    oven = made["cards"][0]["lines"][-1]["by"]["practice"]
    assert oven["line"][made["feet"].index(6000)] == oven["here"] == 25.0


def test_next_gives_one_step_at_a_time(client: TestClient) -> None:
    made = client.post("/api/next", json={"text": CAKE, "elevation": "8200 ft", "fault": "it sank"}).json()
    steps = made["cards"][0]["steps"]
    assert made["fault"] == "sank"
    assert "flour" in steps[0]["text"]
    assert {one["start"] for one in steps[0]["card"]["changes"]} >= {129}


def test_next_names_the_faults_where_the_words_name_none(client: TestClient) -> None:
    answer = client.post("/api/next", json={"text": CAKE, "elevation": "8200 ft", "fault": "haunted"})
    assert answer.status_code == 422
    assert "sank" in answer.json()["error"]["mend"]


@pytest.mark.parametrize("style", styles())
def test_every_style_is_a_file_as_python_saves_it(client: TestClient, style: str, tmp_path: Any) -> None:
    answer = client.post("/api/file", json={"text": CAKE, "elevation": "8200 ft", "style": style})
    assert answer.status_code == 200
    assert "8200-ft" in answer.headers["content-disposition"]
    saved = tmp_path / "saved"
    rewriter.rewrite(CAKE, "8200 ft").save(saved, style)
    if style == "docx":  # a packed file carries the time of its making
        assert answer.content[:2] == b"PK"
    else:
        assert answer.content == saved.read_bytes()


def test_a_kept_card_comes_back_with_its_answers(client: TestClient) -> None:
    asked = {
        "text": "\ufeff" + CAKE.replace("\n", "\r\n"),
        "boils_at": "197 F",
        "guide": "formula",
        "strength": "full",
        "style": "kept",
        "answers": [{"query": "kind@0", "value": "cookie"}],
    }
    kept = client.post("/api/file", json=asked)
    back = client.post("/api/intake", content=kept.content, headers={"content-type": "application/octet-stream"}).json()
    fits("Taken", back)
    assert back["text"] == asked["text"]
    assert {name: back["asked"][name] for name in ("boils_at", "guide", "strength", "answers")} == {
        name: asked[name] for name in ("boils_at", "guide", "strength", "answers")
    }


def test_a_file_is_read_by_the_intake(client: TestClient) -> None:
    page = b"<h1>Snow Cake</h1><script>alert(1)</script><ul><li>2 cups flour</li></ul>"
    headers = {"content-type": "application/octet-stream", "x-file-name": "snow%20cake.html"}
    taken = client.post("/api/intake", content=page, headers=headers).json()
    fits("Taken", taken)
    assert "2 cups flour" in taken["text"]
    assert "alert" not in taken["text"]


@pytest.mark.parametrize(
    ("body", "what"),
    [
        ({"text": CAKE}, "where the kitchen is"),
        ({"text": CAKE, "elevation": "6500"}, "unit"),
        ({"text": CAKE, "elevation": "99999 ft"}, "outside"),
        ({"text": "", "elevation": "8200 ft"}, "empty"),
        ({"text": "The snow fell all night.", "elevation": "8200 ft"}, "no recipe"),
        ({"text": CAKE, "elevation": "8200 ft", "guide": "folklore"}, "guide"),
        ({"text": CAKE, "elevation": "8200 ft", "strength": "huge"}, "strength"),
        ({"text": CAKE, "elevation": "8200 ft", "answers": [{"query": "role@129", "value": "gravel"}]}, "gravel"),
        ({"text": CAKE, "elevation": "8200 ft", "answers": [{"query": 3, "value": "x"}]}, "answer"),
        ({"text": CAKE, "elevation": "8200 ft", "answers": "all"}, "answers"),
        ({"text": CAKE, "elevation": 8200}, "elevation"),
        ({"text": CAKE, "elevation": "8200 ft", "colour": "red"}, "colour"),
        ({"text": None}, "text"),
        ([CAKE], "object"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_line(client: TestClient, body: Any, what: str) -> None:
    answer = client.post("/api/annotate", json=body)
    assert answer.status_code == 422
    fits("Error", answer.json())
    error = answer.json()["error"]
    assert what in error["what"] + error["mend"]
    assert "\n" not in error["what"]
    assert error["mend"]


def test_unknown_style_and_unknown_path(client: TestClient) -> None:
    assert client.post("/api/file", json={"text": CAKE, "elevation": "8200 ft", "style": "song"}).status_code == 422
    assert client.get("/api/song").status_code == 404
    assert client.get("/api/annotate").status_code == 405


@pytest.mark.parametrize("content", [b"", b"{", b"\xff\xfe", b"[" * 100_000, b'"\\ud800"', b"NaN"])
def test_a_body_that_is_no_json_is_refused(client: TestClient, content: bytes) -> None:
    answer = client.post("/api/annotate", content=content, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    assert json.loads(answer.content)["error"]["what"]


def test_a_missing_library_is_named_with_its_extra(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    def lacking(*_: Any) -> None:
        raise ModuleNotFoundError("No module named 'docx'", name="docx")

    monkeypatch.setattr("rewriter.web.files.file", lacking)
    answer = client.post("/api/file", json={"text": CAKE, "elevation": "8200 ft", "style": "docx"})
    assert answer.status_code == 501
    assert "rewriter[docs]" in answer.json()["error"]["mend"]
