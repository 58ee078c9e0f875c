"""The one function of a batch: a row in, a line of JSON out; what goes wrong with a row is its outcome.

>>> Annotate(Settings("8,200 ft"))(Row(3, "empty card"))
b'{"row": 3, "id": "empty card", "error": "the paste is empty; paste a whole recipe, ...", "text": ""}'
"""

from __future__ import annotations

import traceback
from dataclasses import dataclass, replace
from typing import Any, Protocol

from rewriter import api, asjson, extras
from rewriter.batch.job import Row, Settings, as_json
from rewriter.errors import Unusable
from rewriter.model import Answer

SAMPLE = "Soda biscuits\n\n2 cups flour\n1 tsp baking soda\n1 cup buttermilk\n\nMix. Bake at 425 F for 12 minutes.\n"


class Task(Protocol):
    """What an engine runs: made ready once in every process, then called for row after row. It must be picklable."""

    def warm(self) -> None:
        """Load all that a first row would have to wait for."""

    def __call__(self, row: Row) -> bytes:
        """One line of JSON, without its end. Never raises an Exception."""


@dataclass(frozen=True, slots=True)
class Annotate:
    """Annotates a row. The line holds row and id, then either error and text, or what :func:`outcome` says."""

    settings: Settings

    def warm(self) -> None:
        """Load the pipeline, the tables and the style."""
        self(Row(1, "sample", SAMPLE))

    def __call__(self, row: Row) -> bytes:
        """One line of JSON. Whatever a recipe does to the program, the outcome says it.

        >>> b'"old": "1 tsp"' in Annotate(Settings("8,200 ft"))(Row(1, "biscuits", SAMPLE))
        True
        """
        if row.error:
            return as_json(aside(row, row.error))
        try:
            return as_json(outcome(row, self.settings))
        except Unusable as error:
            return as_json(aside(row, str(error)))
        except ModuleNotFoundError as error:
            return as_json(aside(row, extras.missing(error) or f"a fault of the program: {_place(error)}"))
        except Exception as error:  # a fault of ours in one recipe must not lose the others
            return as_json(aside(row, f"a fault of the program: {_place(error)}"))


def outcome(row: Row, settings: Settings) -> dict[str, Any]:
    """What became of a row: titles, kinds, text (annotated), changes, review, notes.

    With the form of its file where it came from one, and all that was read under "whole" where that is asked for.
    Raises Unusable where the row holds no recipe.
    """
    warnings: tuple[str, ...] = ()
    if row.file:
        row, warnings = _taken(row)
    result = api.rewrite(
        row.text,
        settings.elevation,
        settings.written_for,
        settings.guide,
        settings.strength,
        settings.style,
        [Answer(query, value) for query, value in row.answers],
        explain=settings.explain,
        barometer=settings.barometer,
        boils_at=settings.boils_at,
    )
    text, form = _in_its_form(result, row)
    found = {
        "row": row.number,
        "id": row.id,
        "titles": [recipe.title for recipe in result.recipes],
        "kinds": [recipe.kind for recipe in result.recipes],
        "text": text,
        "changes": asjson.plain(result.changes),
        "review": asjson.plain(result.review),
        "notes": [*warnings, *result.notes],
        **form,
    }
    if row.file:
        found |= {"suffix": ".txt", "warnings": list(warnings)}
    return {**found, "whole": result.to_dict()} if settings.record == "whole" else found


def aside(row: Row, error: str) -> dict[str, Any]:
    """A row that is set aside: its error, and its text as it was, so that it can be mended and given again."""
    kept = {"row": row.number, "id": row.id, "error": error, "text": row.text}
    return {**kept, "answers": dict(row.answers)} if row.answers else kept


def _taken(row: Row) -> tuple[Row, tuple[str, ...]]:
    """The row with the text of its file, and what is to be mistrusted in it. Raises Unusable where it has none."""
    from rewriter import intake

    taken = intake.take(row.file)
    return replace(row, text=taken.text, encoding="utf-8"), taken.warnings


def _in_its_form(result: api.Result, row: Row) -> tuple[str, dict[str, str]]:
    """The text, and the form its file can be written in: marks in plain ASCII where its encoding has no arrow."""
    if not row.encoding:
        return result.text, {}
    own = {"encoding": row.encoding, "mark": row.mark}
    if _fits(result.text, row.encoding):
        return result.text, own
    plain = result.restyled("ascii") if result.style == "inline" else ""
    if plain and _fits(plain, row.encoding):
        return plain, own
    return result.text, {"encoding": "utf-8", "mark": ""}


def _fits(text: str, encoding: str) -> bool:
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


def _place(error: Exception) -> str:
    frame = traceback.extract_tb(error.__traceback__)[-1]
    return f"{type(error).__name__}: {error} ({frame.name}, line {frame.lineno})"
