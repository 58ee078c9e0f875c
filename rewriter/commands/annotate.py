"""``rewriter annotate``: a recipe, annotated in place for one kitchen."""

from __future__ import annotations

from pathlib import Path

import click

from rewriter import asjson
from rewriter.api import STYLE_OF, Result, kitchen, rewrite
from rewriter.codec import Form, encode
from rewriter.commands import streams
from rewriter.errors import Unusable
from rewriter.writing.registry import find

HOW = (
    'find it on a map, a town sign or a phone and give --elevation "6500 ft", or a barometer\'s station pressure as '
    '--barometer "796.9 hPa", or where plain water boils as --boils-at "200 F"'
)


@click.command()
@streams.FILE
@click.option("-e", "--elevation", help='Where the kitchen is: "6500 ft" or "1981 m".')
@click.option(
    "--barometer", help='Station pressure there: "796.9 hPa" or "23.53 inHg"; not a weather report\'s figure.'
)
@click.option("--boils-at", help='Where plain water boils there: "200 F" or "93.4 C".')
@click.option("--written-for", default="0 ft", show_default=True, help="The elevation the recipe was written for.")
@click.option("--guide", default="practice", show_default=True, help="The table to correct by.")
@click.option("--strength", default="middle", show_default=True, help="gentle, middle or full.")
@click.option("--style", help="How the annotations are written.  [default: inline, or by the suffix of --output]")
@click.option(
    "--explain", type=click.Choice(["short", "full"]), default="short", show_default=True, help="Length of the block."
)
@streams.ANSWER
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("-o", "--output", metavar="FILE", help="Write to a file instead of standard output.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
def annotate(
    file: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    guide: str,
    strength: str,
    style: str | None,
    explain: str,
    answers: tuple[str, ...],
    form: str,
    output: str | None,
    strict: bool,
) -> int:
    """Annotate a recipe for your elevation.

    Reads FILE, or standard input, and prints the same recipe, word for word, with every amount, temperature and time
    that altitude changes marked where it stands, and one block after it that says why.
    """
    chosen = streams.pairs(answers)
    if output and output != "-" and file != "-" and Path(output).resolve() == Path(file).resolve():
        raise Unusable("--output is the recipe itself", "choose another file, so that the original stays")
    if elevation is None and barometer is None and boils_at is None:
        raise Unusable("it is not said where the kitchen is", HOW)
    kitchen(elevation, barometer, boils_at)  # complains, where it must, before anything is pasted
    text, was = streams.read_text(file)
    result = rewrite(
        text,
        elevation,
        written_for,
        guide,
        strength,
        style or "inline",
        chosen,
        explain=explain,
        barometer=barometer,
        boils_at=boils_at,
    )
    if form == "json":
        streams.write_bytes((asjson.dumps(result.to_dict()) + "\n").encode("utf-8", "surrogatepass"), output)
    else:
        _write(result, was, style, output)
        for query in result.review:
            click.echo(f"look at {query.id}: {query.question}{_choices(query.choices)}", err=True)
    return 1 if strict and result.review else 0


def _write(result: Result, was: Form, style: str | None, output: str | None) -> None:
    """Write the text in the form the file had, or the style that the output's suffix asks for."""
    suffix = Path(output or "").suffix.lower()
    named = style is None and (suffix in STYLE_OF or suffix == ".json")
    if output and output != "-" and (named or not find(result.style).reversible or find(result.style).binary):
        streams.write_whole(Path(output), lambda path: result.save(path, style))
    elif find(result.style).binary:
        raise Unusable(f"the style {result.style} is a file, not text", "name the file with --output")
    else:
        streams.write_bytes(_encoded(result, was), output)


def _encoded(result: Result, was: Form) -> bytes:
    """In the file's own encoding; where that has no arrow, with marks in plain ASCII."""
    try:
        return encode(result.text, was)
    except UnicodeEncodeError:
        if result.style == "inline":
            return encode(result.restyled("ascii"), was)
        click.echo(f"the encoding {was.encoding} lacks a sign of this style: written as UTF-8", err=True)
        return encode(result.text, Form())


def _choices(choices: tuple[str, ...]) -> str:
    return f" ({' / '.join(choices)})" if choices else ""
