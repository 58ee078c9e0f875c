"""Who may come in. The rules follow W3C Fetch Metadata Request Headers and OWASP's sheets on DNS rebinding and CSRF."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from rewriter.web import Door, create_app
from tests.web.conftest import CAKE

ASK = {"text": CAKE, "elevation": "8200 ft"}


def at(door: Door, base: str = "http://127.0.0.1:8260") -> TestClient:
    return TestClient(create_app(door), base_url=base)


@pytest.mark.parametrize("host", ["127.0.0.1:8260", "localhost:8260", "LOCALHOST:8260", "[::1]:8260"])
def test_loopback_may_be_called_by_its_own_names(host: str) -> None:
    assert at(Door(port=8260)).get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "kitchen.example:8260",  # a name elsewhere that was pointed here
        "127.0.0.1.nip.example:8260",
        "localhost.example:8260",
        "192.168.1.20:8260",  # not loopback, though an address
        "127.0.0.1:80",  # another port
        "127.0.0.1",
        "127.0.0.1:8260x",
        "",
    ],
)
@pytest.mark.parametrize("path", ["/", "/api/choices", "/static/page.js", "/api/openapi.json"])
def test_a_rebound_name_reaches_nothing(host: str, path: str) -> None:
    answer = at(Door(port=8260)).get(path, headers={"host": host})
    assert answer.status_code == 421
    assert "recipe" not in answer.text


def test_open_door_takes_addresses_and_given_names_but_no_others() -> None:
    door = Door("0.0.0.0", 8260, names=("ninebark.local",), token="juniper-and-rye")
    for host, status in (("192.168.1.20:8260", 200), ("ninebark.local:8260", 200), ("evil.example:8260", 421)):
        assert at(door).get("/", headers={"host": host}).status_code == status


@pytest.mark.parametrize("told", [None, "Bearer wrong", "Basic juniper-and-rye", "Bearer ", "Bearer juniper-and-ryé"])
def test_token_is_asked_for_by_every_part_of_the_api(told: str | None) -> None:
    client = at(Door("0.0.0.0", 8260, token="juniper-and-rye"))
    headers = {} if told is None else {"authorization": told.encode("latin-1")}
    for path in ("/api/annotate", "/api/compare", "/api/file", "/api/intake", "/api/nothing"):
        assert client.post(path, json=ASK, headers=headers).status_code == 401
    answer = client.get("/api/choices", headers=headers)
    assert (answer.status_code, answer.headers["www-authenticate"]) == (401, "Bearer")


def test_token_opens_the_door() -> None:
    client = at(Door("0.0.0.0", 8260, token="juniper-and-rye"))
    assert (
        client.post("/api/annotate", json=ASK, headers={"authorization": "Bearer juniper-and-rye"}).status_code == 200
    )


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},  # another program on this machine
        {"origin": "https://127.0.0.1:8260"},
        {"sec-fetch-site": "cross-site", "sec-fetch-mode": "cors"},
        {"sec-fetch-site": "same-site", "sec-fetch-mode": "no-cors"},
        {
            "sec-fetch-site": "cross-site",
            "sec-fetch-mode": "navigate",
            "sec-fetch-dest": "document",
        },  # a form elsewhere
    ],
)
def test_cross_site_requests_are_refused(headers: dict[str, str]) -> None:
    client = at(Door(port=8260))
    assert client.post("/api/annotate", json=ASK, headers=headers).status_code == 403
    assert client.get("/api/choices", headers=headers).status_code == 403


def test_a_link_elsewhere_may_lead_to_the_page_but_not_frame_it() -> None:
    client = at(Door(port=8260))
    link = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}
    assert client.get("/", headers=link).status_code == 200
    assert client.get("/", headers={**link, "sec-fetch-dest": "iframe"}).status_code == 403


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""])
def test_bodies_that_a_form_can_send_are_refused(client: TestClient, kind: str) -> None:
    answer = client.post("/api/annotate", content=b'{"text": "x"}', headers={"content-type": kind})
    assert answer.status_code == 415


def test_every_answer_carries_the_headers_of_safety(client: TestClient) -> None:
    for answer in (
        client.get("/"),
        client.get("/static/page.js"),
        client.get("/no"),
        client.post("/api/annotate", json=ASK),
    ):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "set-cookie" not in answer.headers
        assert "access-control-allow-origin" not in answer.headers


def test_the_page_holds_no_inline_script_or_style_and_nothing_from_elsewhere(client: TestClient) -> None:
    for path in ("/", "/api"):
        page = client.get(path).text
        assert "<style" not in page
        assert " style=" not in page
        assert page.count("<script") == page.count('<script type="module" src="/static/')
        assert " on" not in "".join(
            part.split(">")[0].replace(" one", "") for part in page.split("<")[1:] if "=" in part
        )
        assert "https://" not in page


@pytest.mark.parametrize(
    "path", ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2fapp.py", "/static//etc/passwd"]
)
def test_nothing_outside_the_static_folder_is_served(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404
