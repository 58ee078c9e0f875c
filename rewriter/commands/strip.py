"""``rewriter strip``: the recipe as it was pasted."""

from __future__ import annotations

import click

from rewriter.api import strip as strip_text
from rewriter.codec import encode
from rewriter.commands import streams


@click.command()
@streams.FILE
@click.option("-o", "--output", metavar="FILE", help="Write to a file instead of standard output.")
def strip(file: str, output: str | None) -> int:
    """Take the annotations out again.

    Reads FILE, or standard input, and prints the recipe as it was before it was annotated, byte for byte. A text
    without annotations comes back as it is.
    """
    text, was = streams.read_text(file)
    streams.write_bytes(encode(strip_text(text), was), output)
    return 0
