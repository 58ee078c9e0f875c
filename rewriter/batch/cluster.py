"""The same task run by actors of Ray Data (the extra ``cluster``): a cluster's, or two or more started here.

Rows travel as blocks of lines of JSON in Ray's object store; each actor loads the pipeline once. Ray gives the work of
an actor that died to another; whatever it still fails to bring back, or brings twice, is mended here: every row has
one line, in the order of the rows.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import islice
from typing import Any

import pyarrow
import ray
import ray.data

from rewriter import __version__
from rewriter.batch import crew
from rewriter.batch.job import Row, as_json, row_of
from rewriter.batch.work import Task

BLOCK = 128  # rows: about half a second's work
TRIES = 3  # times that Ray gives a block to another actor before it is left to us
HERE = "127.0.0.1"


class Actor:
    """One loaded pipeline: takes a block of rows, gives a block of lines."""

    def __init__(self, task: Task, version: str) -> None:
        if version != __version__:
            raise RuntimeError(f"this node has rewriter {__version__}, and the batch is of {version}")
        self.task = task
        task.warm()

    def __call__(self, block: pyarrow.Table) -> pyarrow.Table:
        """The column "row" of JSON into a column "line" of JSON, row by row."""
        found = [self.task(row_of(row.as_py())) for row in block["row"]]
        return pyarrow.table({"line": pyarrow.array(found, pyarrow.large_binary())})


def lines(
    rows: Iterable[Row], task: Task, workers: int, address: str | None = None, block: int = BLOCK
) -> Iterator[bytes]:
    """A line for every row, in their order, by Ray Data. Numbers of rows follow one another without a gap.

    address: of a cluster on whose nodes the same version of rewriter is installed; None starts Ray on this machine,
    in reach of nobody else, and stops it at the end.
    """
    with _ray(workers, address):
        blocks = [ray.put(_block(some)) for some in _some(rows, block)]
        if not blocks:
            return
        first, last = _first(blocks[0]), _first(blocks[-1]) + ray.get(blocks[-1]).num_rows

        def mend(start: int, end: int) -> Iterator[bytes]:
            places = (divmod(number - first, block) for number in range(start, end))
            return crew.lines((row_of(ray.get(blocks[at])["row"][place].as_py()) for at, place in places), task, 1)

        yield from in_order(_run(blocks, task, workers), first, last, mend)


def _first(block: Any) -> int:
    """The number of the first row of a block."""
    return row_of(ray.get(block)["row"][0].as_py()).number


def in_order(
    found: Iterator[bytes], following: int, last: int, mend: Callable[[int, int], Iterator[bytes]]
) -> Iterator[bytes]:
    """Lines ``following`` to ``last`` (not included), each once; ``mend(start, end)`` makes those that lack.

    >>> found = [b'{"row": 1}', b'{"row": 1}', b'{"row": 4}']
    >>> list(in_order(iter(found), 1, 6, lambda start, end: iter([b"mended"] * (end - start))))
    [b'{"row": 1}', b'mended', b'mended', b'{"row": 4}', b'mended']
    """
    for line in found:
        number = crew.number_of(line)
        if number < following:
            continue
        yield from mend(following, number)
        yield line
        following = number + 1
    yield from mend(following, last)


def _run(blocks: list[Any], task: Task, workers: int) -> Iterator[bytes]:
    """Lines as Ray Data brings them: in order, but for blocks it has given up."""
    context = ray.data.DataContext.get_current()
    context.enable_progress_bars = False
    context.execution_options.preserve_order = True
    context.max_errored_blocks = -1
    data = ray.data.from_arrow_refs(blocks).map_batches(
        Actor,
        fn_constructor_args=(task, __version__),
        batch_size=None,
        batch_format="pyarrow",
        compute=ray.data.ActorPoolStrategy(size=workers),
        num_cpus=1,
        max_restarts=-1,
        max_task_retries=TRIES,
    )
    for table in data.iter_batches(batch_size=None, batch_format="pyarrow", prefetch_batches=1):
        for line in table["line"]:
            yield line.as_py()


@contextmanager
def _ray(workers: int, address: str | None) -> Iterator[None]:
    """Ray, quiet; started here for loopback alone where no address is given, and stopped again."""
    if ray.is_initialized():
        yield
        return
    os.environ["RAY_USAGE_STATS_ENABLED"] = "0"
    os.environ.setdefault("RAY_DATA_DISABLE_PROGRESS_BARS", "1")
    quiet: dict[str, Any] = {"logging_level": logging.ERROR, "log_to_driver": False}
    if address is None:
        ray.init(
            address="local", num_cpus=workers, include_dashboard=False, _node_ip_address=HERE, **quiet
        )
    else:
        ray.init(address=address, **quiet)
    logging.getLogger("ray.data").setLevel(logging.ERROR)
    try:
        yield
    finally:
        ray.shutdown()


def _some(rows: Iterable[Row], count: int) -> Iterator[list[Row]]:
    stream = iter(rows)
    while some := list(islice(stream, count)):
        yield some


def _block(rows: list[Row]) -> pyarrow.Table:
    return pyarrow.table({"row": pyarrow.array([as_json(row) for row in rows], pyarrow.large_binary())})
