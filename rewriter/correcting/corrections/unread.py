"""A title and a heat that promise a batter, and no flour or egg found for it: said, never passed over."""

from __future__ import annotations

from collections.abc import Iterator

from rewriter.correcting.policy import policy
from rewriter.correcting.registry import Case, Finding, for_recipe
from rewriter.model import Note

# What a batter is built on (common practice, no source).
STRUCTURE = frozenset(("flour", "starch", "self-rising", "egg", "leavener", "yeast"))
UNREAD = (
    "No measured flour or egg was found for this bake ({kind}), so its batter was left as it is. If the list is run "
    "together, put one ingredient to a line, the amount first, and annotate it again."
)


@for_recipe("unread")
def unread(case: Case) -> Iterator[Finding]:
    """Say when a kind of bake that altitude changes has nothing it could be changed in."""
    kind = case.recipe.kind
    if case.kitchen.low or policy(kind).still:
        return
    if not any(one.role in STRUCTURE and one.amounts for one in case.recipe.ingredients):
        yield Note("watch", UNREAD.format(kind=kind.replace("-", " ")), "", case.recipe.start, case.recipe.start)
