"""``rewriter formula``: a recipe as a baker's-percentage table, as written and as corrected."""

from __future__ import annotations

from fractions import Fraction
from typing import cast

import click

from rewriter import air as airs
from rewriter import asjson, correcting
from rewriter.api import original
from rewriter.commands import streams
from rewriter.commands.tables import table
from rewriter.commands.where import kitchen_options, place
from rewriter.correcting.formula import Formula, FormulaRow
from rewriter.model import Recipe, Strength


@click.command()
@streams.FILE
@kitchen_options
@click.option("--guide", default="practice", show_default=True, help="The table to correct by.")
@streams.ANSWER
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
def formula(
    file: str,
    elevation: str | None,
    barometer: str | None,
    boils_at: str | None,
    written_for: str,
    strength: str,
    guide: str,
    answers: tuple[str, ...],
    form: str,
) -> int:
    """Show a recipe in baker's percentages.

    Weights with their honest range, percent of the flour, hydration, sugar, lift, soda against acid, and the balance
    of the formula; with an elevation, before and after its corrections.
    """
    told, level = streams.pairs(answers), cast("Strength", strength)
    correcting.check_strength(level)
    correcting.load_guide(guide)
    somewhere = any(given is not None for given in (elevation, barometer, boils_at))
    here = place(elevation, barometer, boils_at)[0] if somewhere else None
    base = airs.from_elevation(written_for)
    text, _ = streams.read_text(file)
    _, recipes, _ = original(text, told)
    made = []
    for recipe in recipes:
        plan = correcting.plan(recipe, here, base, guide, level, told) if here else None
        made.append((recipe, correcting.formulas(recipe), correcting.formulas(recipe, plan) if plan else []))
    if form == "json":
        rows = [{"title": r.title, "written": before, "corrected": after} for r, before, after in made]
        shown = asjson.dumps(rows)
    else:
        shown = "\n\n".join(in_words(*one) for one in made)
    streams.write_bytes((shown + "\n").encode("utf-8", "surrogatepass"))
    return 0


def in_words(recipe: Recipe, before: list[Formula], after: list[Formula]) -> str:
    """Every batter of a recipe as a table."""
    title = " ".join(recipe.title.split()) or "This recipe"
    if not before:
        return f"{title}: there is no batter or dough in it."
    later = {one.group: one for one in after}
    return "\n\n".join(one_batter(title, one, later.get(one.group)) for one in before)


def one_batter(title: str, old: Formula, new: Formula | None) -> str:
    """One batter: its rows, its totals, its balance."""
    rows, head = [], ["", "g", "range, g", "% of flour"]
    changed = {row.name: row for row in new.rows} if new else {}
    if new:
        head += ["corrected g", "% of flour"]
    for row in [*old.rows, *(changed[name] for name in changed if name not in {r.name for r in old.rows})]:
        is_new = row not in old.rows
        cells = [row.name[:32], *(("", "", "") if is_new else (whole(row.grams), spread(row), tenth(row.percent)))]
        later = changed.get(row.name)
        if new:
            cells += [whole(later.grams if later else None), tenth(later.percent if later else None)]
        rows.append(cells)
    shown = table(head, rows, right=(1, 2, 3, 4, 5)[: len(head) - 1])
    lines = [f"{title} ({old.kind})", "", shown, "", *totals("as written", old)]
    if new:
        lines += totals("corrected", new)
    return "\n".join(lines)


def totals(which: str, made: Formula) -> list[str]:
    """Hydration, sugar, lift, acid and balance of one formula, in lines."""
    lines = [f"{which}: hydration {tenth(made.hydration)} %, sugar {tenth(made.sugar)} %"]
    if made.lift:
        lines[0] += f", lift {tenth(made.lift, 2)} tsp of baking powder's worth a cup of flour"
    soda = made.soda
    if soda.soda or soda.taken:
        left = f"{float(soda.left):.2g} tsp of soda left over" if soda.left else ""
        left = left or (
            f"acid for {float(soda.short):.2g} tsp more soda left over" if soda.short else "nothing left over"
        )
        lines.append(
            f"  soda {tenth(soda.soda, 2)} tsp, the acid takes {tenth(soda.taken, 2)} tsp: {left} ({soda.says})"
        )
    for rule in made.rules:
        sign = "yes" if rule.holds else "no"
        lines.append(f"  {rule.text}: {sign} ({whole(rule.left)} g to {whole(rule.right)} g; {rule.source})")
    if made.unweighed:
        lines.append(f"  not weighed: {', '.join(made.unweighed)}")
    return lines


def whole(grams: Fraction | None) -> str:
    """Grams, whole from 10 up."""
    return "?" if grams is None else f"{float(grams):.0f}" if grams >= 10 else f"{float(grams):.1f}"


def tenth(value: Fraction | None, places: int = 1) -> str:
    """A figure to one place, or as many as said."""
    return "?" if value is None else f"{float(value):.{places}f}"


def spread(row: FormulaRow) -> str:
    """The range of a weight, where there is one."""
    if row.low is None or row.high is None or row.low == row.high:
        return ""
    return f"{whole(row.low)} to {whole(row.high)}"
