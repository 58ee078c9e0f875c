"""When a reading says the same as a label: units, figures, heats and purposes in either's words.

>>> same_unit("coffee-cup", "coffee cup"), same_unit("each", "sheet"), same_unit("cup", "ml")
(True, True, False)
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from corpus.standoff import Mark, figures
from rewriter.model import Amount, Ingredient, Portion, Time

HOUSEHOLD = {
    "coffee-cup": "coffee cup",
    "egg-size": "size of an egg",
    "walnut-size": "size of a walnut",
    "nut-size": "size of a hickory nut",
    "yeast-cake": "cake",
}
PIECES = frozenset(
    ("", "-", "each", "piece", "loaf", "leaf", "sheet", "stalk", "sprig", "bunch", "block", "ball", "box", "square")
)
UNCOUNTED = frozenset(("pinch", "dash", "handful", "knob", "drop"))
UNLABELLED = frozenset(("store", "prep", "total", "active"))
"""Purposes of times that the labels leave out."""
PURPOSES = (
    {"stage", "soft-ball", "firm-ball", "hard-crack", "caramel", "boil", "thicken", "scald", "temper", "cook"},
    {"doneness", "check", "test"},
    {"proof", "rise", "ferment", "dough", "ingredients", "mix", "warm", "room", "frost"},
    {"chill", "cool", "retard", "store"},
    {"keep-warm", "hold"},
    {"reheat", "warm"},
    {"bake", "braise", "roast", "note", "altitude-note"},
    {"melt", "warm"},
)
TIMED = (
    {"rise", "proof", "ferment"},
    {"rest", "hold", "drain", "cool", "vent", "macerate"},
    {"chill", "retard", "freeze", "cool"},
    {"soak", "steep", "macerate"},
    {"mix", "beat", "knead"},
    {"cook", "heat", "warm", "reheat", "melt", "fry", "griddle", "toast"},
    {"simmer", "braise", "cook", "boil", "steam"},
    {"bake", "roast", "grill", "broil", "braise", "check", "test", "altitude-note"},
)


def _alike(classes: Sequence[set[str]], one: str, other: str) -> bool:
    return one == other or any(one in words and other in words for words in classes)


def purpose(labelled: str, read: str) -> bool:
    """Whether a heat is for the same."""
    return _alike(PURPOSES, labelled, read)


def times(labelled: str, read: str) -> bool:
    """Whether a time times the same."""
    return _alike(TIMED, labelled, read)


def same_unit(labelled: str, read: str) -> bool:
    """Whether two names are of the same unit; pieces of any name are counts."""
    return HOUSEHOLD.get(labelled, labelled) == read or (labelled in PIECES and read in PIECES)


def unit(mark: Mark, amount: Amount) -> bool:
    """Whether an amount has the unit labelled."""
    return same_unit(mark.get("Unit"), amount.unit)


def quantity(mark: Mark, amount: Amount) -> bool:
    """Whether an amount has the figure labelled, or both ends of the range; "pinch of salt" may be one or none."""
    if amount.quantity is None and amount.unit in UNCOUNTED and mark.get("Quantity") == "1":
        return True
    return figures(mark.get("Quantity")) == (amount.quantity, amount.quantity_max)


def amount(mark: Mark, read: Amount) -> bool:
    """Whether an amount is as labelled: figures, unit, and count of containers (one is none)."""
    count = figures(mark.get("Count"))[0] or Fraction(1)
    return quantity(mark, read) and unit(mark, read) and count == (read.count or 1)


def portion(mark: Mark, read: Portion) -> bool:
    """Whether a portion has the share, or the quantity and unit, labelled; a share without a figure may be any."""
    low = figures(mark.get("Quantity"))[0]
    if mark.get("Unit") == "share":
        return low is None or read.share == low
    return read.quantity == low and (low is None or same_unit(mark.get("Unit"), read.unit))


def head(word: str, ingredient: Ingredient) -> bool:
    """Whether an ingredient is the one whose head word is labelled.

    >>> head("sugar", Ingredient(0, 5, "granulated sugar", "sugar", "batter"))
    True
    """
    stem = word.lower().rstrip("s")
    return stem in ingredient.name.lower() or stem in (ingredient.key or "")


def name(labelled: str, read: str) -> bool:
    """Whether a name has the same words, whatever their case, blanks and hyphens.

    >>> name("plain  flour", "Plain flour"), name("flour", "plain flour")
    (True, False)
    """
    return re.findall(r"\w+", labelled.lower()) == re.findall(r"\w+", read.lower())


def minutes(mark: Mark, read: Time) -> bool:
    """Whether a time has the figures labelled."""
    return figures(mark.get("Minutes")) == (read.minutes, read.minutes_max)


def degrees(twins: Sequence[Mark], fahrenheit: Fraction | None) -> bool:
    """Whether a heat is within 3 F of a conventional figure labelled for it (of a fan's, 20 C less, within 9 F)."""
    if fahrenheit is None:
        return not any(_fahrenheit(twin.get("Figure"))[0] for twin in twins)
    return any(abs(value - fahrenheit) <= near for value, near in (_fahrenheit(twin.get("Figure")) for twin in twins))


def _fahrenheit(figure: str) -> tuple[Fraction, int]:
    """Degrees F of a labelled figure, and how near is near.

    Gas marks: 1 is 275 F, 25 F for each further one, 1/2 is 250 F (British Gas Council's table, from memory).
    """
    if figure.startswith("gas"):
        mark = figures(figure[3:])[0] or Fraction(0)
        return Fraction(250) + 25 * mark if mark >= 1 else Fraction(200) + 100 * mark, 3
    value = Fraction(re.findall(r"\d+", figure)[0])
    if "C" not in figure:
        return value, 3
    fan = figure.endswith("fan")
    return (value + 20 * fan) * 9 / 5 + 32, 9 if fan else 3


def shown(read: Amount | Portion) -> str:
    """A reading in a few words, for the list of mistakes."""
    high = f"..{read.quantity_max}" if isinstance(read, Amount) and read.quantity_max is not None else ""
    share = f" share {read.share}" if isinstance(read, Portion) and read.share is not None else ""
    count = f" x{read.count}" if isinstance(read, Amount) and read.count is not None else ""
    return f"{read.quantity}{high} {read.unit}{count}{share}"
