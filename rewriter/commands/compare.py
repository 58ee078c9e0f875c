"""``rewriter compare``: one recipe by the four guides, side by side."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any, cast

import click

from rewriter import air as airs
from rewriter import asjson, correcting, writing
from rewriter.api import original
from rewriter.commands import streams
from rewriter.commands.tables import table
from rewriter.commands.where import kitchen_options, place
from rewriter.correcting.comparison import Compared, Comparison
from rewriter.errors import Unusable
from rewriter.model import Air, Edit, Plan, Recipe, Strength


@click.command()
@streams.FILE
@kitchen_options
@streams.ANSWER
@click.option("--plot", metavar="FILE", help="Draw the guides against elevation, as FILE.svg or FILE.png.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def compare(
    file: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    strength: str,
    answers: tuple[str, ...],
    plot: str | None,
    form: str,
) -> int:
    """Set the guides side by side for one recipe.

    Shows the rounded and the exact amount that each guide gives, how far they differ, and which one to start from.
    """
    here, _ = place(elevation, barometer, boils_at)
    level, base, told = cast("Strength", strength), airs.from_elevation(written_for), streams.pairs(answers)
    correcting.check_strength(level)
    if plot is not None and Path(plot).suffix.lower() not in (".svg", ".png"):
        raise Unusable(f'"{plot}" is no picture this program draws', "name a file that ends in .svg or .png")
    text, _ = streams.read_text(file)
    source, recipes, _ = original(text, told)
    made = [correcting.compare(recipe, here, base, level, told) for recipe in recipes]
    if plot is not None:
        from rewriter.picture import draw

        draw(plot, recipes[0], here, base, level)
    if form == "json":
        shown = asjson.dumps([plain(source, *pair) for pair in zip(recipes, made, strict=True)])
    else:
        shown = "\n\n".join(in_words(source, *pair, here, strength) for pair in zip(recipes, made, strict=True))
    streams.write_bytes((shown + "\n").encode("utf-8", "surrogatepass"))
    return 0


def rounded(source: str, recipe: Recipe, edit: Edit) -> str:
    """An edit as a person would measure it; "" where that is the old amount."""
    changes = writing.measure(source, recipe, Plan(edits=(edit,)))
    return next((change.new for change in changes if change.start <= edit.start or edit.start == edit.end), "")


def figure(exact: Fraction | None, unit: str) -> str:
    """An exact figure to four digits."""
    return "" if exact is None else f"{float(exact):.4g} {unit}".rstrip()


def plain(source: str, recipe: Recipe, made: Comparison) -> dict[str, Any]:
    """A comparison as plain values."""
    rows = [
        {
            "start": row.start,
            "end": row.end,
            "what": row.label,
            "was": row.was,
            "unit": row.unit,
            "differ": row.differ,
            "by": {
                guide: None
                if edit is None
                else {"exact": edit.exact, "new": rounded(source, recipe, edit), "why": edit.why, "source": edit.source}
                for guide, edit in row.by.items()
            },
        }
        for row in made.rows
    ]
    start = [{"kind": kind, "guide": guide, "why": why} for kind, guide, why in made.start_from]
    published = {"text": made.published, "source": made.published_source}
    return {"title": recipe.title, "rows": rows, "start_from": start, "published": published}


def in_words(source: str, recipe: Recipe, made: Comparison, here: Air, strength: str) -> str:
    """A comparison as a table, with what to start from."""
    title = " ".join(recipe.title.split()) or "This recipe"
    head = f"{title}: {float(here.elevation_ft):,.0f} ft, water boils at {here.boiling_f:.0f} F, {strength} strength"
    if not made.rows:
        return "\n".join([head, "", "No guide changes an amount here.", *notes(made)])
    rows = []
    for row in made.rows:
        was = " ".join(source[row.start : row.end].split()) if row.was is not None else "-"
        cells = [cell(source, recipe, edit) for edit in row.by.values()]
        rows.append((" ".join(row.label.split())[:32], was, *cells, apart(row)))
    shown = table(("", "written", *made.plans, "apart"), rows, right=(len(made.plans) + 2,))
    start = [f"Start from {guide} ({kind}): {why}" for kind, guide, why in made.start_from]
    published = [f"{made.published} Source: {made.published_source}."]
    return "\n".join([head, "", shown, "", *start, *published, *notes(made)])


def apart(row: Compared) -> str:
    """How far the guides differ: in degrees for a heat, else as a share."""
    if row.unit == "F" and row.was is not None:
        return f"{float(row.differ * row.was):.0f} F"
    return f"{100 * float(row.differ):.0f} %"


def cell(source: str, recipe: Recipe, edit: Edit | None) -> str:
    """One guide's figure: as measured, and exactly."""
    if edit is None:
        return "as written"
    new, exact = rounded(source, recipe, edit), figure(edit.exact, "")
    return f"{new} ({exact})" if new else f"as written ({exact})"


def notes(made: Comparison) -> list[str]:
    """Cautions and what was kept, once each, whatever the guide."""
    kinds = ("caution", "kept")
    return list(dict.fromkeys(n.text for plan in made.plans.values() for n in plan.notes if n.kind in kinds))
