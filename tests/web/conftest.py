"""A server of its own, and a real Chromium; without one these tests are skipped, but never in CI."""

from __future__ import annotations

import os
import shutil
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
import uvicorn
from starlette.testclient import TestClient

from rewriter.web import Door, create_app
from rewriter.web.guard import App

ROOT = Path(__file__).parent.parent.parent
SHOTS = ROOT / "shots"
CHROMIUM = os.environ.get("CHROMIUM") or shutil.which("chromium") or "/usr/bin/chromium"
AXE = Path(os.environ.get("AXE") or ROOT / "node_modules" / "axe-core" / "axe.min.js")
FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()
CAKE = (ROOT / "corpus" / "examples" / "ninebark-butter-cake.txt").read_text("utf-8")
BISCUITS = (ROOT / "corpus" / "examples" / "teague-soda-biscuits.md").read_text("utf-8")
JARS = """Sundquist Plum Jam

4 cups plums
3 cups sugar

Boil. Ladle into hot jars, leave 1/4 inch headspace, process 10 minutes.
"""
ASKS = """Pell Bars

2 cups blorp
1 cup sugar
1 T baking powder
1 egg
1 teacup milk

Mix. Bake at 350 F for 20 minutes.
"""


@dataclass
class Served:
    """A running server, and what pages did against the rules: errors, and requests to anywhere else."""

    address: str
    wrong: list[str] = field(default_factory=list)


def lacking(what: str) -> None:
    """Skip a test where something is missing; in CI that is a failure."""
    if os.environ.get("CI"):
        pytest.fail(f"{what} is missing, and CI must have it")
    pytest.skip(f"{what} is missing")


def served(app: App, port: socket.socket) -> Iterator[str]:
    """Run an application on a bound socket."""
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="off", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [port]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield f"http://127.0.0.1:{port.getsockname()[1]}/"
    server.should_exit = True
    thread.join(10)
    port.close()


def bound() -> socket.socket:
    port = socket.socket()
    port.bind(("127.0.0.1", 0))
    return port


@pytest.fixture
def client() -> TestClient:
    return TestClient(create_app(), base_url="http://127.0.0.1")


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    port = bound()
    yield from served(create_app(Door("127.0.0.1", port.getsockname()[1])), port)


@pytest.fixture(scope="session")
def locked() -> Iterator[str]:
    """A server that asks for a token."""
    port = bound()
    yield from served(create_app(Door("127.0.0.1", port.getsockname()[1], token="juniper-and-rye")), port)


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    if not Path(CHROMIUM).exists():
        lacking("chromium")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        lacking("playwright")
    SHOTS.mkdir(exist_ok=True)
    with sync_playwright() as play:
        running = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield running
        running.close()


@pytest.fixture
def visit(browser: Any, address: str) -> Iterator[Any]:
    """Open the page in a fresh browser profile: ``visit(width=390, color_scheme="dark")``.

    At the end the page must have thrown nothing, been refused nothing, and asked nobody but the server.
    """
    contexts, wrong = [], []

    def opened(path: str = "", width: int = 1280, height: int = 900, **more: Any) -> Any:
        context = browser.new_context(viewport={"width": width, "height": height}, accept_downloads=True, **more)
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(15_000)
        page.on("pageerror", lambda error: wrong.append(f"error: {error}"))
        page.on("console", lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None)
        page.on("request", lambda sent: wrong.append(sent.url) if not own(sent.url, address) else None)
        page.goto(path if path.startswith("http") else address + path)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert wrong == []


def own(url: str, address: str) -> bool:
    return url.startswith(("http://127.0.0.1:", "blob:http://127.0.0.1:", "about:", "data:")) or url.startswith(address)


def fill(page: Any, text: str, feet: str = "8200") -> None:
    """Paste a recipe, say the elevation, wait for its card."""
    page.fill("#figure", feet)
    page.fill("#paste", text)
    page.wait_for_selector(".card")


def until(page: Any, script: str, arg: object = None, seconds: float = 15) -> None:
    """Wait until a script gives something true; asked from here, as the policy of the page lets nothing wait in it."""
    deadline = time.monotonic() + seconds
    while not page.evaluate(script, arg):
        if time.monotonic() > deadline:
            pytest.fail(f"still not so after {seconds} s: {script}")
        page.wait_for_timeout(30)
