"""``rewriter print``: recipes on pages or cards, as one PDF."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from rewriter.api import Result, rewrite
from rewriter.commands import streams
from rewriter.commands.annotate import HOW
from rewriter.errors import Unusable
from rewriter.further import job_of
from rewriter.model import Air
from rewriter.writing.registry import Job

if TYPE_CHECKING:
    from rewriter.intake import Taken
    from rewriter.writing.print import Curve

PAPERS = ("letter", "a4", "card-4x6", "card-5x8")
# what a guide has a row for: title, unit of its figures, and how many of them one is
CHARTS = {
    "leavener": ("Leavener, less", "% of it", 100),
    "sugar": ("Sugar, less", "Tbsp from each cup", 16),
    "liquid": ("Liquid, more", "Tbsp for 2 1/2 cups flour", 1),
    "oven": ("Oven, hotter", "degrees F", 1),
    "yeast": ("Yeast, less", "% of it", 100),
    "hydration": ("Water in bread, more", "% of the flour", 100),
}


@click.command("print")
@click.argument("files", nargs=-1, required=True, metavar="FILE...")
@click.option("-e", "--elevation", help='Where the kitchen is: "6500 ft" or "1981 m".')
@click.option("--barometer", help='Station pressure there: "796.9 hPa" or "23.53 inHg".')
@click.option("--boils-at", help='Where plain water boils there: "200 F" or "93.4 C".')
@click.option("--written-for", default="0 ft", show_default=True, help="The elevation the recipes were written for.")
@click.option("--guide", default="practice", show_default=True, help="The table to correct by.")
@click.option("--strength", default="middle", show_default=True, help="gentle, middle or full.")
@click.option("--explain", type=click.Choice(["short", "full"]), default="short", show_default=True)
@click.option("--paper", type=click.Choice(PAPERS), default="letter", show_default=True, help="Pages or index cards.")
@click.option("--title", default="", help="Title of a booklet of several recipes.")
@click.option("--only-recipe", is_flag=True, help="Leave out what stands around a recipe: greetings, comments.")
@click.option("--guide-page", is_flag=True, help="Add a last page: the guide by elevation, as a picture.")
@click.option("-o", "--output", required=True, metavar="FILE", help="The PDF to write.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
def print_(
    files: tuple[str, ...],
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    guide: str,
    strength: str,
    explain: str,
    paper: str,
    title: str,
    only_recipe: bool,
    guide_page: bool,
    output: str,
    strict: bool,
) -> int:
    """Print recipes for your elevation as a PDF.

    Each FILE is a recipe, a folder of recipes or an archive of them. Old amounts are struck, the new ones stand beside
    them in bold. Several recipes become a booklet with contents; on cards, each recipe begins a card.
    """
    if elevation is None and barometer is None and boils_at is None:
        raise Unusable("it is not said where the kitchen is", HOW)
    jobs: list[Job] = []
    skipped = 0
    for name, taken in _each(files):
        try:
            if isinstance(taken, Exception):
                raise taken
            result = rewrite(
                taken.text,
                elevation,
                written_for,
                guide,
                strength,
                explain=explain,
                barometer=barometer,
                boils_at=boils_at,
            )
            jobs.append(_trusted(result, taken))
        except Unusable as error:
            skipped += 1
            click.echo(f"left out: {name}: {error}", err=True)
        except ModuleNotFoundError as error:
            skipped += 1
            click.echo(f"left out: {name}: to read it needs {error.name}; pip install 'rewriter[photo,docs]'", err=True)
    if not jobs:
        raise Unusable("no recipe is left to print", "see the lines above")
    from rewriter.writing.print import book

    curves = guide_curves(guide, strength, jobs[0].air) if guide_page else []
    streams.write_bytes(book(jobs, paper, title, curves, not only_recipe), output)
    for job in jobs:
        for query in job.queries:
            click.echo(f"look at {query.id} in {job.recipes[0].title or 'a recipe'}: {query.question}", err=True)
    return 1 if strict and (skipped or any(job.queries for job in jobs)) else 0


def _trusted(result: Result, taken: Taken) -> Job:
    """What to print: where a machine read the words, without the changes that rest on amounts in doubt."""
    job = job_of(result)
    if not taken.pages or result.source != taken.text:
        return job
    from rewriter.overlay import checked

    return checked(job, taken)


def guide_curves(guide: str, strength: str, air: Air) -> list[Curve]:
    """The rows of a guide over elevation, for its picture."""
    from rewriter.correcting.guide import load
    from rewriter.writing.print import Curve

    table = load(guide)
    feet = air.elevation_ft or Fraction(air.elevation_m / 0.3048)
    out = []
    for what, (title, unit, times) in CHARTS.items():
        if what in table.rows:
            row = table.rows[what]
            points = tuple((float(at), float(figure * times)) for at, figure in row.lines[strength])
            out.append(Curve(title, unit, points, float(row.at(feet, strength) * times)))
    return out


def _each(files: tuple[str, ...]) -> Iterator[tuple[str, Taken | Exception]]:
    """The name of every file, in order, and what it holds or what is wrong with it; in a folder, of all in it."""
    from rewriter import intake

    for file in files:
        if file == "-":
            yield "standard input", intake.Taken(streams.read_text("-")[0])
            continue
        folder = Path(file).is_dir()
        paths = sorted(path for path in Path(file).rglob("*") if _wanted(path, Path(file))) if folder else [Path(file)]
        for path in paths:
            for one in intake.take_each(path):
                if isinstance(one, tuple):
                    yield one[0], one[2]
                else:
                    yield one.origin or path.name, one


def _wanted(path: Path, folder: Path) -> bool:
    return path.is_file() and not any(part.startswith(".") for part in path.relative_to(folder).parts)
