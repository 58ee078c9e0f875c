"""A list for two sizes of batch, or in two languages: one of the two was annotated, and the block says which."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Note

COLUMNS = (
    "The list holds amounts for two sizes of batch side by side. Only the first was annotated; change the other in the "
    "same proportion."
)
LANGUAGES = "The list says everything in two languages. Only the English amounts were annotated."
WORDS = {"batch-columns": COLUMNS, "second-language": LANGUAGES}


@for_recipe("twofold")
def twofold(case: Case) -> Iterator[Finding]:
    """Say that there is a second amount on each line, which stands as it was."""
    if case.kitchen.low:
        return
    for fact in case.recipe.facts:
        if fact.kind in WORDS:
            yield Note("watch", WORDS[fact.kind], "", fact.start, fact.end)
