"""The memory of a batch: recipes streamed through ``rewriter batch``, its peak over all of its processes.

    python -m tests.bench.memory [RECIPES] [jsonl|csv|parquet]

The recipes are those of the corpus over and over, each with words of its own, so that what remembers words must show
it. Memory is read from /proc (Linux): RSS counts pages that processes share once for each of them, PSS once in all.
Ends with 1 where the sum of RSS passes the limit.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
import tempfile
import time
from itertools import cycle, islice
from pathlib import Path

from tests.bench.texts import recipes

LIMIT_MB = 600
SYLLABLES = "ba chi dor el fen gra hol im jun ka lor mi nes ol pa quo ri sun ta und vel wis yo zer".split()


def write(path: Path, count: int) -> None:
    """Write so many recipes as JSON Lines, no two alike."""
    chance = random.Random(8200)
    with path.open("w", encoding="utf-8") as file:
        for number, text in enumerate(islice(cycle(recipes()), count), 1):
            name = "".join(chance.choices(SYLLABLES, k=4)).title()
            own = f"{text.rstrip()}\n\nFrom the kitchen of {name} {number}, Cinder Pass.\n"
            file.write(json.dumps({"id": f"card-{number}", "text": own}) + "\n")


def family(pid: int) -> set[int]:
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


def memory(pids: set[int]) -> tuple[float, float]:
    """RSS and PSS of processes, in MB."""
    rss = pss = 0
    for pid in pids:
        try:
            lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
        except OSError:
            continue
        fields = {line.split(":")[0]: line.split()[1] for line in lines[1:]}
        rss, pss = rss + int(fields.get("Rss", 0)), pss + int(fields.get("Pss", 0))
    return rss / 1024, pss / 1024


def main(count: int, form: str) -> int:
    """Run it and print the peaks."""
    with tempfile.TemporaryDirectory() as room:
        origin, out = Path(room) / "cards.jsonl", Path(room) / f"annotated.{form}"
        write(origin, count)
        command = [sys.executable, "-m", "rewriter", "batch", str(origin), str(out), "--elevation", "8,200 ft"]
        start = time.monotonic()
        running = subprocess.Popen([*command, "--workers", "2"])
        peaks, tenth = (0.0, 0.0), 0.0
        while running.poll() is None:
            now = memory(family(running.pid))
            peaks = max(peaks[0], now[0]), max(peaks[1], now[1])
            if time.monotonic() - start < 10:
                tenth = peaks[0]
            time.sleep(0.25)
        taken = time.monotonic() - start
        if running.returncode:
            return running.returncode
    print(f"{count} recipes in {taken:.0f} seconds, {count / taken:.1f} a second with two workers, start and end in it")
    print(
        f"peak over all processes: RSS {peaks[0]:.0f} MB (in the first ten seconds {tenth:.0f}), PSS {peaks[1]:.0f} MB"
    )
    print(f"limit: RSS {LIMIT_MB} MB: {'kept' if peaks[0] < LIMIT_MB else 'PASSED'}")
    return int(peaks[0] >= LIMIT_MB)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000, sys.argv[2] if len(sys.argv) > 2 else "jsonl"))
