"""The second reader: ingredient-parser-nlp, asked only where the pantry does not know a name of the batter.

It needs a part-of-speech tagger, which it would fetch over the network; ours is shipped (``tagger``, trained by
``corpus/train_tagger.py``) and found first, so that nothing is ever fetched and nothing printed.

>>> second_opinion("1½ cups sifted grommet meal")
Opinion(name='grommet meal', confidence=..., amounts=((Fraction(3, 2), 'cup'),))
"""

from __future__ import annotations

import sys
import warnings
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from importlib import resources
from typing import Any, cast

from rewriter import pantry
from rewriter.model import Ingredient
from rewriter.reading.garbled import garbled
from rewriter.reading.lines import weigh
from rewriter.reading.units import MASS, VOLUME, canonical

SURE = 0.9
"""How confident the second reader must be of a name for its row to be taken without a question."""


@dataclass(frozen=True, slots=True)
class Opinion:
    """What the second reader says of a line: the name, how sure it is (0 to 1), and each quantity with its unit."""

    name: str
    confidence: float
    amounts: tuple[tuple[Fraction, str], ...]


@lru_cache(maxsize=1)
def second_reader() -> Callable[..., Any]:
    """``ingredient_parser.parse_ingredient``, loaded and ready to work offline.

    Raises FileNotFoundError where the tagger was not installed with the package (the parser would fetch another).

    >>> second_reader()("2 cups rye flour", string_units=True).name[0].text
    'rye flour'
    """
    home = resources.files("rewriter.reading") / "tagger"
    if not (home / "taggers").is_dir():
        raise FileNotFoundError(f"the second reader's tagger is missing from {home}")
    with redirect_stdout(sys.stderr), warnings.catch_warnings():  # its import sets a filter for the whole program
        import nltk.data

        if str(home) not in nltk.data.path:
            nltk.data.path.insert(0, str(home))
        from ingredient_parser import parse_ingredient
    return cast("Callable[..., Any]", parse_ingredient)


@lru_cache(maxsize=512)
def second_opinion(line: str) -> Opinion | None:
    """What the second reader makes of one ingredient line; None where it finds no name."""
    found = second_reader()(line, string_units=True)
    if not found.name:
        return None
    amounts = tuple(
        (one.quantity, canonical(one.unit) if one.unit else "each")
        for amount in found.amount
        for one in getattr(amount, "amounts", (amount,))  # a sum is one amount of several
        if isinstance(one.quantity, Fraction)
    )
    return Opinion(found.name[0].text, float(found.name[0].confidence), amounts)


def consult(
    ingredients: Sequence[Ingredient], text: str, corrected: Callable[[list[Ingredient]], bool]
) -> list[Ingredient]:
    """The ingredients, those of the batter that the pantry does not know looked at again.

    First as a scanner may have garbled them; then, where ``corrected`` says that this recipe's amounts are changed at
    all, by the second reader. A name that neither settles keeps role "other" and ``sure`` False. Costs nothing where
    every measured name is known.
    """
    known = list(ingredients)
    unknown = [k for k, one in enumerate(known) if _unknown(one)]
    for k in unknown:
        known[k] = _as(known[k], garbled(known[k].name), True)
    unknown = [k for k in unknown if _unknown(known[k])]
    if unknown and corrected(known):
        for k in unknown:
            known[k] = _asked(known[k], text)
    return known


def _unknown(one: Ingredient) -> bool:
    """Whether an ingredient is of the batter, measured by weight or volume, and not in the pantry."""
    if one.key is not None or one.role != "other" or one.part != "batter":
        return False
    return any(amount.quantity is not None and (amount.unit in MASS or amount.unit in VOLUME) for amount in one.amounts)


def _as(one: Ingredient, key: str | None, sure: bool) -> Ingredient:
    if key is None:
        return one
    grams, spread = weigh(key, one.amounts)
    return replace(one, key=key, role=pantry.entry(key).role, grams=grams, grams_range=spread, sure=sure)


def _asked(one: Ingredient, text: str) -> Ingredient:
    """An ingredient as the second reader sees it: settled where its amounts agree and the pantry knows its name."""
    opinion = second_opinion(text[one.start : one.end])
    if opinion is None:
        return one
    row = pantry.find(opinion.name)
    key = row.key if row else garbled(opinion.name)
    agrees = any(
        amount.quantity == quantity and amount.unit == unit
        for amount in one.amounts
        for quantity, unit in opinion.amounts
    )
    return _as(one, key, agrees and opinion.confidence >= SURE)
