"""What the further commands do, for Python: the guides compared, baker's percentages, the next step, print, overlay.

The names and words are those of the commands; where a command's name is taken (``next``, ``print`` and ``overlay``),
a noun is added: :func:`next_step`, :func:`print_book`, :func:`overlay_page`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, cast

from rewriter import air as airs
from rewriter import correcting
from rewriter.api import Result, kitchen, original, rewrite
from rewriter.errors import Unusable
from rewriter.model import Air, Answer, Query, Strength
from rewriter.writing.registry import Job

if TYPE_CHECKING:
    from rewriter.correcting.comparison import Comparison
    from rewriter.correcting.formula import Formula
    from rewriter.intake import Taken

Place = str | float | Air


@dataclass(frozen=True, slots=True)
class Formulas:
    """A recipe in baker's percentages: every batter and dough as written, and as corrected (none without a kitchen)."""

    title: str
    written: list[Formula]
    corrected: list[Formula]


@dataclass(frozen=True, slots=True)
class OverlaidPage:
    """A page with its annotations: the PDF, what a person must look at, and what the intake had to say."""

    pdf: bytes
    review: list[Query]
    warnings: list[str]


def compare(
    text: str,
    elevation: Place | None = None,
    written_for: Place = "0 ft",
    strength: str = "middle",
    answers: Iterable[Answer] = (),
    *,
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
    plot: str | Path | None = None,
) -> list[Comparison]:
    r"""Set the guides side by side: for each recipe in a paste, what each changes, and which to start from.

    The figures are exact, in the unit of the old amount (degrees F for a heat). plot: a picture of the first recipe's
    guides against elevation, .svg or .png (extra ``plot``). Raises Unusable.

    >>> card = "Tea Cakes\n\n2 cups flour\n1 cup sugar\n2 tsp baking powder\n1 cup milk\n\nBake at 350 F.\n"
    >>> made = compare(card, "6000 ft")[0]
    >>> powder = next(row for row in made.rows if row.label == "baking powder")
    >>> powder.by["practice"].exact, powder.by["formula"].exact
    (Fraction(1, 1), Fraction(26, 25))
    """
    answers, level = tuple(answers), _strength(strength)
    here, base = kitchen(elevation, barometer, boils_at, answers)[0], airs.from_elevation(written_for)
    _, recipes, _ = original(text, answers)
    if plot is not None:
        from rewriter.picture import draw

        draw(str(plot), recipes[0], here, base, level)
    return [correcting.compare(recipe, here, base, level, answers) for recipe in recipes]


def formula(
    text: str,
    elevation: Place | None = None,
    written_for: Place = "0 ft",
    guide: str = "practice",
    strength: str = "middle",
    answers: Iterable[Answer] = (),
    *,
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
) -> list[Formulas]:
    r"""Show each recipe of a paste in baker's percentages; with a kitchen, before and after its corrections.

    Weights are grams, percentages those of the flour. Raises Unusable.

    >>> card = "Loaf\n\n500 g bread flour\n325 g water\n10 g salt\n5 g instant yeast\n\nBake at 450 F.\n"
    >>> [(row.name, row.percent) for row in formula(card)[0].written[0].rows][1]
    ('water', Fraction(65, 1))
    """
    answers, level = tuple(answers), _strength(strength)
    correcting.load_guide(guide)
    somewhere = any(given is not None for given in (elevation, barometer, boils_at))
    here = kitchen(elevation, barometer, boils_at, answers)[0] if somewhere else None
    base = airs.from_elevation(written_for)
    made = []
    for recipe in original(text, answers)[1]:
        plan = correcting.plan(recipe, here, base, guide, level, answers) if here else None
        after = correcting.formulas(recipe, plan) if plan else []
        made.append(Formulas(recipe.title, correcting.formulas(recipe), after))
    return made


def next_step(
    text: str,
    elevation: Place | None = None,
    fault: str = "",
    written_for: Place = "0 ft",
    guide: str = "practice",
    strength: str = "middle",
    answers: Iterable[Answer] = (),
    *,
    step: int = 1,
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
) -> Result:
    r"""Say what to change after a bake that went wrong: the recipe annotated with the first step against the fault.

    fault: in a person's words ("sank in the middle"). step: how many steps to take, one on top of the other; more than
    there are gives the last. Raises Unusable where the fault is not known or nothing here is changed for the elevation.

    >>> card = "Tea Cakes\n\n2 cups flour\n1 cup sugar\n2 tsp baking powder\n1 cup milk\n\nBake at 350 F.\n"
    >>> next(one for one in next_step(card, "6500 ft", "sank in the middle").notes if one.startswith("Step"))
    'Step 1 of ...
    """
    answers, level = tuple(answers), _strength(strength)
    here, base = kitchen(elevation, barometer, boils_at, answers)[0], airs.from_elevation(written_for)
    source, recipes, _ = original(text, answers)
    recipe = recipes[0]
    _, steps = correcting.next_steps(recipe, here, base, fault, guide, level, answers)
    if not steps:
        raise Unusable("nothing in this recipe is changed for your elevation", "its fault has another cause")
    from rewriter import writing

    plan = steps[min(max(step, 1), len(steps)) - 1].plan
    changes = list(writing.measure(source, recipe, plan))
    written = writing.write(source, [recipe], [plan], changes, [], here)
    return Result(written, source, [recipe], changes, [], [note.text for note in plan.notes], here, [plan])


def print_book(results: Iterable[Result], paper: str = "letter", title: str = "", only_recipe: bool = False) -> bytes:
    """Print recipes, all for one kitchen, as a PDF (extra ``print``); several become a booklet with contents.

    paper: letter, a4, card-4x6 or card-5x8. only_recipe: leave out what stands around a recipe. Raises Unusable.

    >>> print_book([])
    Traceback (most recent call last):
    rewriter.errors.Unusable: there is no recipe to print; give results of rewriter.rewrite
    """
    jobs = [job_of(result) for result in results]
    if not jobs:
        raise Unusable("there is no recipe to print", "give results of rewriter.rewrite")
    from rewriter.writing.print import PAPERS, book

    if paper not in PAPERS:
        raise Unusable(f'there is no paper "{paper}"', f"choose one of {', '.join(PAPERS)}")
    return book(jobs, paper, title, whole=not only_recipe)


def overlay_page(
    file: str | Path | bytes,
    elevation: Place | None = None,
    written_for: Place = "0 ft",
    guide: str = "practice",
    strength: str = "middle",
    answers: Iterable[Answer] = (),
    *,
    explain: str = "short",
    notes: str = "auto",
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
) -> OverlaidPage:
    """Annotate a printed recipe, a PDF or a photo, on its own page (extras ``print`` and ``photo``).

    notes: below, page or auto. answers: also those to questions about a line of the card, by what it says
    (``Answer("card@7", "1/2 cup butter")``). Raises Unusable where the file has no page or is annotated already.
    """
    from rewriter import intake
    from rewriter.overlay import annotated, checked, settled, told

    name = "the page" if isinstance(file, bytes) else str(file)
    taken: Taken = intake.take(file)
    if not taken.pages:
        raise Unusable(f"{name} has no printed page to write on", "give a PDF or a photo, or use rewriter annotate")
    said, others = told(answers)
    taken = settled(taken, said)
    result = rewrite(
        taken.text,
        elevation,
        written_for,
        guide,
        strength,
        answers=others,
        explain=explain,
        barometer=barometer,
        boils_at=boils_at,
    )
    if result.source != taken.text:
        raise Unusable(f"{name} is annotated already", "give the page it was made from")
    job = checked(job_of(result), taken, said)
    return OverlaidPage(annotated(taken, job, notes), list(job.queries), list(taken.warnings))


def job_of(result: Result) -> Job:
    """What the styles of the writing room write from."""
    return Job(result.source, result.recipes, result.plans, result.changes, result.review, result.air, result.explain)


def _strength(strength: str) -> Strength:
    level = cast("Strength", strength)
    correcting.check_strength(level)
    return level
