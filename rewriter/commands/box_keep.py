"""``rewriter box``: take everything out, back it up, check it, save what a damaged box still holds."""

from __future__ import annotations

import click

from rewriter.collection import Box
from rewriter.collection import salvage as salvaged

pass_path = click.make_pass_decorator(str)


def join(box: click.Group) -> None:
    """Add these commands to the group."""
    for command in (take_out, booklet, dump, load, backup, check, salvage):
        box.add_command(command)


@click.command("take-out")
@click.argument("folder")
@click.option("-e", "--elevation", help='For this kitchen: "8200 ft". Without it, the cards as they are.')
@click.option("--style", "styles", multiple=True, help="A style. Repeatable.  [default: every style]")
@pass_path
def take_out(path: str, folder: str, elevation: str | None, styles: tuple[str, ...]) -> int:
    """Write everything to a new folder: cards, every style, originals, and the whole box as JSON Lines."""
    from rewriter.commands.box import bar

    with Box(path, create=False) as opened, bar() as step:
        done = opened.take_out(folder, elevation, styles, step)
    for number, why in done.plain:
        click.echo(f"card {number} is there as it is, in no style: {why}", err=True)
    click.echo(f"{done.cards} cards, {done.files} files in {folder}")
    return 0


@click.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]")
@click.option("-e", "--elevation", required=True, help='For this kitchen: "8200 ft".')
@click.option("--title", default="", help="Its title.")
@click.option("--paper", default="letter", show_default=True, help="letter, a4, card-4x6 or card-5x8.")
@click.option("-o", "--output", required=True, metavar="FILE", help="The PDF to write.")
@pass_path
def booklet(path: str, recipes: tuple[str, ...], elevation: str, title: str, paper: str, output: str) -> int:
    """Print cards for a kitchen as one PDF; all of them where none is named."""
    with Box(path, create=False) as opened:
        numbers = [opened.card(one).number for one in recipes]
        count = opened.booklet(output, elevation, numbers=numbers, title=title, paper=paper)
    click.echo(f"{count} cards in {output}", err=True)
    return 0


@click.command()
@click.argument("file")
@pass_path
def dump(path: str, file: str) -> int:
    """Write the whole box as JSON Lines, which `rewriter box load` reads back whole."""
    with Box(path, create=False) as opened:
        click.echo(f"{opened.dump(file)} lines in {file}", err=True)
    return 0


@click.command()
@click.argument("file")
@pass_path
def load(path: str, file: str) -> int:
    """Read a dump back; what the box has already stays as it is."""
    with Box(path) as opened:
        done = opened.load(file)
    told = f"{done.originals} originals, {done.recipes} recipes, {done.revisions} revisions, {done.bakes} bakes came in"
    click.echo(told, err=True)
    return 0


@click.command()
@click.argument("file")
@pass_path
def backup(path: str, file: str) -> int:
    """Copy the box to another file, also while it is in use."""
    with Box(path, create=False) as opened:
        opened.backup(file)
    return 0


@click.command()
@pass_path
def check(path: str) -> int:
    """Look whether the box is sound. Exits with 1 where it is not."""
    from rewriter.collection import Damaged

    try:
        with Box(path, create=False) as opened:
            wrong = opened.check()
            numbers = opened.numbers()
    except Damaged as error:
        click.echo(str(error), err=True)
        return 1
    for words in wrong:
        click.echo(words, err=True)
    if wrong:
        click.echo("save what can be saved: rewriter box salvage SAVED.sqlite", err=True)
        return 1
    click.echo(
        f"sound: {numbers.originals} originals, {numbers.recipes} recipes, {numbers.revisions} revisions, "
        f"{numbers.bakes} bakes"
    )
    return 0


@click.command()
@click.argument("saved")
@pass_path
def salvage(path: str, saved: str) -> int:
    """Save what can be saved of a damaged box in a new one. Exits with 1 where something is lost."""
    done = salvaged(path, saved)
    for words in done.lost:
        click.echo(words, err=True)
    click.echo(f"saved in {saved}: " + ", ".join(f"{count} {table}" for table, count in done.saved.items()))
    return 1 if done.lost else 0
