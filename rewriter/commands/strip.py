"""``rewriter strip``: the recipe as it was pasted."""

from __future__ import annotations

import click

from rewriter.codec import encode
from rewriter.commands import streams
from rewriter.writing import strip_report


@click.command()
@streams.FILE
@click.option(
    "--best", is_flag=True, help="Where a person edited the annotations, print the best reading of the original."
)
@click.option("-o", "--output", metavar="FILE", help="Write to a file instead of standard output.")
@click.option("--strict", is_flag=True, help="Exit with 1 where the annotations were edited.")
def strip(file: str, best: bool, output: str | None, strict: bool) -> int:
    """Take the annotations out again.

    Reads FILE, or standard input, and prints the recipe as it was before it was annotated, byte for byte. A text
    without annotations comes back as it is; so does one whose annotations a person edited, and it is said.
    """
    text, was = streams.read_text(file)
    report = strip_report(text)
    taken = report.best if best and report.best is not None else report.text
    streams.write_bytes(encode(taken, was), output)
    if not report.intact:
        offer = "" if best or report.best is None else " Its best reading of the original: --best."
        click.echo(report.message + offer, err=True)
    return 1 if strict and not report.intact else 0
