"""How long the page waits for its answer, beside the same rewrite called in Python: ``python -m tests.bench.web``.

The server runs as a person starts it, in a process of its own; requests go over one kept connection on the loopback.
The two are timed in turns, so that whatever else the machine does falls on both. Printed: medians, the
quietest of all turns (on a busy machine the truer figure), and their ratios.
"""

from __future__ import annotations

import http.client
import json
import statistics
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import rewriter

EXAMPLES = Path(__file__).parents[2] / "corpus" / "examples"
TURNS = 200


def bench(name: str, text: str, host: str, port: int) -> float:
    """Time one recipe both ways; gives how many times as long the page takes."""
    body = json.dumps({"text": text, "elevation": "8200 ft"})
    headers = {"content-type": "application/json"}
    line = http.client.HTTPConnection(host, port)
    called, asked = [], []
    for turn in range(TURNS + 20):
        begun = time.perf_counter()
        result = rewriter.rewrite(text, elevation="8200 ft")
        between = time.perf_counter()
        line.request("POST", "/api/annotate", body, headers)
        answer = line.getresponse().read()
        ended = time.perf_counter()
        if turn >= 20:
            called.append(between - begun)
            asked.append(ended - between)
    assert json.loads(answer)["text"] == result.text
    line.close()
    for says, middle in (("median", statistics.median), ("quietest", min)):
        python, page = 1000 * middle(called), 1000 * middle(asked)
        shown = f"Python {python:7.2f} ms  page {page:7.2f} ms  ratio {page / python:.2f}"
        print(f"{name:28} {len(text):5} characters  {says:9} {shown}")
    return statistics.median(asked) / statistics.median(called)


def main() -> None:
    """Time the shipped recipes, each alone and all in one paste."""
    command = [sys.executable, "-m", "rewriter", "serve", "--port", "0"]
    server = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert server.stdout is not None
    address = urlsplit(server.stdout.readline().strip())
    texts = {path.name: path.read_text("utf-8") for path in sorted(EXAMPLES.glob("*.[tm][xd]*")) if path.is_file()}
    texts["all of them"] = "\n\n\n".join(texts.values())
    try:
        worst = max(bench(name, text, str(address.hostname), int(address.port or 0)) for name, text in texts.items())
        print(f"worst ratio {worst:.2f}; the page is to answer within twice the time")
    finally:
        server.terminate()
        server.wait(10)


if __name__ == "__main__":
    main()
