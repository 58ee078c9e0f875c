"""The batch on a real Ray of two workers, started here: order, deaths of workers, the loopback, the same outcomes."""

from __future__ import annotations

import json
import os
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rewriter.batch import Row, Settings, cluster, crew, run
from rewriter.errors import Unusable
from tests.faulty import Faulty, texts

EXAMPLES = Path(__file__).parent.parent / "corpus" / "examples"
LISTENS = "0A"  # the state of a listening socket in /proc/net/tcp (proc(5), include/net/tcp_states.h)
LOOPBACK = ("0100007F", "0000000000000000FFFF00000100007F", "00000000000000000000000001000000")


@pytest.fixture(scope="module", autouse=True)
def two_workers() -> Iterator[None]:
    """One Ray for all tests here, as the engine itself starts it."""
    with cluster.started(2):
        yield


def rows_of(words: list[str]) -> list[Row]:
    return [Row(number, f"card {number}", word) for number, word in enumerate(words, 7)]


def test_a_worker_killed_half_way_loses_nothing_and_repeats_nothing(tmp_path: Path) -> None:
    rows = rows_of([f"word {i}" for i in range(90)])
    found: list[bytes] = []
    victim = 0
    for line in cluster.lines(rows, Faulty(str(tmp_path), slow=0.05), workers=2, block=4):
        found.append(line)
        if len(found) == 30:
            pids = sorted(int(path.name[4:]) for path in tmp_path.glob("pid-*"))
            assert len(pids) == 2
            victim = pids[0]
            assert b"ray" in Path(f"/proc/{victim}/cmdline").read_bytes()
            os.kill(victim, signal.SIGKILL)
    assert [json.loads(line)["row"] for line in found] == [row.number for row in rows]
    assert texts(found) == [row.text.upper() for row in rows]
    workers = {int(pid) for path in tmp_path.glob("row-*") for pid in path.read_text().split()}
    assert victim in workers
    assert len(workers) >= 3  # another took its place
    assert not Path(f"/proc/{victim}").exists()


def test_rows_that_kill_or_hang_are_set_aside_alone(tmp_path: Path) -> None:
    words = [f"w{i}" for i in range(12)]
    words[2], words[7] = "die", "hang"
    found = list(cluster.lines(rows_of(words), Faulty(str(tmp_path)), workers=2, seconds=1.5, block=3))
    expected = [word.upper() for word in words]
    expected[2], expected[7] = "the process died over this recipe", "this recipe took longer than 1.5 seconds"
    assert texts(found) == expected


def test_ray_says_what_the_pool_says(tmp_path: Path) -> None:
    texts = [path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.iterdir())]
    rows = [{"id": f"card {i}", "text": texts[i % len(texts)]} for i in range(135)] + [
        {"id": "none", "text": "Thanks!"}
    ]
    origin = tmp_path / "cards.jsonl"
    origin.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    by_ray = run(origin, tmp_path / "ray.jsonl", Settings("8,200 ft"), engine="ray", workers=2)
    by_pool = run(origin, tmp_path / "pool.jsonl", Settings("8,200 ft"), engine="pool", workers=2)
    assert by_ray.out.read_bytes() == by_pool.out.read_bytes()
    assert by_ray.aside is not None
    assert by_pool.aside is not None
    assert by_ray.aside.read_bytes() == by_pool.aside.read_bytes()
    assert by_ray.recipes == 136


def test_ray_listens_on_the_loopback_alone() -> None:
    mine = descendants(os.getpid())
    assert len(mine) > 3
    sockets = {link for pid in mine for link in links(pid)}
    heard = []
    for table in ("/proc/net/tcp", "/proc/net/tcp6"):
        for line in Path(table).read_text().splitlines()[1:]:
            fields = line.split()
            if fields[3] == LISTENS and f"socket:[{fields[9]}]" in sockets:
                heard.append(fields[1].partition(":")[0])
    assert heard
    assert set(heard) <= set(LOOPBACK)


def test_an_input_without_rows_has_no_lines() -> None:
    assert list(cluster.lines([], Faulty("."), workers=2)) == []


def test_no_cluster_at_the_address_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    import ray

    def refused(*_: Any, **__: Any) -> None:
        raise ConnectionError("nobody there")

    monkeypatch.setattr(ray, "is_initialized", lambda: False)
    monkeypatch.setattr(ray, "init", refused)
    with pytest.raises(Unusable, match="no Ray cluster answers at cinder-pass:6379"):
        list(cluster.lines([Row(1, "", "a")], Faulty("."), workers=1, address="cinder-pass:6379"))


@pytest.mark.parametrize("brought", [[], [1, 2, 3, 4, 5], [1, 1, 2, 5, 4], [3], [5], [1, 2, 2, 2, 3]])
def test_whatever_a_cluster_brings_every_row_has_one_line(brought: list[int]) -> None:
    found = (b'{"row": %d}' % number for number in brought)
    whole = cluster.in_order(found, 1, 6, lambda a, b: (b'{"row": %d}' % number for number in range(a, b)))
    assert [crew.number_of(line) for line in whole] == [1, 2, 3, 4, 5]


def descendants(pid: int) -> set[int]:
    """A process and all below it."""
    above = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            above[int(stat.parent.name)] = int(stat.read_text().rpartition(")")[2].split()[1])
        except OSError:
            continue
    found = {pid}
    while more := {child for child, parent in above.items() if parent in found} - found:
        found |= more
    return found


def links(pid: int) -> list[str]:
    """Where the open files of a process lead."""
    found = []
    for file in Path(f"/proc/{pid}/fd").iterdir():
        try:
            found.append(str(file.readlink()))
        except OSError:
            continue
    return found
