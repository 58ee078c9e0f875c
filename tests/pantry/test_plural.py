"""Plurals of ingredient names. Source: ordinary English spelling rules."""

from __future__ import annotations

import pytest

from rewriter import pantry
from rewriter.pantry.plural import plural


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("egg", "eggs"),
        ("egg white", "egg whites"),
        ("cherry", "cherries"),
        ("turkey", "turkeys"),
        ("peach", "peaches"),
        ("radish", "radishes"),
        ("box", "boxes"),
        ("potato", "potatoes"),
        ("mango", "mangoes"),
        ("avocado", "avocados"),
        ("bay leaf", "bay leaves"),
        ("walnut half", "walnut halves"),
        ("clove of garlic", "cloves of garlic"),
        ("peach in syrup", "peaches in syrup"),
        ("corn on the cob", "corn on the cob"),
        ("butternut squash", "butternut squash"),
        ("molasses", "molasses"),
        ("chocolate chip", "chocolate chips"),
    ],
)
def test_plural(one: str, many: str) -> None:
    assert plural(one) == many


@pytest.mark.parametrize(
    ("phrase", "key"),
    [
        ("eggs", "egg"),
        ("whites of eggs", "egg-white"),
        ("yolks of eggs", "egg-yolk"),
        ("cloves garlic", "garlic"),
        ("squares of chocolate", "unsweetened-chocolate"),
        ("cakes of yeast", "fresh-yeast"),
        ("cherries", "cherry"),
        ("bananas", "banana"),
    ],
)
def test_plurals_are_phrases(phrase: str, key: str) -> None:
    assert dict(pantry.phrases())[phrase] == key


def test_mass_nouns_take_none() -> None:
    phrases = dict(pantry.phrases())
    assert "baking sodas" not in phrases
    assert "flours" not in phrases
