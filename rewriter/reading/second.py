"""The second reader: ingredient-parser-nlp, asked only where the pantry does not know a name of the batter.

It needs a part-of-speech tagger, which it would fetch over the network; ours is shipped (``tagger``, trained by
``corpus/train_tagger.py``) and found first, so that nothing is ever fetched and nothing printed.

>>> second_opinion("1½ cups sifted grommet meal")
Opinion(name='grommet meal', confidence=..., amounts=((Fraction(3, 2), 'cup'),))
"""

from __future__ import annotations

import re
import sys
import threading
import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, redirect_stdout
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from types import ModuleType
from typing import Any, cast

from rewriter import pantry
from rewriter.model import Ingredient
from rewriter.reading.garbled import garbled
from rewriter.reading.lines import weigh
from rewriter.reading.units import APPROXIMATE, MASS, VOLUME, canonical

HOME = Path(__file__).parent / "tagger"
_WORD = re.compile(r"[^\W\d_]{3,}")
_BRACKETS = re.compile(r"\([^()]*\)?")
TAGGER = "averaged_perceptron_tagger_eng"
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

    Raises FileNotFoundError where NLTK cannot read the tagger installed with the package (the parser would fetch one).

    >>> second_reader()("2 cups rye flour", string_units=True).name[0].text
    'rye flour'
    """
    with redirect_stdout(sys.stderr), warnings.catch_warnings():  # its import sets a filter for the whole program
        warnings.simplefilter("ignore")
        return _ready(HOME) or _ready_from_copy(HOME)


def _ready(home: Path) -> Callable[..., Any] | None:
    """The parser with its tagger loaded from ``home``; None where NLTK will not read it there."""
    with _without_scipy():
        import nltk.data

    nltk.data.path.insert(0, str(home))
    try:
        for part in ("classes", "tagdict", "weights"):
            nltk.data.find(f"taggers/{TAGGER}/{TAGGER}.{part}.json", [str(home)])
        from ingredient_parser import parse_ingredient

        parse_ingredient("1 cup milk")  # the tagger is loaded with the first line, and kept
    except LookupError:
        return None
    finally:
        nltk.data.path.remove(str(home))
    return cast("Callable[..., Any]", parse_ingredient)


@contextmanager
def _without_scipy() -> Iterator[None]:
    """NLTK's import without scipy, which it takes along only for tests of significance that nobody here runs.

    It spares a cold start half a second. Not where scipy is loaded already, or where another thread may ask for it.
    """
    if "scipy" in sys.modules or threading.active_count() > 1:
        yield
        return
    sys.modules["scipy"] = cast("ModuleType", None)  # an import of it raises ImportError (reference of sys.modules)
    try:
        yield
    finally:
        del sys.modules["scipy"]


def _ready_from_copy(home: Path) -> Callable[..., Any]:
    """The parser by a private copy of the tagger: NLTK reads no folder that others may write to (a shared checkout)."""
    with TemporaryDirectory(prefix="rewriter-") as private:
        copy = Path(private) / "tagger"
        for path in home.glob("taggers/*/*.json"):
            place = copy / path.relative_to(home)
            place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            place.write_bytes(path.read_bytes())
            place.chmod(0o600)
        for folder in (copy, copy / "taggers", copy / "taggers" / TAGGER):
            if folder.is_dir():
                folder.chmod(0o700)
        parse = _ready(copy)
    if parse is None:
        raise FileNotFoundError(f"the second reader's tagger cannot be read from {home}")
    return parse


@lru_cache(maxsize=512)
def second_opinion(line: str) -> Opinion | None:
    """What the second reader makes of one ingredient line; None where it finds no name, or fails ("4/0 cup")."""
    try:
        found = second_reader()(line, string_units=True)
    except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError):
        return None
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
    """The ingredients, those that the pantry does not know looked at again.

    First as a scanner may have garbled them; then those of the batter, where ``corrected`` says that this recipe's
    amounts are changed at all and the line has more words than the name, by the second reader. A name that neither
    settles keeps role "other" and ``sure`` False. Costs nothing where every measured name is known.
    """
    known = [_as(one, garbled(one.name), True) if _unknown(one) else one for one in ingredients]
    lines = {k: _line(one, text) for k, one in enumerate(known) if one.part == "batter" and _unknown(one)}
    lines = {k: line for k, line in lines.items() if line}
    if lines and corrected(known):
        for k, line in lines.items():
            known[k] = _asked(known[k], line)
    return known


def _line(one: Ingredient, text: str) -> str:
    """What the second reader is shown of an ingredient; "" where it holds no words but the name we have looked up.

    >>> from rewriter.model import Amount
    >>> cup = (Amount(0, 5, "1 cup", Fraction(1), unit="cup"),)
    >>> one = Ingredient(0, 12, "quibble", "other", "batter", cup, name_start=6, name_end=13)
    >>> _line(one, "1 cup quibble"), _line(one, "1 cup quibble, rye ground fine")
    ('', '1 cup quibble, rye ground fine')
    """
    end = max(one.end, one.name_end)
    if one.listed:
        after = text.find("\n", end)
        end = after if after >= 0 else len(text)
    line = text[one.start : end]
    rest = line
    for start, stop in ((one.name_start, one.name_end), *((amount.start, amount.end) for amount in one.amounts)):
        low, high = max(0, start - one.start), max(0, stop - one.start)
        rest = rest[:low] + " " * (high - low) + rest[high:]
    said = [word for word in _WORD.findall(_BRACKETS.sub(" ", rest)) if word.lower() not in APPROXIMATE]
    return line.strip() if said else ""


def _unknown(one: Ingredient) -> bool:
    """Whether an ingredient is measured by weight or volume, and not in the pantry."""
    if one.key is not None or one.role != "other":
        return False
    return any(amount.quantity is not None and (amount.unit in MASS or amount.unit in VOLUME) for amount in one.amounts)


def _as(one: Ingredient, key: str | None, sure: bool) -> Ingredient:
    if key is None:
        return one
    grams, spread = weigh(key, one.amounts)
    return replace(one, key=key, role=pantry.entry(key).role, grams=grams, grams_range=spread, sure=sure)


def _asked(one: Ingredient, line: str) -> Ingredient:
    """An ingredient as the second reader sees it: settled where its amounts agree and the pantry knows its name."""
    opinion = second_opinion(line)
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
