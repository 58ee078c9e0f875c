"""``rewriter batch``: a folder, JSON Lines, CSV or Parquet of recipes, annotated for one kitchen."""

from __future__ import annotations

from pathlib import Path

import click

from rewriter.batch import Settings, Tally
from rewriter.batch import run as run_batch
from rewriter.commands.annotate import HOW
from rewriter.errors import Unusable


@click.command()
@click.argument("path", metavar="IN")
@click.argument("out", metavar="OUT")
@click.option("-e", "--elevation", help='Where the kitchen is: "6500 ft" or "1981 m".')
@click.option("--barometer", help='Station pressure there: "796.9 hPa" or "23.53 inHg".')
@click.option("--boils-at", help='Where plain water boils there: "200 F" or "93.4 C".')
@click.option("--written-for", default="0 ft", show_default=True, help="The elevation the recipes were written for.")
@click.option("--guide", default="practice", show_default=True, help="The table to correct by.")
@click.option("--strength", default="middle", show_default=True, help="gentle, middle or full.")
@click.option("--style", default="inline", show_default=True, help="How the annotations are written.")
@click.option(
    "--explain", type=click.Choice(["short", "full"]), default="short", show_default=True, help="Length of the block."
)
@click.option(
    "--record",
    type=click.Choice(["short", "whole"]),
    default="short",
    show_default=True,
    help="What a row of the output holds; whole adds everything that was read.",
)
@click.option("--text-field", default="text", show_default=True, help="The field or column that holds the recipe.")
@click.option("--id-field", default="id", show_default=True, help="The field or column that names it.")
@click.option("--workers", type=click.IntRange(min=1), help="Processes at work.  [default: one for each processor]")
@click.option("--limit", type=click.FloatRange(min=1), default=60, show_default=True, help="Seconds for one recipe.")
@click.option(
    "--engine", type=click.Choice(["pool", "ray"]), default="pool", show_default=True, help="What runs the workers."
)
@click.option("--address", help="A Ray cluster to use.  [default: one started here, on this machine alone]")
@click.option("--afresh", is_flag=True, help="Begin again, over what an earlier run left or wrote.")
@click.option("--quiet", is_flag=True, help="No progress on standard error.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
def batch(
    path: str,
    out: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    guide: str,
    strength: str,
    style: str,
    explain: str,
    record: str,
    text_field: str,
    id_field: str,
    workers: int | None,
    limit: float,
    engine: str,
    address: str | None,
    afresh: bool,
    quiet: bool,
    strict: bool,
) -> int:
    """Annotate a collection of recipes for your elevation.

    IN is a folder of files, or JSON Lines, CSV or Parquet with a recipe a row; OUT is a folder for a folder, or
    a file that ends in .jsonl, .csv or .parquet. Beside OUT stand a report of what needs a look (OUT.look.md) and
    the rows that were set aside with their errors (OUT.aside.jsonl). Interrupted, and run again, it goes on.
    """
    if elevation is None and barometer is None and boils_at is None:
        raise Unusable("it is not said where the kitchen is", HOW)
    if address is not None and engine != "ray":
        raise Unusable("only --engine ray has an --address", "leave one out")
    settings = Settings(elevation, barometer, boils_at, written_for, guide, strength, style, explain, record)
    try:
        tally = run_batch(
            path,
            out,
            settings,
            workers=workers,
            engine=engine,
            address=address,
            text_field=text_field,
            id_field=id_field,
            seconds=limit,
            afresh=afresh,
            show=not quiet,
        )
    except KeyboardInterrupt:
        click.echo("interrupted; the same command goes on where it was", err=True)
        raise
    for line in _told(tally):
        click.echo(line, err=True)
    return 1 if strict and (tally.asked or tally.asides) else 0


def _told(tally: Tally) -> list[str]:
    earlier = f", {tally.before:,} of them by an earlier run" if tally.before else ""
    changed = f"{tally.changed:,} with changes, {tally.asked:,} with questions, {tally.asides:,} set aside"
    told = [f"{tally.recipes:,} recipes{earlier}: {changed}", f"annotated: {Path(tally.out)}", f"look: {tally.report}"]
    return [*told, f"set aside: {tally.aside}"] if tally.aside else told
