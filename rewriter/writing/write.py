"""The annotated text in a style, and any style as a file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from rewriter.errors import Unusable
from rewriter.model import Air, Change, Plan, Query, Recipe
from rewriter.writing.registry import Job, find, styles

QUIET_BELOW_M = 762.0  # 2,500 ft: below it a recipe that needs nothing comes back as it is


def write(
    text: str,
    recipes: Sequence[Recipe],
    plans: Sequence[Plan],
    changes: Sequence[Change],
    queries: Sequence[Query],
    air: Air,
    style: str = "inline",
    explain: str = "short",
) -> str:
    r"""The pasted text, annotated in a style, with one block of notes at its end.

    ``changes`` are those of :func:`measure` for all recipes; ``queries`` the questions to show; ``explain`` is "short"
    or "full". Where there is nothing to say the text comes back unchanged. Raises Unusable (a ValueError) for
    an unknown style and for one that can only be saved as a file.

    >>> from rewriter.model import Note
    >>> recipe, plan = Recipe("Jam", "confection"), Plan(notes=(Note("caution", "Jars: nothing was changed."),))
    >>> shown = write("Jam\n", [recipe], [plan], [], [], Air(1981.2, 796.9, 93.4))
    >>> shown.splitlines()[3]
    'CAUTION: Jars: nothing was changed.'
    """
    chosen = find(style)
    if chosen.binary:
        raise Unusable(f"the {style} style is a file, not text", "save it to a path")
    done = render(Job(text, recipes, plans, changes, queries, air, explain), style)
    return done if isinstance(done, str) else done.decode("utf-8")


def silent(job: Job) -> bool:
    """Whether there is nothing to change, note or ask."""
    if job.changes or any(plan.edits or plan.later or plan.notes or plan.queries for plan in job.plans):
        return False
    return not job.queries or job.air.elevation_m < QUIET_BELOW_M


def offers_joined(changes: Sequence[Change]) -> list[Change]:
    """Changes with all that is offered for one amount made one: "2 cups plain flour + 1 Tbsp baking powder"."""
    out: list[Change] = []
    for change in changes:
        last = out[-1] if out else None
        if last and last.step == change.step == "offer" and (last.start, last.end) == (change.start, change.end):
            out[-1] = replace(last, new=f"{last.new} + {change.new.removeprefix('+ ')}")
        else:
            out.append(change)
    return out


def render(job: Job, style: str) -> str | bytes:
    """A job in a style: text, or bytes for the styles that are files."""
    chosen = find(style)
    if any(change.step == "offer" for change in job.changes):
        job = replace(job, changes=offers_joined(job.changes))
    if chosen.suffix.endswith((".txt", ".md")) and silent(job):
        return job.text
    return chosen.write(job)


def save(
    path: str | Path,
    text: str,
    recipes: Sequence[Recipe],
    plans: Sequence[Plan],
    changes: Sequence[Change],
    queries: Sequence[Query],
    air: Air,
    style: str | None = None,
    explain: str = "short",
) -> tuple[Path, ...]:
    """Write a style to a file, by default the one its ending names; gives the paths written.

    A style that does not carry the pasted text leaves it beside the file, as NAME.original.txt.
    """
    path = Path(path)
    chosen = find(style or _by_ending(path))
    done = render(Job(text, recipes, plans, changes, queries, air, explain), chosen.name)
    path.write_bytes(done if isinstance(done, bytes) else done.encode("utf-8", "surrogatepass"))
    if chosen.reversible:
        return (path,)
    beside = path.with_name(path.stem + ".original.txt")
    beside.write_bytes(text.encode("utf-8", "surrogatepass"))
    return path, beside


def _by_ending(path: Path) -> str:
    if path.suffix in ("", ".txt"):
        return "inline"
    return next((name for name in styles() if find(name).suffix == path.suffix), "inline")


def pasted(data: bytes) -> str | None:
    """The pasted text that a saved document carries, or None where it carries none that is proved."""
    from rewriter.writing.styled.docx import pasted as carried

    return carried(data)
