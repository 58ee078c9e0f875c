"""The same task run by actors of Ray Data (the extra ``cluster``): a cluster's, or two or more started here.

Rows travel as blocks of lines of JSON in Ray's object store; each actor loads the pipeline once. Ray gives the work of
an actor that died to another; whatever it still fails to bring back, or brings twice, is mended here: every row has
one line, in the order of the rows.
"""

from __future__ import annotations

import faulthandler
import logging
import os
import sys
import warnings
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import ExitStack, contextmanager, redirect_stdout
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from rewriter import __version__
from rewriter.batch import crew
from rewriter.batch.job import Row, as_json, row_of
from rewriter.batch.work import Task
from rewriter.errors import Unusable

if TYPE_CHECKING:
    import pyarrow

BLOCK = 128  # rows: about half a second's work
TRIES = 1  # times that Ray gives a block out again, where an actor died over it, before it is left to us
HERE = "127.0.0.1"
ALONE = "RAY_ENABLE_WINDOWS_OR_OSX_CLUSTER"  # at 0, Ray keeps to the loopback, on every system


class Actor:
    """A loaded pipeline: takes a block of rows, gives a block of lines; ends itself over a row that takes long."""

    def __init__(self, task: Task, version: str, seconds: float) -> None:
        if version != __version__:
            raise RuntimeError(f"this node has rewriter {__version__}, and the batch is of {version}")
        self.task, self.seconds = task, seconds
        self.nowhere = Path(os.devnull).open("w")  # noqa: SIM115  # as long as the actor lives
        task.warm()

    def __call__(self, block: pyarrow.Table) -> pyarrow.Table:
        """The column "row" of JSON into a column "line" of JSON, row by row."""
        import pyarrow

        found = [self._timed(row_of(row.as_py())) for row in block["row"]]
        return pyarrow.table({"line": pyarrow.array(found, pyarrow.large_binary())})

    def _timed(self, row: Row) -> bytes:
        faulthandler.dump_traceback_later(self.seconds, exit=True, file=self.nowhere)
        try:
            return self.task(row)
        finally:
            faulthandler.cancel_dump_traceback_later()


def lines(
    rows: Iterable[Row],
    task: Task,
    workers: int,
    seconds: float = 60.0,
    address: str | None = None,
    block: int = BLOCK,
) -> Generator[bytes, None, None]:
    """A line for every row, in their order, by Ray Data. Numbers of rows follow one another without a gap.

    seconds: for a row. address: of a cluster on whose nodes the same version of rewriter is installed; None starts
    Ray on this machine, in reach of nobody else, and stops it at the end.
    """
    with started(workers, address) as ray:
        blocks = [ray.put(_block(some)) for some in _some(rows, block)]
        if not blocks:
            return
        first = _row(ray.get(blocks[0]), 0).number
        last = _row(ray.get(blocks[-1]), -1).number + 1

        def mend(start: int, end: int) -> Iterator[bytes]:
            places = (divmod(number - first, block) for number in range(start, end))
            return crew.lines((_row(ray.get(blocks[at]), place) for at, place in places), task, 1, seconds)

        yield from in_order(_run(ray, blocks, (task, __version__, seconds), workers), first, last, mend)


def _row(block: pyarrow.Table, place: int) -> Row:
    return row_of(block["row"][place].as_py())


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


def _run(ray: Any, blocks: list[Any], made_with: tuple[Any, ...], workers: int) -> Iterator[bytes]:
    """Lines as Ray Data brings them: in order, but for blocks it has given up."""
    context = ray.data.DataContext.get_current()
    context.enable_progress_bars = False
    context.execution_options.preserve_order = True
    context.max_errored_blocks = -1
    actors = ray.data.ActorPoolStrategy(size=workers)
    with warnings.catch_warnings():  # Ray means to name these two one day
        warnings.simplefilter("ignore", DeprecationWarning)
        data = ray.data.from_arrow_refs(blocks).map_batches(
            Actor,
            fn_constructor_args=made_with,
            batch_size=None,
            batch_format="pyarrow",
            compute=actors,
            num_cpus=1,
            max_restarts=-1,
            max_task_retries=TRIES,
        )
    for table in data.iter_batches(batch_size=None, batch_format="pyarrow", prefetch_batches=1):
        for line in table["line"]:
            yield line.as_py()


@contextmanager
def started(workers: int, address: str | None = None) -> Iterator[Any]:
    """Ray, quiet; started here for loopback alone where no address is given, and stopped again.

    Raises Unusable where no cluster answers at the address, or Ray would be in reach of others.
    """
    if "ray" in sys.modules and sys.modules["ray"].is_initialized():
        yield sys.modules["ray"]
        return
    os.environ.update(RAY_USAGE_STATS_ENABLED="0", RAY_BACKEND_LOG_LEVEL="fatal", RAY_DEDUP_LOGS="0")
    if address is None:
        os.environ[ALONE] = "0"
    import ray
    import ray.data

    quiet: dict[str, Any] = {"logging_level": logging.ERROR, "log_to_driver": False}
    with ExitStack() as held:
        try:
            if address is None:
                _alone()
                room = held.enter_context(TemporaryDirectory(prefix="ray-", ignore_cleanup_errors=True))
                here: dict[str, Any] = {"_node_ip_address": HERE, "_temp_dir": room, "include_dashboard": False}
                ray.init("local", num_cpus=workers, **here, **quiet)
            else:
                ray.init(address, **quiet)
        except ConnectionError as error:
            raise Unusable(f"no Ray cluster answers at {address}: {error}", "check the address") from None
        held.callback(ray.shutdown)
        logging.getLogger("ray.data").setLevel(logging.CRITICAL)  # blocks it gives up are mended here
        with redirect_stdout(sys.stderr):  # where Ray tells of processes that died
            yield ray


def _alone() -> None:
    """Raise Unusable where Ray would listen on the network: its name for this machine must be the loopback's."""
    from ray.util import get_node_ip_address

    if get_node_ip_address() != HERE:  # type: ignore[no-untyped-call]
        raise Unusable("Ray was loaded before, and would listen on the network", f"set {ALONE}=0 before it is imported")


def _some(rows: Iterable[Row], count: int) -> Iterator[list[Row]]:
    stream = iter(rows)
    while some := list(islice(stream, count)):
        yield some


def _block(rows: list[Row]) -> pyarrow.Table:
    import pyarrow

    return pyarrow.table({"row": pyarrow.array([as_json(row) for row in rows], pyarrow.large_binary())})
