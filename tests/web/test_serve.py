"""``rewriter serve`` as a person starts it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator

import httpx
import pytest

from rewriter import cli


@pytest.fixture
def started() -> Iterator[object]:
    running: list[subprocess.Popen[str]] = []

    def start(*arguments: str) -> str:
        command = [sys.executable, "-m", "rewriter", "serve", "--port", "0", *arguments]
        environment = {key: value for key, value in os.environ.items() if key != "REWRITER_TOKEN"}
        process = subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, env={**environment, "PYTHONUNBUFFERED": "1"}
        )
        running.append(process)
        assert process.stdout is not None
        return process.stdout.readline().strip()

    start.running = running  # type: ignore[attr-defined]
    yield start
    for process in running:
        process.terminate()
        try:
            process.wait(15)
        finally:
            process.kill()


def waited(url: str, **more: object) -> httpx.Response:
    with httpx.Client(transport=httpx.HTTPTransport(retries=8)) as client:
        return client.get(url, **more)  # type: ignore[arg-type]


def test_it_prints_its_address_and_listens_on_this_machine_alone(started: object) -> None:
    address = started()  # type: ignore[operator]
    assert address.startswith("http://127.0.0.1:")
    assert "#" not in address
    assert waited(address).status_code == 200
    assert waited(address + "api/choices").status_code == 200
    assert waited(address, headers={"host": "evil.example"}).status_code == 421


def test_ctrl_c_ends_it(started: object) -> None:
    assert waited(started()).status_code == 200  # type: ignore[operator]
    (process,) = started.running  # type: ignore[attr-defined]
    process.send_signal(signal.SIGINT)
    assert process.wait(30) in (0, 130)


def test_beyond_this_machine_it_asks_for_the_token_it_printed(started: object) -> None:
    address, _, token = started("--host", "0.0.0.0").partition("#")  # type: ignore[operator]
    assert len(token) >= 20
    port = address.rstrip("/").rpartition(":")[2]
    here = f"http://127.0.0.1:{port}/api/choices"
    assert waited(here).status_code == 401
    assert waited(here, headers={"authorization": f"Bearer {token}"}).status_code == 200


def test_a_port_in_use_is_said_in_one_line(started: object, capsys: pytest.CaptureFixture[str]) -> None:
    port = started().rstrip("/").rpartition(":")[2]  # type: ignore[operator]
    assert cli.main(["serve", "--port", port]) == 2
    assert "choose another --port" in capsys.readouterr().err


def test_a_missing_extra_is_named(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setitem(sys.modules, "uvicorn", None)
    assert cli.main(["serve"]) == 2
    assert "pip install 'rewriter[web]'" in capsys.readouterr().err
