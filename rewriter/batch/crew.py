"""A pool of processes, one pipe each: rows go in as JSON, lines of JSON come back, in the order of the rows.

Unlike a pool that shares a queue, this one knows which rows a process has in hand. Where a process dies, or works too
long, its rows are given out again one by one; a row that does it again is set aside, and all others go on.
"""

from __future__ import annotations

import itertools
import json
import multiprocessing
import time
from collections import deque
from collections.abc import Generator, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess

from rewriter.batch.handwork import READY, serve
from rewriter.batch.job import Row, as_json
from rewriter.batch.work import Task, aside

CHUNK_ROWS, CHUNK_LETTERS = 16, 50_000  # what a process is given at a time: about a tenth of a second's work
AHEAD = 4  # chunks in flight for each process, done ones that wait for an earlier one among them
LETTERS = 8_000_000  # and at most about so many letters in flight
TRIES = 2  # deaths of a process on one row alone
STARTS = 3  # processes that may end one after another before any is ready
RENEW = 20_000  # rows after which a process is replaced, so that what it remembers of words cannot pile up


@dataclass(slots=True)
class Chunk:
    """Rows given out together. tries: how often a process died over them."""

    rows: list[Row]
    tries: int = 0


@dataclass(slots=True, eq=False)
class Hand:
    """A process, our end of its pipe, and what it has in hand. since: when it was given that."""

    process: BaseProcess
    pipe: Connection
    ready: bool = False
    chunk: Chunk | None = None
    since: float = 0.0
    done: int = 0


@dataclass(slots=True)
class Crew:
    """A pool for one task. seconds: how long a process may work on what it is given at a time."""

    task: Task
    workers: int
    seconds: float = 60.0
    _hands: list[Hand] = field(default_factory=list)
    _again: deque[Chunk] = field(default_factory=deque)
    _lines: dict[int, bytes] = field(default_factory=dict)
    _held: dict[int, int] = field(default_factory=dict)  # letters of each row given out and not yielded
    _letters: int = 0
    _spent: bool = False
    _stillborn: int = 0

    def lines(self, rows: Iterable[Row]) -> Generator[bytes, None, None]:
        """A line for every row, in their order; at most a few chunks for each process are held at any moment.

        The numbers of the rows must follow one another without a gap. Raises RuntimeError where no process starts.
        """
        chunks = _chunks(rows)
        first = next(chunks, None)
        if first is None:
            return
        following = first.rows[0].number
        chunks = itertools.chain([first], chunks)
        context = _context()
        try:
            for _ in range(self.workers):
                self._hands.append(self._hire(context))
            while True:
                for hand in [one for one in self._hands if one.ready and one.chunk is None]:
                    chunk = self._next(chunks)
                    if chunk is None:
                        break
                    self._give(hand, chunk)
                if self._spent and not self._held:
                    return
                self._wait(context)
                while following in self._lines:
                    self._letters -= self._held.pop(following)
                    yield self._lines.pop(following)
                    following += 1
        finally:
            self._dismiss()

    def _next(self, chunks: Iterator[Chunk]) -> Chunk | None:
        """What to give out next: rows to try again, else new ones where there is room, else None."""
        if self._again:
            return self._again.popleft()
        if len(self._held) >= AHEAD * CHUNK_ROWS * self.workers or self._letters > LETTERS:
            return None
        chunk = next(chunks, None)
        self._spent = chunk is None
        for row in chunk.rows if chunk else ():
            self._held[row.number] = len(row.text)
            self._letters += len(row.text)
        return chunk

    def _give(self, hand: Hand, chunk: Chunk) -> None:
        hand.chunk, hand.since = chunk, time.monotonic()
        with suppress(OSError):  # it died: the wait sees it
            hand.pipe.send_bytes(b"\n".join(map(as_json, chunk.rows)))

    def _wait(self, context: BaseContext) -> None:
        """Take what has come back, and replace who died or works too long."""
        pipes = {hand.pipe: hand for hand in self._hands if hand.chunk or not hand.ready}
        for pipe in wait(list(pipes), timeout=min(1.0, self.seconds / 4)):
            hand = pipes[pipe]  # type: ignore[index]
            try:
                self._take(hand, hand.pipe.recv_bytes(), context)
            except (EOFError, OSError):
                self._lost(hand, context, "the process died over this recipe")
        for hand in list(self._hands):
            if hand.chunk and time.monotonic() - hand.since > self.seconds and not hand.pipe.poll():
                hand.chunk.tries = TRIES
                self._lost(hand, context, f"this recipe took longer than {self.seconds:g} seconds")

    def _take(self, hand: Hand, data: bytes, context: BaseContext) -> None:
        if data == READY:
            hand.ready, self._stillborn = True, 0
            return
        assert hand.chunk is not None
        for row, line in zip(hand.chunk.rows, data.split(b"\n"), strict=True):
            self._lines[row.number] = line
        hand.done += len(hand.chunk.rows)
        hand.chunk = None
        if hand.done >= RENEW:
            self._replace(hand, context)

    def _lost(self, hand: Hand, context: BaseContext, why: str) -> None:
        """A process is gone: its rows go out again one by one, and one that was alone too often is set aside."""
        chunk = hand.chunk
        if chunk is None:
            self._stillborn += not hand.ready
            if self._stillborn >= STARTS:
                raise RuntimeError("no process can be started for the batch")
        elif len(chunk.rows) > 1:
            self._again.extend(Chunk([row]) for row in chunk.rows)
        elif chunk.tries + 1 < TRIES:
            self._again.append(Chunk(chunk.rows, chunk.tries + 1))
        else:
            row = chunk.rows[0]
            self._lines[row.number] = as_json(aside(row, why))
        self._replace(hand, context)

    def _replace(self, hand: Hand, context: BaseContext) -> None:
        self._hands.remove(hand)
        _end(hand)
        self._hands.append(self._hire(context))

    def _hire(self, context: BaseContext) -> Hand:
        ours, theirs = context.Pipe()
        process = context.Process(target=serve, args=(theirs, self.task), daemon=True)  # type: ignore[attr-defined]
        process.start()
        theirs.close()
        return Hand(process, ours)

    def _dismiss(self) -> None:
        while self._hands:
            _end(self._hands.pop())
        self._lines.clear()
        self._again.clear()
        self._held.clear()


def lines(rows: Iterable[Row], task: Task, workers: int, seconds: float = 60.0) -> Generator[bytes, None, None]:
    """A line for every row, in their order, by a pool of processes; see :class:`Crew`."""
    return Crew(task, workers, seconds).lines(rows)


def number_of(line: bytes) -> int:
    """The number of the row a line speaks of.

    >>> number_of(b'{"row": 12, "id": "twelve"}')
    12
    """
    return int(json.loads(line)["row"])


def _chunks(rows: Iterable[Row]) -> Iterator[Chunk]:
    held: list[Row] = []
    letters = 0
    for row in rows:
        held.append(row)
        letters += len(row.text)
        if len(held) == CHUNK_ROWS or letters > CHUNK_LETTERS:
            yield Chunk(held)
            held, letters = [], 0
    if held:
        yield Chunk(held)


def _context() -> BaseContext:
    """Processes that start from a clean one in which the pipeline is loaded already, where the system can do that."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["rewriter.batch.preload"])
    return context


def _end(hand: Hand) -> None:
    hand.pipe.close()
    hand.process.kill()
    hand.process.join()
