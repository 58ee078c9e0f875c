"""``rewriter box``: bakes, revisions, and what a kitchen's bakes say."""

from __future__ import annotations

import click

from rewriter import asjson
from rewriter.collection import Box
from rewriter.collection.lineage import called, feet
from rewriter.errors import Unusable

pass_path = click.make_pass_decorator(str)
FORM = click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)


def join(box: click.Group) -> None:
    """Add these commands to the group."""
    for command in (bake, bakes, revisions, compare, name, carry, kitchen):
        box.add_command(command)


@click.command()
@click.argument("recipe")
@click.option("-e", "--elevation", help='Where it was baked: "8200 ft" or "2499 m".')
@click.option("--barometer", help='Station pressure there: "745 hPa" or "22 inHg".')
@click.option("--boils-at", help='Where plain water boils there: "197 F".')
@click.option("--date", "day", default="", help="The day, as 2026-03-31.  [default: today]")
@click.option("--changed", default="", help='What was done otherwise: "baking powder 1 1/2 tsp; oven 365 F".')
@click.option("--fault", "faults", multiple=True, help='What went wrong: "sank in the middle". Repeatable.')
@click.option("--rating", type=click.IntRange(1, 5), help="1 to 5.")
@click.option("--outcome", type=click.Choice(["worked", "failed"]), help="Where rating and faults do not tell.")
@click.option("--note", default="", help="In your own words.")
@click.option("--photo", metavar="FILE", help="A photo of it.")
@click.option("--revision", help="Which revision was baked.  [default: the newest for this elevation]")
@click.option("--written-for", default="0 ft", show_default=True, help="The elevation the card was written for.")
@click.option("--guide", default="practice", show_default=True, help="The table to fit the card by.")
@pass_path
def bake(
    path: str,
    recipe: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    day: str,
    changed: str,
    faults: tuple[str, ...],
    rating: int | None,
    outcome: str | None,
    note: str,
    photo: str | None,
    revision: str | None,
    written_for: str,
    guide: str,
) -> int:
    """Write a bake down, and see what to do next.

    Where it went wrong the next step follows from the fault, one change at a time, as a new revision on the recipe's
    own line.
    """
    with Box(path, create=False) as opened:
        done = opened.bake(
            recipe,
            elevation,
            barometer=barometer,
            boils_at=boils_at,
            day=day,
            changed=changed,
            faults=faults,
            rating=rating,
            outcome=outcome or "",
            note=note,
            photo=photo,
            revision=revision,
            written_for=written_for,
            guide=guide,
        )
    kept = done.bake
    click.echo(f"kept: revision {kept.revision} at {feet(kept.elevation_m)} on {kept.day}, {kept.outcome}")
    for words in done.words:
        click.echo(words)
    if done.next is not None:
        click.echo(f"{called(done.next)}: rewriter box show {kept.recipe} --revision {done.next.number}")
    return 0


@click.command()
@click.argument("recipe", required=False)
@FORM
@pass_path
def bakes(path: str, recipe: str | None, form: str) -> int:
    """List the bakes of a recipe, or of the whole box."""
    with Box(path, create=False) as opened:
        found = opened.bakes(recipe)
    if form == "json":
        click.echo(asjson.dumps([{**asjson.plain(one), "photo": one.photo is not None} for one in found if one]))
        return 0
    for one in found:
        rating = f", {one.rating} of 5" if one.rating else ""
        faults = f": {', '.join(one.faults)}" if one.faults else ""
        changed = f"; changed: {one.changed}" if one.changed else ""
        note = f"; {one.note}" if one.note else ""
        where = f"card {one.recipe}, revision {one.revision} at {feet(one.elevation_m)}"
        click.echo(f"{one.day}  {where}  {one.outcome}{rating}{faults}{changed}{note}")
    return 0


@click.command()
@click.argument("recipe")
@FORM
@pass_path
def revisions(path: str, recipe: str, form: str) -> int:
    """List a recipe's revisions, from the text that was found."""
    with Box(path, create=False) as opened:
        found = opened.revisions(recipe)
    if form == "json":
        click.echo(asjson.dumps(found))
        return 0
    for one in found:
        click.echo(called(one) + (f" ({one.note})" if one.note else ""))
    return 0


@click.command()
@click.argument("recipe")
@click.argument("one")
@click.argument("other")
@pass_path
def compare(path: str, recipe: str, one: str, other: str) -> int:
    """Show what changes from one revision to another."""
    with Box(path, create=False) as opened:
        told = opened.compare(recipe, one, other)
    click.echo(told or "the two are the same")
    return 0


@click.command()
@click.argument("recipe")
@click.argument("revision")
@click.argument("words")
@pass_path
def name(path: str, recipe: str, revision: str, words: str) -> int:
    """Name a revision: "our 8,200 ft version"."""
    with Box(path, create=False) as opened:
        click.echo(called(opened.name(recipe, revision, words)))
    return 0


@click.command()
@click.argument("recipe")
@click.option("--from", "origin", required=True, help='Where it worked: "8200 ft".')
@click.option("--to", required=True, help='Where it is to be baked: "6500 ft".')
@pass_path
def carry(path: str, recipe: str, origin: str, to: str) -> int:
    """Carry what worked at one elevation to another, by the guides; it is marked as not tried there."""
    with Box(path, create=False) as opened:
        click.echo(called(opened.carry(recipe, origin, to)))
    return 0


@click.command()
@click.option("-e", "--elevation", help='Only bakes near this elevation: "8200 ft".')
@FORM
@pass_path
def kitchen(path: str, elevation: str | None, form: str) -> int:
    """Show how this kitchen's successes differ from the guide, and how many bakes say so."""
    with Box(path, create=False) as opened:
        habits = opened.kitchen(elevation)
    if form == "json":
        click.echo(asjson.dumps(habits))
        return 0
    if not habits:
        raise Unusable("no bake here has worked otherwise than by the guide", "write bakes down with rewriter box bake")
    for habit in habits:
        click.echo(habit.words)
    return 0
