"""``rewriter box``: a family's recipes in one file, cleaned up, found again, and kept bake by bake."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import TYPE_CHECKING

import click

from rewriter import asjson
from rewriter.collection import Box, Card, Query
from rewriter.commands import streams

if TYPE_CHECKING:
    from rewriter.collection.records import Added

FORM = click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
STRICT = click.option("--strict", is_flag=True, help="Exit with 1 where something must be looked at.")
pass_path = click.make_pass_decorator(str)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--box",
    "path",
    default="box.sqlite",
    show_default=True,
    envvar="REWRITER_BOX",
    metavar="FILE",
    help="The box (or set REWRITER_BOX).",
)
@click.pass_context
def box(ctx: click.Context, path: str) -> None:
    """Keep recipes in a box: one file, no server.

    RECIPE is a card's number, or words of its title. `rewriter box add` makes the box.
    """
    ctx.obj = path


@box.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@STRICT
@pass_path
def add(path: str, paths: tuple[str, ...], strict: bool) -> int:
    """Bring in files and folders of recipes.

    Text, Markdown, web pages, word-processor documents, PDF, photos, recipe data, and archives of them. Each file is
    kept byte for byte. What is in the box already is passed over, so an interrupted run is run again.
    """
    with Box(path) as opened, bar() as step:
        done = opened.add(paths, step)
    _added(done)
    return 1 if strict and (done.aside or done.without) else 0


@box.command()
@click.option("--merged", is_flag=True, help="Also those that stand behind a twin.")
@FORM
@pass_path
def cards(path: str, merged: bool, form: str) -> int:
    """List every card."""
    with Box(path, create=False) as opened:
        show_cards(opened.cards(merged), form)
    return 0


@box.command()
@click.argument("recipe")
@click.option("--revision", help="A revision, by its number or name.")
@click.option("--original", is_flag=True, help="The file the card came in, byte for byte.")
@click.option("-o", "--output", metavar="FILE", help="Write to a file instead of standard output.")
@pass_path
def show(path: str, recipe: str, revision: str | None, original: bool, output: str | None) -> int:
    """Print a card's text."""
    from rewriter.collection import lineage

    with Box(path, create=False) as opened:
        card = opened.card(recipe)
        if original:
            data = opened.original(card.number)
        elif revision is not None:
            data = lineage.revision(opened.store, card.number, revision).text.encode("utf-8", "surrogatepass")
        else:
            data = card.text.encode("utf-8", "surrogatepass")
        for words in opened.gaps(card.number):
            click.echo(f"missing: {words}", err=True)
    streams.write_bytes(data, output)
    return 0


@box.command()
@click.argument("recipe")
@click.argument("file", required=False)
@click.option("--note", default="", help="Why, kept with the revision.")
@pass_path
def edit(path: str, recipe: str, file: str | None, note: str) -> int:
    """Set a card's words right by hand, in your editor or from FILE (or -): a new revision; the original stays."""
    with Box(path, create=False) as opened:
        before = opened.card(recipe).text
        after = click.edit(before, extension=".txt") if file is None else streams.read_text(file)[0]
        number = None if after is None else opened.edit(recipe, after, note, seen=before)
    click.echo("nothing was changed" if number is None else f"revision {number} of card {recipe}")
    return 0


@box.command()
@click.argument("recipes", nargs=-1, metavar="[RECIPE...]")
@click.option("--yes", is_flag=True, help="Apply without asking.")
@click.option("--units", type=click.Choice(["short", "long", "as written"]), help="The family's manner, remembered.")
@click.option("--fractions", type=click.Choice(["typed", "vulgar", "as written"]), help="1/2 or ½, remembered.")
@click.option("--bullets", type=click.Choice(["none", "-", "*", "as written"]), help="Of lists, remembered.")
@pass_path
def tidy(
    path: str, recipes: tuple[str, ...], yes: bool, units: str | None, fractions: str | None, bullets: str | None
) -> int:
    """Clean cards up: show what would change, and change it on yes.

    Layout, units and fractions in the family's manner; scanning mended; old measures, words and ovens explained beside
    the original words; missing things named. The original stays as it came; cards for jars are not touched.
    """
    with Box(path, create=False) as opened:
        opened.manner(units=units, fractions=fractions, bullets=bullets)
        wanted = [opened.card(one) for one in recipes] if recipes else opened.cards()
        ask = sys.stdin.isatty() and not yes
        waiting = sum(_tidy_one(opened, card, yes, ask) for card in wanted)
    if waiting:
        click.echo(f"{waiting} cards would change; nothing is changed without --yes", err=True)
    return 0


@box.command()
@click.option("--like", default=0.72, show_default=True, help="How alike twins are, from 0 to 1.")
@FORM
@pass_path
def twins(path: str, like: float, form: str) -> int:
    """Find near-duplicates by their ingredients and amounts, and say what differs."""
    with Box(path, create=False) as opened:
        groups = opened.twins(like)
    if form == "json":
        click.echo(asjson.dumps(groups))
        return 0
    for group in groups:
        click.echo(f"{group.cards[0]}  {group.titles[0]}")
        for number, title, differs in zip(group.cards[1:], group.titles[1:], group.differences, strict=True):
            click.echo(f"{number}  {title}: {'; '.join(differs)}")
        click.echo(f"  (keep the first: rewriter box merge {' '.join(map(str, group.cards))})\n")
    return 0


@box.command()
@click.argument("keep", metavar="RECIPE")
@click.argument("others", nargs=-1, required=True, metavar="TWIN...")
@pass_path
def merge(path: str, keep: str, others: tuple[str, ...]) -> int:
    """Let twins stand behind one card. All originals stay."""
    with Box(path, create=False) as opened:
        opened.merge(keep, others)
    return 0


@box.command()
@click.argument("recipe")
@pass_path
def part(path: str, recipe: str) -> int:
    """Take a merged card out from behind its twin again."""
    with Box(path, create=False) as opened:
        opened.part(recipe)
    return 0


@box.command()
@click.argument("phrase", nargs=-1, metavar="[WORDS...]")
@click.option("--ingredient", "ingredients", multiple=True, help="It holds this. Repeatable.")
@click.option("--without", multiple=True, help="It does not hold this. Repeatable.")
@click.option("--kind", "kinds", multiple=True, help="Its kind of bake (cookie, quick-bread ...). Repeatable.")
@click.option("--role", "roles", multiple=True, help="It holds something of this role (syrup, cocoa ...). Repeatable.")
@click.option("--tried-at", default="", help='It was baked there: "8200 ft".')
@click.option("--outcome", default="", help="A bake of it worked, or failed.")
@click.option("--fault", default="", help='A bake of it did this: "sank".')
@FORM
@pass_path
def search(
    path: str,
    phrase: tuple[str, ...],
    ingredients: tuple[str, ...],
    without: tuple[str, ...],
    kinds: tuple[str, ...],
    roles: tuple[str, ...],
    tried_at: str,
    outcome: str,
    fault: str,
    form: str,
) -> int:
    """Find cards, by words or in a phrase.

    "yeast breads with honey", "cookies without nuts tried at 8200 ft that worked"; the options say the same.
    """
    from rewriter.collection.search import asked
    from rewriter.correcting.faults import fault as known_fault

    said = asked(" ".join(phrase))
    query = Query(
        said.words,
        (*said.ingredients, *ingredients),
        (*said.without, *without),
        kinds or said.kinds,
        roles,
        tried_at or said.elevation,
        outcome or said.outcome,
        known_fault(fault).name if fault else said.fault,
    )
    with Box(path, create=False) as opened:
        found = opened.search(query)
        show_cards(found, form)
    return 0


def show_cards(found: list[Card], form: str) -> None:
    """Cards as lines, or as JSON."""
    if form == "json":
        click.echo(asjson.dumps(found))
        return
    for card in found:
        jars = ", jars" if card.jars else ""
        behind = ", behind a twin" if card.merged_into else ""
        click.echo(f"{card.number:>5}  {card.title}  ({card.kind}{jars}{behind})")


@contextmanager
def bar() -> Iterator[Callable[[str, int, int], None] | None]:
    """A progress bar on standard error, on a terminal only."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("{task.description}", markup=False))
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task("", total=None)
        yield lambda name, count, total: shown.update(task, description=name[-50:], completed=count, total=total)


def _tidy_one(opened: Box, card: Card, yes: bool, ask: bool) -> int:
    """Show one card's changes, and apply them where it is said; 1 where they wait."""
    done = opened.tidy(card.number)
    if done.changed or done.gaps or done.left:
        click.echo(f"== {card.number}  {card.title}")
    for words in done.gaps:
        click.echo(f"missing: {words}")
    if done.left:
        click.echo(f"left as it is: {done.left}")
    if done.changed:
        _show_diff(done.diff())
    if yes or not done.changed or (ask and click.confirm("Change it?", default=False)):
        opened.apply(card.number, done)
        return 0
    return 1


def _show_diff(diff: str) -> None:
    colours = {"+": "green", "-": "red", "@": "cyan"}
    for line in diff.splitlines():
        click.echo(click.style(line, fg=colours.get(line[:1])))


def _added(done: Added) -> None:
    for name, why in done.aside:
        kept = ", kept" if name in done.kept else ""
        click.echo(f"not read{kept}: {name}: {why}", err=True)
    for name in done.without:
        click.echo(f"kept, without a recipe in it: {name}", err=True)
    for name, warning in done.warned:
        click.echo(f"look at {name}: {warning}", err=True)
    click.echo(
        f"{done.files} files: {len(done.cards)} recipes came in, {len(done.again)} files were here already, "
        f"{len(done.without)} hold no recipe, {len(done.aside)} could not be read"
    )


for _module in ("box_bakes", "box_keep"):
    import_module(f"rewriter.commands.{_module}").join(box)
