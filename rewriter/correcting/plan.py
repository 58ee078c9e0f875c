"""The corrections of one recipe in one kitchen by one guide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rewriter import air as airs
from rewriter.correcting.batch import batches
from rewriter.correcting.guide import check_strength, load
from rewriter.correcting.kitchen import Kitchen, kitchen
from rewriter.correcting.registry import Case, Finding, corrections
from rewriter.correcting.standing import standing
from rewriter.model import Air, Answer, Edit, Note, Plan, Query, Recipe, Strength

_ORDER = ("advice", "start", "guide", "early", "kept", "watch", "next", "caution")
_YES = frozenset(("yes", "y", "true", "1"))


def plan(
    recipe: Recipe,
    air: Air,
    written_for: Air,
    guide: str = "practice",
    strength: Strength = "middle",
    answers: Sequence[Answer] = (),
) -> Plan:
    """What altitude changes in a recipe: exact edits, what to keep for a second bake, notes and questions.

    air is the kitchen's, written_for the air the recipe is meant for. Nothing is rounded and no text is touched.
    Raises NoSuchGuide for a guide or strength that does not exist.

    >>> from rewriter import air
    >>> plan(Recipe("Sea biscuit", "cookie"), air.of("0 ft"), air.of("0 ft")) == Plan()
    True
    """
    check_strength(strength)
    load(guide)
    told = next((a.value for a in answers if a.query == f"written-for@{recipe.start}"), None)
    here = kitchen(guide, strength, air, airs.of(told) if told else written_for)
    if here.quiet:
        return Plan(guide=guide, strength=strength)
    stand = standing(recipe, here, bool(told))
    if stand is not None:
        return _gather(recipe, stand, here, answers)
    case = Case(recipe, here, tuple(batches(recipe)))
    return _gather(recipe, list(_findings(case)), here, answers)


def _findings(case: Case) -> Iterator[Finding]:
    on_batch, on_case = corrections()
    for batch in case.batches:
        for correct in on_batch:
            yield from correct(batch, case.kitchen)
    for correct_case in on_case:
        yield from correct_case(case)


def _gather(recipe: Recipe, found: list[Finding], here: Kitchen, answers: Sequence[Answer]) -> Plan:
    skipped = {int(a.query[5:]) for a in answers if a.query.startswith("skip@") and a.value.casefold() in _YES}
    advice = [(fact.start, fact.end) for fact in recipe.facts if fact.kind == "altitude-note"]
    edits = [
        _doubted(f, recipe)
        for f in found
        if isinstance(f, Edit) and not (f.start in skipped and f.start != f.end) and not _inside(f.start, advice)
    ]
    said = [f for f in found if isinstance(f, Note) and not (f.kind == "early" and _inside(f.start, advice))]
    notes = sorted(said, key=_rank)
    return Plan(
        edits=tuple(sorted((e for e in edits if e.step != "next"), key=lambda e: (e.start, e.end))),
        later=tuple(e for e in edits if e.step == "next"),
        notes=tuple(dict.fromkeys(notes)),
        queries=tuple(_asked(recipe, found)),
        guide=here.guide.name,
        strength=here.strength,
    )


def _rank(note: Note) -> int:
    return _ORDER.index(note.kind)


def _inside(place: int, advice: Sequence[tuple[int, int]]) -> bool:
    """Whether a place lies in the recipe's own advice for altitude, whose figures are its author's."""
    return bool(advice) and any(start <= place < end for start, end in advice)


def _doubted(edit: Edit, recipe: Recipe) -> Edit:
    """An edit of a part whose reading is not sure is not sure either."""
    if edit.group < len(recipe.parts) and not recipe.parts[edit.group].sure:
        return replace(edit, sure=False)
    return edit


def _asked(recipe: Recipe, found: Sequence[Finding]) -> Iterator[Query]:
    """New questions, each once, in reading order; none about words the reading room asks about already."""
    known = {query.start for query in recipe.queries}
    fresh = {q.id: q for q in found if isinstance(q, Query) and q.start not in known}
    yield from sorted(fresh.values(), key=lambda q: q.start)
