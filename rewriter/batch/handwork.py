"""What a process of the pool does: answer rows until the pipe is closed."""

from __future__ import annotations

import signal
from multiprocessing.connection import Connection

from rewriter.batch.job import row_of
from rewriter.batch.work import Task

READY = b"ready"


def serve(pipe: Connection, task: Task) -> None:
    """Say that the task is ready, then answer each message of rows (a line each) with a line for each.

    Ends when the other end is closed, as it is when the process there is gone, however it went.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the process that people talk to
    try:
        task.warm()
        pipe.send_bytes(READY)
        while True:
            rows = map(row_of, pipe.recv_bytes().split(b"\n"))
            pipe.send_bytes(b"\n".join(map(task, rows)))
    except (EOFError, OSError):
        pass
