"""Two writers at once, and a writer killed at any moment: nothing is lost, nothing is there twice, the box is whole."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

from rewriter.collection import Box

ADD = """
import sys
from rewriter.collection import Box
with Box(sys.argv[1]) as box:
    print("open", flush=True)
    box.add(sys.argv[2:])
    for card in box.cards():
        try:
            box.apply(card.number, box.tidy(card.number))
        except ValueError as error:
            assert "in the meantime" in str(error)
"""
BAKE = """
import sys
from rewriter.collection import Box
with Box(sys.argv[1]) as box:
    print("open", flush=True)
    for number in range(int(sys.argv[2])):
        box.bake(1, "8200 ft", rating=4, note=f"{sys.argv[3]} {number}")
"""
KILLS = 25


def cards(folder: Path, first: int, count: int) -> list[str]:
    """Files of small cards, each its own."""
    folder.mkdir(exist_ok=True)
    paths = []
    for number in range(first, first + count):
        path = folder / f"{number}.txt"
        lines = f"Gems No. {number}\n\n{number + 1} cups graham flour\n1 tsp baking soda\n1 cup buttermilk\n1 egg\n"
        path.write_text(f"{lines}\nBake at 400 F in a gem pan.\n", encoding="utf-8")
        paths.append(str(path))
    return paths


def start(script: str, *arguments: object) -> subprocess.Popen[str]:
    """A process of its own that runs a script, once it has the box open."""
    process = subprocess.Popen(
        [sys.executable, "-c", script, *map(str, arguments)], stdout=subprocess.PIPE, text=True, start_new_session=True
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "open\n"
    return process


def test_two_processes_make_one_box_and_neither_loses_a_card(tmp_path: Path) -> None:
    path, paths = tmp_path / "box.sqlite", cards(tmp_path / "cards", 0, 30)
    one, other = start(ADD, path, *paths[:20]), start(ADD, path, *paths[10:])
    assert (one.wait(120), other.wait(120)) == (0, 0)
    with Box(path) as box:
        assert {card.title for card in box.cards()} == {f"Gems No. {number}" for number in range(30)}
        assert len(box.cards()) == 30
        assert box.check() == []


def test_two_processes_write_bakes_at_once_and_none_is_lost(tmp_path: Path) -> None:
    path = tmp_path / "box.sqlite"
    with Box(path) as box:
        box.add(cards(tmp_path / "cards", 0, 1))
    one, other = start(BAKE, path, 25, "Odalys"), start(BAKE, path, 25, "Ngozi")
    assert (one.wait(120), other.wait(120)) == (0, 0)
    with Box(path) as box:
        notes = {bake.note for bake in box.bakes(1)}
        assert notes == {f"{who} {number}" for who in ("Odalys", "Ngozi") for number in range(25)}
        numbers = [one.number for one in box.revisions(1)]
        assert numbers == list(range(len(numbers)))


def test_a_writer_killed_at_any_moment_leaves_the_box_whole(tmp_path: Path) -> None:
    path, paths = tmp_path / "box.sqlite", cards(tmp_path / "cards", 0, 60)
    chance, seen = random.Random(8200), 0
    for _ in range(KILLS):
        writer = start(ADD, path, *paths)
        time.sleep(chance.uniform(0.0, 0.25))
        writer.send_signal(signal.SIGKILL)
        writer.wait(60)
        with Box(path) as box:
            assert box.check() == []
            kept = [card.title for card in box.cards()]
            assert len(kept) == len(set(kept)) >= seen
            assert box.store.value("SELECT count(*) FROM words") == len(kept)
            seen = len(kept)
    with Box(path) as box:
        box.add(paths)
        assert len(box.cards()) == 60
        assert box.check() == []


def test_a_half_written_transaction_is_gone_after_a_kill(tmp_path: Path) -> None:
    path = tmp_path / "box.sqlite"
    half = """
import os, sys
from rewriter.collection.store import Store
store = Store(sys.argv[1])
print("open", flush=True)
with store.write():
    for number in range(3000):
        store.run("INSERT INTO settings (name, value, changed) VALUES (?, ?, 'now')", str(number), "x" * 2000)
    os.kill(os.getpid(), 9)
"""
    assert start(half, path).wait(60) == -signal.SIGKILL
    with Box(path) as box:
        assert box.store.value("SELECT count(*) FROM settings") == 0
        assert box.check() == []
