"""The reading pipeline: spaCy components, one after the other, each leaving its findings on the Doc.

``recipe_names`` and ``recipe_amounts`` find words and figures, ``recipe_layout`` where things stand,
``recipe_heats`` heats, times and facts, ``recipe_builder`` the recipes. Findings are in ``doc.user_data`` under the
component's last word and, as spans, in ``doc.spans``; offsets always count characters of the pasted text.

>>> load().pipe_names
['recipe_names', 'recipe_amounts', 'recipe_layout', 'recipe_heats', 'recipe_builder']
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Protocol, cast

import spacy
from spacy.language import Language
from spacy.tokens import Doc, Span

from rewriter.model import Answer, Ingredient, Recipe
from rewriter.reading import amounts as _amounts
from rewriter.reading import tokens as _tokens  # registers the tokenizer
from rewriter.reading.answers import Given
from rewriter.reading.columns import with_units
from rewriter.reading.facts import find_facts
from rewriter.reading.findings import Findings
from rewriter.reading.heats import find_heats
from rewriter.reading.layout import Layout, Line, lay_out
from rewriter.reading.lines import read_line
from rewriter.reading.names import NameFinder
from rewriter.reading.recipes import build
from rewriter.reading.times import find_times

TOKENIZER = "rewriter.RecipeTokenizer.v1"
COMPONENTS = ("recipe_names", "recipe_amounts", "recipe_layout", "recipe_heats", "recipe_builder")
assert _tokens.create_recipe_tokenizer


class _Placed(Protocol):
    @property
    def start(self) -> int: ...
    @property
    def end(self) -> int: ...


def _spans(doc: Doc, group: str, found: Iterable[_Placed], label: str) -> None:
    """Lay findings down as a span group, widened to whole tokens; a Doc without tokens has none."""
    placed = found if len(doc) else ()
    spans = [doc.char_span(one.start, one.end, label=label, alignment_mode="expand") for one in placed]
    doc.spans[group] = [span for span in spans if span is not None]


def _text(doc: Doc) -> str:
    """The pasted text; built from the tokens only once, because that is slow."""
    if "text" not in doc.user_data:
        doc.user_data["text"] = doc.text
    return cast("str", doc.user_data["text"])


class NamesComponent:
    """``recipe_names``: the pantry's names, in ``doc.user_data["names"]``."""

    def __init__(self, nlp: Language) -> None:
        self.finder = NameFinder()

    def __call__(self, doc: Doc) -> Doc:
        doc.user_data["names"] = self.finder.find(_text(doc))
        return doc


@Language.factory("recipe_names")
def create_names(nlp: Language, name: str) -> NamesComponent:  # noqa: ARG001 - spaCy passes a name
    """The factory of :class:`NamesComponent`."""
    return NamesComponent(nlp)


@Language.component("recipe_amounts")
def recipe_amounts(doc: Doc) -> Doc:
    """Every measure of the text, in ``doc.user_data["amounts"]``."""
    doc.user_data["amounts"] = _amounts.find(_text(doc))
    return doc


@Language.component("recipe_layout")
def recipe_layout(doc: Doc) -> Doc:
    """The layouts, in ``doc.user_data["layout"]``, and the names and amounts ready to be sliced, in "found"."""
    text = _text(doc)
    found = Findings(text, doc.user_data["names"], doc.user_data["amounts"])

    def named(line: Line) -> bool:
        return bool(found.names_in(line.start, line.end))

    layouts = lay_out(text, named)
    amounts = with_units(doc.user_data["amounts"], (line for layout in layouts for line in layout.listed))
    doc.user_data["found"] = found if amounts is doc.user_data["amounts"] else Findings(text, found.names, amounts)
    doc.user_data["layout"] = layouts
    return doc


@Language.component("recipe_heats")
def recipe_heats(doc: Doc) -> Doc:
    """Heats, times and facts of each layout, in ``doc.user_data["heats"]`` as one triple a recipe."""
    text = _text(doc)
    layouts: Sequence[Layout] = doc.user_data["layout"]
    found = []
    for layout in layouts:
        times = find_times(text, layout.start, layout.end)
        facts = find_facts(text, layout.start, layout.end, times)
        found.append((find_heats(text, layout.start, layout.end), times, facts))
    doc.user_data["heats"] = found
    return doc


@Language.component("recipe_builder")
def recipe_builder(doc: Doc) -> Doc:
    """The recipes, in ``doc.user_data["recipes"]``; a person's answers come from ``doc.user_data["answers"]``."""
    given = Given(doc.user_data.get("answers", ()))
    recipes = [
        build(layout, doc.user_data["found"], heats, times, facts, given)
        for layout, (heats, times, facts) in zip(doc.user_data["layout"], doc.user_data["heats"], strict=True)
    ]
    doc.user_data["recipes"] = recipes
    _spans(doc, "ingredients", (one for recipe in recipes for one in recipe.ingredients), "INGREDIENT")
    _spans(doc, "heats", (one for recipe in recipes for one in recipe.heats), "HEAT")
    return doc


_BROKEN = re.compile("[\ud800-\udfff]")
"""Half of a character, as a broken program passes it on: spaCy keeps no word that holds one."""


@lru_cache(maxsize=1)
def load() -> Language:
    """The pipeline behind :func:`read`, loaded once."""
    nlp = spacy.blank("en", config={"nlp": {"tokenizer": {"@tokenizers": TOKENIZER}}})
    for component in COMPONENTS:
        nlp.add_pipe(component)
    return nlp


def read(text: str, answers: Sequence[Answer] = ()) -> list[Recipe]:
    r"""Every recipe in the paste, with offsets into it.

    answers: what a person said of the reading; see :class:`rewriter.model.Answer`. Raises
    :class:`rewriter.reading.answers.AnswerError` where an answer does not fit.

    >>> recipe = read("Bread\n\n3 cups flour\n1 cup water\n1 tsp yeast\n\nMix. Bake at 425 F.")[0]
    >>> [one.role for one in recipe.ingredients]
    ['flour', 'liquid', 'yeast']
    """
    nlp = load()
    ours = len(nlp.pipeline) == len(COMPONENTS)  # which look at the text alone; tokens are for those that others add
    bare = ours and len(text) <= nlp.max_length  # a longer text is refused, as spaCy refuses it
    doc = Doc(nlp.vocab) if bare else nlp.make_doc(_BROKEN.sub("\ufffd", text))
    doc.user_data["answers"] = answers
    doc.user_data["text"] = text
    for _, component in nlp.pipeline:
        doc = component(doc)
    return cast("list[Recipe]", doc.user_data["recipes"])


@lru_cache(maxsize=1)
def _finder() -> NameFinder:
    return cast("NamesComponent", load().get_pipe("recipe_names")).finder


def read_ingredient(line: str) -> Ingredient:
    """One ingredient line alone.

    >>> one = read_ingredient("2 x 400g tins chopped tomatoes")
    >>> str(one.amounts[0].quantity), one.amounts[0].unit, str(one.amounts[0].count)
    ('400', 'g', '2')
    """
    finder = _finder()
    names = finder.find(line)
    start = len(line) - len(line.lstrip(" \t*•▢☐-–"))
    return read_line(line, start, len(line.rstrip()), names, _amounts.find(line, start))


__all__ = ["COMPONENTS", "TOKENIZER", "Span", "load", "read", "read_ingredient"]
