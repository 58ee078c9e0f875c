"""``rewriter overlay``: a printed recipe, annotated on its own page."""

from __future__ import annotations

from pathlib import Path

import click

from rewriter.commands import streams
from rewriter.commands.annotate import HOW
from rewriter.errors import Unusable


@click.command()
@click.argument("file", metavar="FILE")
@click.option("-e", "--elevation", help='Where the kitchen is: "6500 ft" or "1981 m".')
@click.option("--barometer", help='Station pressure there: "796.9 hPa" or "23.53 inHg".')
@click.option("--boils-at", help='Where plain water boils there: "200 F" or "93.4 C".')
@click.option("--written-for", default="0 ft", show_default=True, help="The elevation the recipe was written for.")
@click.option("--guide", default="practice", show_default=True, help="The table to correct by.")
@click.option("--strength", default="middle", show_default=True, help="gentle, middle or full.")
@click.option("--explain", type=click.Choice(["short", "full"]), default="short", show_default=True)
@click.option(
    "--notes",
    type=click.Choice(["auto", "below", "page"]),
    default="auto",
    show_default=True,
    help="Where the notes go: on a strip below the recipe, on a page of their own, or as it fits.",
)
@streams.ANSWER
@click.option("-o", "--output", required=True, metavar="FILE", help="The PDF to write.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
def overlay(
    file: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    guide: str,
    strength: str,
    explain: str,
    notes: str,
    answers: tuple[str, ...],
    output: str,
    strict: bool,
) -> int:
    """Annotate a printed recipe on its own page.

    FILE is a PDF or a photo of a recipe. Each new amount is written in a free place near the old one, with a fine
    leader to it; the notes stand below or on a second page. What a machine read from a picture is checked: an amount
    that cannot well be meant is left as it is and asked about; answer with the line as the card has it:
    --answer "card@7=1/2 cup butter".
    """
    if elevation is None and barometer is None and boils_at is None:
        raise Unusable("it is not said where the kitchen is", HOW)
    if output != "-" and Path(output).resolve() == Path(file).resolve():
        raise Unusable("--output is the recipe itself", "choose another file, so that the original stays")
    from rewriter.further import overlay_page

    page = overlay_page(
        file,
        elevation,
        written_for,
        guide,
        strength,
        streams.pairs(answers),
        explain=explain,
        notes=notes,
        barometer=barometer,
        boils_at=boils_at,
    )
    streams.write_bytes(page.pdf, output)
    for warning in page.warnings:
        click.echo(warning, err=True)
    for query in page.review:
        choices = f" ({' / '.join(query.choices)})" if query.choices else ""
        click.echo(f"look at {query.id}: {query.question}{choices}", err=True)
    return 1 if strict and page.review else 0
