"""A bake whose batter was not found says so; one whose batter was found, or that altitude leaves alone, does not."""

from __future__ import annotations

import pytest

from rewriter import rewrite

SAYS = "No measured flour or egg was found"
BARE = "Waffles\n\nthe usual dry things\n2 tbsp sugar\n1 3/4 cups milk\n\nBake in a hot waffle iron."
LISTED = "Waffles\n\n2 cups flour\n4 tsp baking powder\n2 eggs\n1 3/4 cups milk\n\nBake in a hot iron."
CUSTARD = "Custard sauce\n\n2 cups milk\n1/4 cup sugar\n\nStir over low heat until it coats a spoon."


@pytest.mark.parametrize(
    ("text", "feet", "says"),
    [(BARE, 6500, True), (BARE, 1000, False), (LISTED, 6500, False), (CUSTARD, 6500, False)],
)
def test_a_batter_that_was_not_found_is_said(text: str, feet: int, says: bool) -> None:
    assert (SAYS in rewrite(text, elevation=f"{feet} ft").text) is says
