"""Lists that say everything twice: the second of the two is said to be there."""

from __future__ import annotations

import pytest

import rewriter
from rewriter.reading.twofold import KINDS

COLUMNS = "Rolls\n\nflour   6 cups    12 cups\nmilk    2 cups    4 cups\nyeast   2 tbsp    4 tbsp\n"
HALVED = "Muffins\n\n2 cups (1 cup) flour\n1 cup (1/2 cup) sugar\n1 Tbsp (1 1/2 tsp) baking powder\n2 eggs (1 egg)\n"
STROKES = "Buns\n\n500 g / 1000 g flour\n300 g / 600 g milk\n10 g / 20 g yeast\n"
TWO_TONGUES = (
    "Tea bread\n\n2 cups flour / 2 tasses de farine\n1 cup sugar / 1 tasse de sucre\n"
    "2 tsp baking powder / 2 c. à thé de poudre à pâte\n1 cup milk / 1 tasse de lait\n"
)
DUAL = "Sponge\n\n4 oz (115 g) flour\n4 oz (115 g) sugar\n4 oz (115 g) butter\n2 eggs\n1 tsp baking powder\n"
ONCE = "Loaf\n\n2 cups flour\n1 cup sugar plus 2 Tbsp sugar\n1 cup (8 oz) milk\n2 tsp baking powder\n"
BAKE = "\nMix. Bake at 375 F for 20 minutes.\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (COLUMNS, [("batch-columns", "2")]),
        (HALVED, [("batch-columns", "1/2")]),
        (STROKES, [("batch-columns", "2")]),
        (TWO_TONGUES, [("second-language", "")]),
        (DUAL, []),
        (ONCE, []),
    ],
)
def test_what_is_said_twice_is_told(text: str, told: list[tuple[str, str]]) -> None:
    recipe = rewriter.read(text + BAKE)[0]
    assert [(fact.kind, fact.value) for fact in recipe.facts if fact.kind in KINDS] == told


@pytest.mark.parametrize(("text", "words"), [(COLUMNS, "two sizes of batch"), (TWO_TONGUES, "two languages")])
def test_the_block_says_which_was_annotated(text: str, words: str) -> None:
    result = rewriter.rewrite(text + BAKE, "8,200 ft")
    assert any(words in note for note in result.notes)
    assert words in result.text
    assert not any(words in note for note in rewriter.rewrite(text + BAKE, "1,000 ft").notes)
