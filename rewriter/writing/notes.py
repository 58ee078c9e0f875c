"""What the block says, before any style gives it a shape: short, for a person at a counter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rewriter.model import Air, Change, Edit, Heat, Plan, Query, Recipe, Twin
from rewriter.writing.manner import listen
from rewriter.writing.measure import measured
from rewriter.writing.registry import Job
from rewriter.writing.rows import Row, flat, joined, row_of, rows

START = (
    "Make all of these changes together for a first bake here, then change one thing at a time. "
    "If the recipe already bakes well in your kitchen, leave it alone."
)
ADVICE = "The recipe's own advice: "


@dataclass(frozen=True, slots=True)
class Asked:
    """A question with its number and the words it is about."""

    number: int
    about: str
    query: Query

    @property
    def text(self) -> str:
        """The whole question: words, question, choices, and the name to answer it by."""
        about = f'"{self.about}": ' if self.about else ""
        choices = f" ({' / '.join(self.query.choices)})" if self.query.choices else ""
        return f"{about}{flat(self.query.question)}{choices} [{self.query.id}]"


@dataclass(frozen=True, slots=True)
class Section:
    """The notes of one recipe, in the order they are read."""

    title: str
    length: int
    opening: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()
    early: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    later: tuple[str, ...] = ()
    offers: tuple[str, ...] = ()
    asked: tuple[Asked, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def heading(self) -> str:
        """The title, or what the section is where there is none."""
        return self.title or ("A recipe without a title" if self.rows or self.opening or self.lists else "Questions")

    @property
    def at_the_oven(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The lists that even the corrected recipe alone needs."""
        return tuple(named for named in self.lists if named[0] in ("Check early", "Watch for"))

    @property
    def lists(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """The titled lists that are not empty."""
        named = (
            ("Check early", self.early),
            ("Watch for", self.watch),
            ("Left as it is", self.kept),
            ("Or instead", self.offers),
            ("Next, if it falls", self.later),
        )
        return tuple((title, items) for title, items in named if items)


@dataclass(frozen=True, slots=True)
class Notes:
    """All of the block: its heading, a section for each recipe, the sources by name."""

    heading: str
    sections: tuple[Section, ...]
    sources: tuple[str, ...]


def notes(job: Job) -> Notes:
    """The block's content."""
    sections, taken, number = [], set[int](), 0
    for index, (recipe, plan) in enumerate(zip(job.recipes, job.plans, strict=False)):
        changes = [change for change in job.changes if home(job, change.start) == index]
        queries = [query for query in job.queries if home(job, query.start) == index and id(query) not in taken]
        taken |= {id(query) for query in queries}
        asked = tuple(_asked(job.text, query, number + i) for i, query in enumerate(queries, 1))
        number += len(asked)
        sections.append(_section(job, recipe, plan, changes, asked))
    left = [query for query in job.queries if id(query) not in taken]
    if left:
        asked = tuple(_asked(job.text, query, number + i) for i, query in enumerate(left, 1))
        sections.append(Section("", len(job.text), asked=asked))
    sources = tuple(dict.fromkeys(part for source in _sources(job) for part in source.split("; ") if part))
    return Notes(heading(job), tuple(section for section in _once(sections) if _says(section)), sources)


def _once(sections: Sequence[Section]) -> Iterator[Section]:
    """Sections without the opening lines that an earlier one has."""
    said = set[str]()
    for section in sections:
        fresh = tuple([line for line in section.opening if line not in said])
        yield section if len(fresh) == len(section.opening) else replace(section, opening=fresh)
        said.update(section.opening)


def home(job: Job, offset: int) -> int:
    """The index of the recipe an offset belongs to, or -1; with one recipe everything is its own."""
    if len(job.recipes) == 1:
        return 0
    return next((i for i, recipe in enumerate(job.recipes) if recipe.start <= offset <= recipe.end), -1)


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


def _says(section: Section) -> bool:
    return bool(section.opening or section.rows or section.lists or section.asked or section.cautions)


def _section(job: Job, recipe: Recipe, plan: Plan, changes: list[Change], asked: tuple[Asked, ...]) -> Section:
    said: dict[str, list[str]] = {}
    for note in plan.notes:
        said.setdefault(note.kind, []).append(flat(note.text))
    opening = [ADVICE + text for text in said.get("advice", ())]
    opening += said.get("start") or ([START] if changes else [])
    return Section(
        title=flat(recipe.title),
        length=(recipe.end or len(job.text)) - recipe.start,
        opening=(*opening, *said.get("guide", ())),
        rows=tuple(rows(recipe, changes)),
        early=tuple(said.get("early", ())),
        watch=tuple(said.get("watch", ())),
        kept=(*said.get("kept", ()), *_unmoved(plan, changes)),
        later=(*said.get("next", ()), *_later(job.text, recipe, plan)),
        offers=tuple(_offered(changes)),
        asked=asked,
        cautions=tuple(said.get("caution", ())),
    )


def _unmoved(plan: Plan, changes: Sequence[Change]) -> list[str]:
    """Corrections too small to measure, in one line."""
    there = {(change.rule, change.start) for change in changes}
    left = [edit for edit in plan.edits if edit.exact is not None and (edit.rule, edit.start) not in there]
    if not left:
        return []
    done = {(change.rule, change.ingredient, change.exact) for change in changes}
    small = [
        edit
        for edit in left
        if (edit.rule, edit.ingredient.name if edit.ingredient else "", edit.exact) not in done
        and not any(
            change.rule == edit.rule and edit.start <= change.start < max(edit.end, edit.start + 1)
            for change in changes
        )
    ]
    names = dict.fromkeys(_edit_label(edit) for edit in small)
    return [f"{', '.join(names)}: the correction is too small to measure."] if names else []


def _edit_label(edit: Edit) -> str:
    if edit.ingredient:
        return flat(edit.ingredient.name)
    if isinstance(edit.target, Heat | Twin):
        return flat(edit.target.text)
    return edit.rule


def _later(text: str, recipe: Recipe, plan: Plan) -> list[str]:
    """What is held back until it falls, measured."""
    if not plan.later:
        return []
    held = measured(text, plan.later, listen(text, recipe.start, recipe.end or len(text)), recipe)
    told = joined([row_of(change, recipe.heats) for change in held])
    return list(dict.fromkeys(f"{row.name}: {row.move} ({row.why})" for row in told))


def _offered(changes: Sequence[Change]) -> Iterator[str]:
    for change in changes:
        if change.step == "offer":
            old = f"{flat(change.old)} " if change.start != change.end else ""
            yield f"{old}{flat(change.ingredient)}: {change.new.removeprefix('+ ')}"


def _asked(text: str, query: Query, number: int) -> Asked:
    words = flat(text[query.start : query.end])
    return Asked(number, words if len(words) <= 40 else words[:37] + "...", query)


def _sources(job: Job) -> Iterator[str]:
    yield from (flat(change.source) for change in job.changes)
    yield from (flat(note.source) for plan in job.plans for note in plan.notes)
    yield from (flat(edit.source) for plan in job.plans for edit in plan.later)
