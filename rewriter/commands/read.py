"""``rewriter read``: what the program reads in a recipe, as JSON."""

from __future__ import annotations

import click

from rewriter import asjson
from rewriter.api import original
from rewriter.commands import streams


@click.command()
@streams.FILE
@streams.ANSWER
@click.option("-o", "--output", metavar="FILE", help="Write to a file instead of standard output.")
@click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
def read(file: str, answers: tuple[str, ...], output: str | None, strict: bool) -> int:
    """Show as JSON what is read in a recipe.

    Every recipe with its ingredients, amounts, portions, heats, times and parts, and the questions it leaves open.
    Offsets count characters of the text, without annotations it may carry. No elevation is needed.
    """
    text, _ = streams.read_text(file)
    source, recipes, edited = original(text, streams.pairs(answers))
    shown = asjson.dumps({"source": source, "recipes": recipes, "review": edited})
    streams.write_bytes((shown + "\n").encode("utf-8", "surrogatepass"), output)
    return 1 if strict and (edited or any(recipe.queries for recipe in recipes)) else 0
