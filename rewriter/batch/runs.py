"""A whole batch: from an input to an output, a file of what is set aside and a report, going on where it was."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Generator, Iterable
from contextlib import closing
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from rewriter import __version__
from rewriter.batch.job import Row, Settings
from rewriter.batch.journal import Journal
from rewriter.batch.progress import Progress
from rewriter.batch.report import Report
from rewriter.batch.results import LinesSink, kind_of, opener
from rewriter.batch.sources import Folder, Source, source
from rewriter.batch.work import Annotate, Task
from rewriter.errors import Unusable

ENGINES = ("pool", "ray")
Engine = Callable[[Iterable[Row], Task], Generator[bytes, None, None]]


@dataclass(frozen=True, slots=True)
class Tally:
    """What became of a batch, and where it stands.

    recipes: rows in all. changed: those with changes. asked: those with open questions. asides: rows set aside.
    before: rows that an earlier, interrupted run had done. out, report, aside (None where nothing is): paths.
    """

    recipes: int
    changed: int
    asked: int
    asides: int
    before: int
    out: Path
    report: Path
    aside: Path | None


def run(
    path: str | Path,
    out: str | Path,
    settings: Settings,
    *,
    workers: int | None = None,
    engine: str = "pool",
    address: str | None = None,
    text_field: str = "text",
    id_field: str = "id",
    seconds: float = 60.0,
    afresh: bool = False,
    show: bool = False,
) -> Tally:
    """Annotate every recipe of a folder, JSON Lines, CSV or Parquet into another of these.

    workers: processes, or actors of Ray; as many as processors by default. engine: "pool" or "ray". address: of a Ray
    cluster; by default one is started here. seconds: a recipe that takes longer is set aside. show: progress
    on standard error. Interrupted and called again with the same input, output and settings, it goes on where it was;
    called again when all is done, it does nothing. afresh: begin again, over what an earlier run left or wrote.

    Processes are started from the main module: in a script, call it under ``if __name__ == "__main__":``.
    Raises Unusable where the input, the output or a setting cannot be used; a single row never raises anything.
    """
    settings.check()
    origin, out = source(Path(path), text_field, id_field), Path(out)
    kind = kind_of(out, isinstance(origin, Folder))
    _apart(origin.path, out)
    workers = workers if workers is not None else processors()
    if workers < 1:
        raise Unusable("a batch needs a worker", "give --workers 1 or more")
    work = _engine(engine, workers, seconds, address)
    job = _job(origin, kind, settings, text_field, id_field)
    finished = _finished(out, job, afresh)
    if finished is not None:
        return finished
    room = beside(out, ".unfinished")
    try:
        with Journal(room) as journal:
            before = journal.begin(job, afresh)
            with (
                Progress(origin.total, before, show) as progress,
                closing(work(origin.rows(before), Annotate(settings))) as lines,
            ):
                for line in lines:
                    journal.add(line)
                    progress.step()
            tally = _write(journal, out, opener(kind, settings.suffix(), settings.record == "whole"), before, job)
    except OSError as error:
        raise Unusable(
            f"{out} cannot be written: {error}", "mend that; the same command goes on where it was"
        ) from None
    shutil.rmtree(room)
    return tally


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def beside(out: Path, ending: str) -> Path:
    """A file or folder that belongs to an output.

    >>> beside(Path("recipes/annotated.csv"), ".look.md").as_posix()
    'recipes/annotated.csv.look.md'
    """
    return out.with_name(out.name + ending)


def _engine(name: str, workers: int, seconds: float, address: str | None) -> Engine:
    if name == "pool":
        from rewriter.batch import crew

        return lambda rows, task: crew.lines(rows, task, workers, seconds)
    if name == "ray":
        from rewriter.batch import cluster

        return lambda rows, task: cluster.lines(rows, task, workers, seconds, address)
    raise Unusable(f'there is no engine "{name}"', f"choose one of {', '.join(ENGINES)}")


def _apart(path: Path, out: Path) -> None:
    """Raise Unusable where input and output would be in each other's way, or the output has no place."""
    here, there = path.resolve(), out.resolve()
    if here == there or (path.is_dir() and here in there.parents) or there in here.parents:
        raise Unusable(f"{out} is the input, or one is inside the other", "name an output that stands apart from it")
    if not there.parent.is_dir():
        raise Unusable(f"the folder {out.parent} does not exist", "make it, or name another output")


def _job(origin: Source, kind: str, settings: Settings, text_field: str, id_field: str) -> dict[str, Any]:
    """All that the outcome depends on."""
    fields = {} if isinstance(origin, Folder) else {"text field": text_field, "id field": id_field}
    said = {name.replace("_", " "): value for name, value in asdict(settings).items()}
    return {"input": origin.digest(), "rows": origin.total, **fields, **said, "form": kind, "version": __version__}


def _finished(out: Path, job: dict[str, Any], afresh: bool) -> Tally | None:
    """The tally of a run that is done already. Raises Unusable where the output is of another run, or of none."""
    if not out.exists():
        return None
    try:
        known = json.loads(beside(out, ".job.json").read_text(encoding="utf-8"))
        tally = known.pop("tally")
    except (OSError, ValueError, KeyError):
        raise Unusable(f"{out} exists, and no batch wrote it", "name another output, so that nothing is lost") from None
    if afresh:
        return None
    if known != job:
        raise Unusable(f"{out} exists, and is not what this run would write", "name another, or give --afresh")
    shutil.rmtree(beside(out, ".unfinished"), ignore_errors=True)  # where it was ended after all was written
    aside = beside(out, ".aside.jsonl")
    return Tally(**tally, before=job["rows"], out=out, report=beside(out, ".look.md"), aside=_there(aside))


def _write(journal: Journal, out: Path, open_sink: Callable[[Path], Any], before: int, job: dict[str, Any]) -> Tally:
    """Everything from the journal, first in its folder, then in place; the output last, since it says all is done."""
    fresh, asides, look = (journal.folder / name for name in ("out", "asides", "look"))
    for left in (fresh, asides, look, journal.folder / "old"):
        _remove(left)
    sink, aside_sink = open_sink(fresh), LinesSink(asides)
    with Report(journal.folder) as report:
        for line in journal.lines():
            outcome = json.loads(line)
            report.add(outcome)
            (aside_sink if "error" in outcome else sink).add(outcome, line)
        sink.close()
        aside_sink.close()
        report.write(look, _heading(job))
    aside_path, look_path = beside(out, ".aside.jsonl"), beside(out, ".look.md")
    look.replace(look_path)
    _remove(aside_path)
    if report.asides:
        asides.replace(aside_path)
    if out.exists():  # of an earlier run, and wanted afresh
        out.replace(journal.folder / "old")
    counts = report.done, report.changed, report.asked, report.asides
    tally = Tally(*counts, before, out, look_path, _there(aside_path))
    beside(out, ".job.json").write_text(json.dumps({**job, "tally": _plain(tally)}, indent=1), encoding="utf-8")
    fresh.replace(out)
    return tally


def _heading(job: dict[str, Any]) -> str:
    place = job["elevation"] or job["barometer"] or f"where water boils at {job['boils at']}"
    return f"Annotated for {place} by the guide {job['guide']} ({job['strength']})."


def _plain(tally: Tally) -> dict[str, int]:
    return {name: getattr(tally, name) for name in ("recipes", "changed", "asked", "asides")}


def _there(path: Path) -> Path | None:
    return path if path.exists() else None


def _remove(path: Path) -> None:
    shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)
