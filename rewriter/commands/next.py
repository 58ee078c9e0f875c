"""``rewriter next``: what to change after a bake that went wrong, as an annotated recipe."""

from __future__ import annotations

from typing import cast

import click

from rewriter import air as airs
from rewriter import asjson, correcting, writing
from rewriter.api import original
from rewriter.codec import encode
from rewriter.commands import streams
from rewriter.commands.where import kitchen_options, place
from rewriter.correcting.nextstep import Step
from rewriter.errors import Unusable
from rewriter.model import Air, Recipe, Strength


@click.command("next")
@streams.FILE
@kitchen_options
@click.option("--guide", default="practice", show_default=True, help="The table that the last bake was corrected by.")
@click.option("--fault", required=True, help='What went wrong, in your words: "sank in the middle", "dry", "pale".')
@click.option("--step", default=1, show_default=True, type=click.IntRange(1), help="How many steps to take.")
@streams.ANSWER
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def next_step(
    file: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    strength: str,
    guide: str,
    fault: str,
    step: int,
    answers: tuple[str, ...],
    form: str,
) -> int:
    """Say what to change next, one change at a time.

    Prints the recipe annotated for your elevation with the first step against the fault, or with as many as --step
    says. The steps after it are named in the block.
    """
    here, _ = place(elevation, barometer, boils_at)
    level, base, told = cast("Strength", strength), airs.from_elevation(written_for), streams.pairs(answers)
    text, was = streams.read_text(file)
    source, recipes, _ = original(text, told)
    recipe = recipes[0]
    wrong, steps = correcting.next_steps(recipe, here, base, fault, guide, level, told)
    if not steps:
        raise Unusable("nothing in this recipe is changed for your elevation", "its fault has another cause")
    if form == "json":
        shown = {"fault": wrong.name, "cause": wrong.cause, "steps": [plain(source, recipe, one) for one in steps]}
        streams.write_bytes((asjson.dumps(shown) + "\n").encode("utf-8", "surrogatepass"))
        return 0
    taken = steps[min(step, len(steps)) - 1]
    streams.write_bytes(encode(annotated(source, recipe, taken, here), was))
    if step > len(steps):
        click.echo(f"there are {len(steps)} steps against this fault: the last is shown", err=True)
    return 0


def annotated(source: str, recipe: Recipe, step: Step, here: Air) -> str:
    """The recipe with a step's plan written into it."""
    changes = writing.measure(source, recipe, step.plan)
    return writing.write(source, [recipe], [step.plan], changes, [], here)


def plain(source: str, recipe: Recipe, step: Step) -> dict[str, object]:
    """A step as plain values."""
    changes = writing.measure(source, recipe, step.plan)
    return {"text": step.text, "source": step.source, "changes": changes}
