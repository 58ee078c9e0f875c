"""The whole walk of a recipe: read, corrected for a kitchen's air, measured, and written in place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from rewriter import air as airs
from rewriter import asjson, paste
from rewriter.errors import Unusable
from rewriter.model import Air, Answer, Change, Ingredient, Plan, Query, Recipe, Strength

if TYPE_CHECKING:
    from collections.abc import Callable

    from spacy.language import Language

FIND_ELEVATION = (
    'give the elevation ("6500 ft": a map, a town sign or a phone tells it), the station pressure of a barometer '
    '("796.9 hPa"), or the temperature at which plain water boils ("200 F")'
)
EDITED = ("the best reading of the original", "this text as it stands")
Written = tuple[str, list[Recipe], list[Plan], list[Change], list[Query], Air]
STYLE_OF = {".md": "markdown", ".html": "html", ".htm": "html", ".docx": "docx", ".jsonld": "jsonld"}


@dataclass(frozen=True, slots=True)
class Result:
    """A recipe for a kitchen.

    text: the paste with its annotations; equal to ``source`` where nothing changes and nothing need be said.
    source: the text every offset counts in: the paste, without annotations it may have carried already.
    recipes, changes (in reading order), review (what a person must look at), notes (what to watch for), air.
    plans: one for each recipe, for other styles. style: its own; ``text`` is inline where that style is a file (docx).
    """

    text: str
    source: str
    recipes: list[Recipe]
    changes: list[Change]
    review: list[Query]
    notes: list[str]
    air: Air
    plans: list[Plan] = field(repr=False)
    style: str = "inline"
    explain: str = "short"

    @property
    def recipe(self) -> Recipe:
        """The first recipe in the paste."""
        return self.recipes[0]

    def to_dict(self) -> dict[str, Any]:
        """Everything as plain values, ready for JSON; fractions as "3/4"."""
        return {
            "text": self.text,
            "source": self.source,
            "recipe": asjson.plain(self.recipe),
            "recipes": asjson.plain(self.recipes),
            "changes": asjson.plain(self.changes),
            "review": asjson.plain(self.review),
            "notes": list(self.notes),
            "air": {**asjson.plain(self.air), "boiling_f": self.air.boiling_f},
            "style": self.style,
        }

    def save(self, path: str | Path, style: str | None = None) -> None:
        """Write to a file in the style named, else by its suffix (.md, .html, .docx, .jsonld, .json), else its own.

        Raises OSError where the file cannot be written, Unusable where there is no such style.
        """
        from rewriter import writing
        from rewriter.writing.registry import styles

        path = Path(path)
        if style is None and path.suffix.lower() == ".json":
            path.write_bytes((asjson.dumps(self.to_dict()) + "\n").encode("utf-8", "surrogatepass"))
            return
        if style is None:
            style = STYLE_OF.get(path.suffix.lower(), self.style) if self.style == "inline" else self.style
        _known("style", style, styles())
        writing.save(path, *self._written(), style=style, explain=self.explain)

    def restyled(self, style: str) -> str:
        """The same result in another text style. Raises Unusable where there is no such style."""
        from rewriter import writing
        from rewriter.writing.registry import styles

        _known("style", style, styles())
        return writing.write(*self._written(), style=style, explain=self.explain)

    def _written(self) -> Written:
        return self.source, self.recipes, self.plans, self.changes, self.review, self.air


def rewrite(
    text: str,
    elevation: str | float | Air | None = None,
    written_for: str | float | Air = "0 ft",
    guide: str = "practice",
    strength: str = "middle",
    style: str = "inline",
    answers: Iterable[Answer] = (),
    *,
    explain: str = "short",
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
) -> Result:
    """Annotate every recipe in a paste for a kitchen.

    elevation, written_for: "6500 ft", "1,981 m", metres, or an Air. barometer: station pressure ("796.9 hPa").
    boils_at: where plain water boils ("200 F"). One of the three says where the kitchen is; given with an elevation,
    a test that does not fit it becomes a question. answers: to earlier questions, or overruling a reading.

    An annotated paste starts again from its original. Raises Unusable, with one line that says what and how to mend
    it, where the paste is empty, binary, 5 MB or more, not English or no recipe, and where an argument is unknown.

    >>> rewrite("2 cups flour")
    Traceback (most recent call last):
    rewriter.errors.Unusable: it is not said where the kitchen is; give the elevation ("6500 ft": ...
    """
    answers = tuple(answers)
    place, asked = kitchen(elevation, barometer, boils_at, answers)
    base = airs.from_elevation(written_for)
    source, recipes, edited = original(text, answers)
    from rewriter import correcting, writing
    from rewriter.writing.registry import find, styles

    _known("style", style, styles())
    level = cast("Strength", strength)  # the correcting room refuses any other
    plans = [correcting.plan(one, place, base, guide, level, answers) for one in recipes]
    if edited:  # marks of ours among the person's own words: no figure is sure, so none is changed
        plans = [Plan(guide=guide, strength=level) for _ in plans]
    changes = [
        change for one, plan in zip(recipes, plans, strict=True) for change in writing.measure(source, one, plan)
    ]
    changes.sort(key=lambda change: (change.start, change.end))
    review = _review([*edited, *asked], recipes, plans, answers)
    shown = "inline" if find(style).binary else style
    written = writing.write(source, recipes, plans, changes, review, place, style=shown, explain=explain)
    return Result(written, source, recipes, changes, review, _notes(plans, place), place, plans, style, explain)


def kitchen(
    elevation: str | float | Air | None = None,
    barometer: str | float | None = None,
    boils_at: str | float | None = None,
    answers: Iterable[Answer] = (),
) -> tuple[Air, list[Query]]:
    """The air to correct for, and a question where what was given does not fit together.

    Raises Unusable where nothing is given, or something that cannot be.

    >>> place, questions = kitchen("6500 ft", boils_at="206 F")
    >>> place.elevation_ft, questions[0].id, questions[0].choices
    (Fraction(6500, 1), 'air@0', ('6500 ft', '3264 ft'))
    """
    given = [] if elevation is None else [airs.of(elevation)]
    given += [] if barometer is None else [airs.from_barometer(barometer)]
    given += [] if boils_at is None else [airs.from_boiling(boils_at)]
    if not given:
        raise Unusable("it is not said where the kitchen is", FIND_ELEVATION)
    said = next((answer.value for answer in answers if answer.query == "air@0"), None)
    if said is not None:
        return airs.of(said), []
    first, *others = given
    for other in others:
        question = airs.disagreement(first, other)
        if question:
            return first, [Query("air@0", 0, 0, "", question, (_feet(first), _feet(other)))]
    return first, []


def original(text: str, answers: Iterable[Answer] = ()) -> tuple[str, list[Recipe], list[Query]]:
    """The text without annotations and every recipe in it, and a question where annotations were edited.

    Annotations that a person edited stay in the text until the answer to the question says what to take.
    Raises Unusable where there is no recipe.
    """
    from rewriter import reading, writing

    paste.usable(text)
    answers = tuple(answers)
    report = writing.strip_report(text)
    source, edited = report.text, [] if report.intact else [_edited(report.message)]
    told = next((answer.value for answer in answers if answer.query == "edited@0"), None)
    if edited and told in EDITED:
        source, edited = (report.best or source) if told == EDITED[0] else source, []
    try:
        recipes = [one for one in reading.read(source, answers) if one.ingredients or one.heats]
    except reading.AnswerError as error:
        raise Unusable(str(error), "answer with one of the choices of its question") from None
    if not recipes:
        raise Unusable("no recipe is found in this", paste.WHOLE)
    return source, recipes, edited


def _edited(message: str) -> Query:
    return Query("edited@0", 0, 0, "", f"{message} Which text shall be annotated?", EDITED)


def read(text: str, answers: Iterable[Answer] = ()) -> list[Recipe]:
    """Every recipe in a text, with character offsets into it; none where there is none. No elevation is needed.

    Raises Unusable where the text is 5 MB or more.

    >>> read("")
    []
    """
    from rewriter import reading

    paste.size(len(text))
    return list(reading.read(text, tuple(answers))) if text.strip() else []


def read_ingredient(line: str) -> Ingredient:
    """One ingredient line by itself.

    >>> read_ingredient("2 1/4 cups cake flour").amounts[0].quantity
    Fraction(9, 4)
    """
    from rewriter import reading

    return reading.read_ingredient(line)


def strip(annotated: str) -> str:
    """The pasted text back, byte for byte; a text without a valid block comes back as it is.

    >>> strip("2 cups flour")
    '2 cups flour'
    """
    from rewriter import writing

    return writing.strip(annotated)


def load() -> Language:
    """The spaCy pipeline behind :func:`read`, loaded once."""
    from rewriter import reading

    return reading.load()


def second_reader() -> Callable[..., Any]:
    """``ingredient_parser.parse_ingredient``, loaded and ready to work offline."""
    from rewriter import reading

    return reading.second_reader()


def _feet(kitchen: Air) -> str:
    return f"{round(kitchen.elevation_ft)} ft"


def _known(what: str, name: str, names: Iterable[str]) -> None:
    names = tuple(names)
    if name not in names:
        raise Unusable(f'there is no {what} "{name}"', f"choose one of {', '.join(names)}")


def _review(doubts: list[Query], recipes: list[Recipe], plans: list[Plan], answers: tuple[Answer, ...]) -> list[Query]:
    """Every open question once, in reading order; what has been answered is no longer open."""
    answered = {answer.query for answer in answers}
    found = {query.id: query for query in doubts}
    for recipe, plan in zip(recipes, plans, strict=True):
        for query in (*recipe.queries, *plan.queries):
            if query.id not in answered:
                found.setdefault(query.id, query)
    return sorted(found.values(), key=lambda query: query.start)


def _notes(plans: list[Plan], kitchen: Air) -> list[str]:
    doubt = airs.doubt(kitchen)
    texts = [doubt] if doubt else []
    return list(dict.fromkeys([*texts, *(note.text for plan in plans for note in plan.notes)]))
