"""The tokenizer and the names found over its tokens."""

from __future__ import annotations

import pytest
import spacy
from hypothesis import given
from hypothesis import strategies as st

from rewriter.reading.names import Name
from rewriter.reading.pipeline import load
from rewriter.reading.tokens import RecipeTokenizer

VOCAB = spacy.blank("en").vocab
TOKENIZER = RecipeTokenizer(VOCAB)


def names_in(text: str) -> list[Name]:
    """The pantry's names in a text, as the pipeline finds them."""
    found: list[Name] = load()(text).user_data["names"]
    return found


@given(st.text(max_size=300))
def test_every_byte_is_kept(text: str) -> None:
    assert TOKENIZER(text).text == text


@pytest.mark.parametrize(
    ("text", "tokens"),
    [
        ("1/4cup milk", ["1", "/", "4", "cup", "milk"]),
        ("2 cupsflour", ["2", "cups", "flour"]),
        ("all-purpose", ["all", "-", "purpose"]),
        ("cupcakes", ["cupcakes"]),
        ("confectioners' sugar", ["confectioners", "'", "sugar"]),
        ("100g", ["100", "g"]),
    ],
)
def test_tokens(text: str, tokens: list[str]) -> None:
    assert [token.text for token in TOKENIZER(text)] == tokens


def test_it_is_saved_and_loaded_as_nothing() -> None:
    assert TOKENIZER.to_bytes() == b""
    assert TOKENIZER.from_bytes(b"") is TOKENIZER


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("2 cups all-purpose flour", ["all-purpose-flour"]),
        ("baking-powder and salt", ["baking-powder", "salt"]),
        ("baking\npowder", ["baking-powder"]),
        ("COCOA", ["cocoa"]),
        ("brown sugar", ["brown-sugar"]),
        ("nothing here", []),
    ],
)
def test_names(text: str, keys: list[str]) -> None:
    assert [name.key for name in names_in(text)] == keys


@given(
    st.lists(
        st.sampled_from("brown sugar baking soda powder milk egg yolk - \n , butter flour of".split(" ")), max_size=12
    )
)
def test_names_lie_in_order_without_overlap(words: list[str]) -> None:
    text, at = " ".join(words), 0
    for name in names_in(text):
        assert at <= name.start < name.end
        assert name.text == text[name.start : name.end]
        at = name.end
