"""The block after the recipe: short, for a person at a counter, in the recipe's units."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from rewriter.model import Air, Change, Edit, Heat, Plan, Query, Recipe
from rewriter.writing.manner import Voice, listen
from rewriter.writing.measure import measured
from rewriter.writing.registry import Job
from rewriter.writing.seal import FIRST

START = (
    "Make all of these changes together for a first bake here, then change one thing at a time. "
    "If the recipe already bakes well in your kitchen, leave it alone."
)
_TITLES = (("early", "Check early"), ("watch", "Watch for"), ("kept", "Left as it is"))
_CLAUSE = re.compile(r"[;:(.]\s|\s-\s|, | because ")


def lines(job: Job) -> list[str]:
    """The block's lines from the first, without the record and the last line."""
    out = [FIRST + heading(job) + " ==="]
    many = len(job.recipes) > 1
    taken: set[str] = set()
    for recipe, plan in zip(job.recipes, job.plans, strict=False):
        mine = [change for change in job.changes if inside(recipe, change.start, job)]
        asked = [query for query in job.queries if inside(recipe, query.start, job) and query.id not in taken]
        taken |= {query.id for query in asked}
        section = list(_section(job, recipe, plan, mine, asked))
        if many and section:
            out.append(f"-- {recipe.title or 'Recipe'} --")
        out += section
    left = [query for query in job.queries if query.id not in taken]
    if left:
        out += questions(job.text, left)
    sources = dict.fromkeys(source for source in _sources(job) if source)
    if sources:
        out.append("Sources: " + "; ".join(sources) + ".")
    return [" ".join(line.splitlines()) if "\n" in line or "\r" in line else line for line in out]


def heading(job: Job) -> str:
    """Elevation, boiling point and guide in one line."""
    guides = dict.fromkeys(
        f"{plan.guide} guide" + ("" if plan.strength == "middle" else f", {plan.strength}") for plan in job.plans
    )
    return f"{place(job.air)}; water boils at {boiling(job.air)}; {' and '.join(guides) or 'no guide'}"


def place(air: Air) -> str:
    """The elevation in feet and metres.

    >>> place(Air(1981.2, 796.9, 93.4))
    '6,500 ft (1,981 m)'
    """
    feet = float(air.elevation_ft) or air.elevation_m / 0.3048
    return f"{feet:,.0f} ft ({air.elevation_m:,.0f} m)"


def boiling(air: Air) -> str:
    """The boiling point of water in degrees F and C."""
    return f"{air.boiling_f:.0f} F ({air.boiling_c:.0f} C)"


def inside(recipe: Recipe, offset: int, job: Job) -> bool:
    """Whether an offset belongs to a recipe; with one recipe everything does."""
    return len(job.recipes) == 1 or recipe.start <= offset <= recipe.end


def _section(job: Job, recipe: Recipe, plan: Plan, changes: list[Change], queries: list[Query]) -> Iterable[str]:
    notes = plan.notes
    yield from (f"The recipe's own advice: {note.text}" for note in notes if note.kind == "advice")
    opening = [note.text for note in notes if note.kind == "start"]
    yield from opening or ([START] if changes else [])
    yield from (note.text for note in notes if note.kind == "guide")
    table = rows(recipe, changes, job.explain)
    if table:
        length = (recipe.end or len(job.text)) - recipe.start
        yield "Changed (was -> now):"
        yield from table if job.explain == "full" else shortened(table, length // 3)
    for kind, title in _TITLES:
        said = [note.text for note in notes if note.kind == kind]
        said += unmoved(plan, changes) if kind == "kept" else []
        yield from (
            [f"{title}: {said[0]}"]
            if len(said) == 1
            else [f"{title}:", *(f"  - {text}" for text in said)]
            if said
            else []
        )
    yield from after(job.text, recipe, plan)
    yield from questions(job.text, queries)
    yield from (f"CAUTION: {note.text}" for note in notes if note.kind == "caution")


def rows(recipe: Recipe, changes: Sequence[Change], explain: str) -> list[str]:
    """The table: one row a change; portions and further figures of one setting are left to the marks."""
    portions = {(portion.start, portion.end) for portion in recipe.portions}
    twins = {(twin.start, twin.end) for heat in recipe.heats for twin in heat.twins}
    out: dict[tuple[str, str, str], str] = {}
    for change in changes:
        if (change.start, change.end) in portions | twins or change.direction == "note":
            continue
        row = label(change, recipe.heats), change.old, change.new
        if row not in out and not (change.start == change.end and row[2] in {key[2] for key in out}):
            out[row] = "  " + entry(*row, change, explain)
    return list(out.values())


def entry(name: str, old: str, new: str, change: Change, explain: str) -> str:
    """One row: what, was, now, and why in a few words or in full."""
    old = " ".join(old.split())
    told = new if new.startswith("+") else f"{old} -> {new}" if old else new
    if explain == "full":
        exact = (
            f" (exactly {float(change.exact):.4g} {change.unit})".replace(" )", ")") if change.exact is not None else ""
        )
        guard = f" (the guide alone: {float(change.unguarded):.4g})" if change.unguarded is not None else ""
        return f"{name}: {told}{exact}{guard}: {change.why} [{change.source}]"
    return f"{name}: {told} ({few(change.why)})" if change.why else f"{name}: {told}"


def label(change: Change, heats: Sequence[Heat] = ()) -> str:
    """What a change is about: the ingredient, or the oven, syrup, oil ..."""
    if change.ingredient:
        return (
            change.addition if change.start == change.end and change.addition else " ".join(change.ingredient.split())
        )
    for heat in heats:
        if heat.start <= change.start < max(heat.end, heat.start + 1):
            return heat.place
    return change.addition or change.rule


def few(why: str, most: int = 5) -> str:
    """The first words of a reason: its first clause, at most ``most`` words.

    >>> few("gas expands more in thin air; less is needed")
    'gas expands more in thin'
    """
    return " ".join(_CLAUSE.split(why.strip().rstrip("."), maxsplit=1)[0].split()[:most])


def shortened(table: list[str], room: int) -> list[str]:
    """The table in at most ``room`` characters: first without its reasons, then with its last rows counted only."""
    if sum(map(len, table)) <= room:
        return table
    bare = [re.sub(r" \([^()]*\)$", "", row) for row in table]
    kept: list[str] = []
    for row in bare:
        if sum(map(len, kept)) + len(row) > room:
            break
        kept.append(row)
    more = len(bare) - len(kept)
    return kept + ([f"  and {more} more, marked above"] if more else [])


def unmoved(plan: Plan, changes: Sequence[Change]) -> list[str]:
    """Corrections too small to measure: one line in all."""
    done = {(change.rule, change.start) for change in changes}
    small = [edit for edit in plan.edits if edit.exact is not None and (edit.rule, edit.start) not in done]
    names = dict.fromkeys(_edit_label(edit) for edit in small)
    return [f"{', '.join(names)}: the correction is too small to measure."] if names else []


def _edit_label(edit: Edit) -> str:
    return (
        edit.ingredient.name if edit.ingredient else edit.target.place if isinstance(edit.target, Heat) else edit.rule
    )


def after(text: str, recipe: Recipe, plan: Plan) -> list[str]:
    """What to change next if it falls, measured."""
    notes = [note.text for note in plan.notes if note.kind == "next"]
    if plan.later:
        voice: Voice = listen(text, recipe.start, recipe.end or len(text))
        held = measured(text, plan.later, voice)
        told = dict.fromkeys(entry(label(change), change.old, change.new, change, "short") for change in held)
        notes += told
    return [f"Next, if it falls: {'; '.join(notes)}"] if notes else []


def questions(text: str, queries: Sequence[Query]) -> list[str]:
    """Numbered questions, each with the words it is about, its choices and the name to answer it by."""
    out = ["Questions:"] if queries else []
    for number, query in enumerate(queries, 1):
        words = " ".join(text[query.start : query.end].split())
        about = f'"{words if len(words) <= 40 else words[:37] + "..."}": ' if words else ""
        choices = f" ({' / '.join(query.choices)})" if query.choices else ""
        out.append(f"  {number}. {about}{query.question}{choices} [{query.id}]")
    return out


def _sources(job: Job) -> Iterable[str]:
    yield from (change.source for change in job.changes)
    yield from (note.source for plan in job.plans for note in plan.notes)
    yield from (edit.source for plan in job.plans for edit in plan.later)
