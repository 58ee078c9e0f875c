"""Oven settings: every figure of a setting from one exact Fahrenheit figure, written as it was written.

F and C go to the nearest 5 (an oven dial), gas to the nearest mark, oven words to the nearest word. A thermometer is
read to the degree; a syrup's figure goes to the whole degree below, since it is stopped early, never late.

>>> figure(Fraction(375), "C"), figure(Fraction(375), "fan-C"), figure(Fraction(375), "gas")
(Fraction(190, 1), Fraction(170, 1), Fraction(5, 1))
"""

from __future__ import annotations

import re
from fractions import Fraction

from rewriter.model import Heat, Twin
from rewriter.writing.manner import VULGAR
from rewriter.writing.scales import to_step

#: Midpoints of the ranges in use (NIST metric kitchen temperatures page).
WORDS = {
    "very slow": 250, "slow": 300, "moderately slow": 325, "moderate": 350, "moderately hot": 375, "hot": 400,
    "very hot": 450,
}  # fmt: skip
FIVE_NINTHS = Fraction(5, 9)
OVEN_STEP, THERMOMETER_STEP = Fraction(5), Fraction(1)
THERMOMETER = ("syrup", "food", "water")  # places where a thermometer is read to the degree
FAN_C, FAN_F = 20, 25  # common practice, no source
_FIGURE = re.compile(r"\d[\dOoIl]*(?:[.,]\d+)?(?:\s*/\s*\d+)?|[¼-¾]")  # a scanner reads 350 as 35O
_WORD = re.compile(
    r"\b(?:(?:very|rather|moderately|fairly|pretty|good)\s+)?(?:slow|moderate|medium|hot|quick|brisk|fast)\b", re.I
)


def figure(
    fahrenheit: Fraction, scale: str, fan: Fraction | None = None, step: Fraction = OVEN_STEP, below: bool = False
) -> Fraction:
    """An exact conventional-oven figure in another scale, rounded to what that dial shows.

    fan: how much lower this recipe sets a fan oven, in degrees of the scale; 20 C or 25 F where it does not say.
    step: degrees the dial or thermometer shows. below: to the degree below, not the nearest.
    """
    if below and scale in ("F", "C"):
        return (_celsius(fahrenheit) if scale == "C" else fahrenheit) // step * step
    if scale == "C":
        return to_step(_celsius(fahrenheit), step)
    if scale == "fan-C":
        return to_step(_celsius(fahrenheit) - (FAN_C if fan is None else fan), step)
    if scale == "fan-F":
        return to_step(fahrenheit - (FAN_F if fan is None else fan), step)
    if scale == "gas":
        return gas_mark(fahrenheit)
    return to_step(fahrenheit, step)


def _celsius(fahrenheit: Fraction) -> Fraction:
    return (fahrenheit - 32) * FIVE_NINTHS


def gas_mark(fahrenheit: Fraction) -> Fraction:
    """The nearest gas mark: 1 is 275 F and each mark 25 F; below it the marks 1/2 (250 F) and 1/4 (225 F).

    >>> gas_mark(Fraction(375)), gas_mark(Fraction(252))
    (Fraction(5, 1), Fraction(1, 2))
    """
    mark = to_step((fahrenheit - 250) / 25, Fraction(1))
    if mark >= 1:
        return mark
    return Fraction(1, 2) if fahrenheit >= Fraction(475, 2) else Fraction(1, 4)


def written(text: str, new: Fraction, new_max: Fraction | None = None) -> str:
    """``text`` with its figure (both figures of a range) replaced.

    >>> written("350 to 375 degrees F.", Fraction(365), Fraction(390))
    '365 to 390 degrees F.'
    """
    figures = [_dial(new), _dial(new if new_max is None else new_max)]
    found = list(_FIGURE.finditer(text))
    if not found:
        return text
    if new_max is not None and len(found) > 1 and figures[0] == figures[1]:
        return text[: found[0].start()] + figures[0] + text[found[1].end() :]
    out, at = "", 0
    for index, match in enumerate(found[: 2 if new_max is not None else 1]):
        out += text[at : match.start()] + figures[index]
        at = match.end()
    return out + text[at:]


def _dial(value: Fraction) -> str:
    return VULGAR.get(value) or str(value)


def in_words(text: str, fahrenheit: Fraction, figured: bool = False) -> str:
    """An oven word moved to the word nearest the new figure, with the figure beside it.

    figured: whether the setting gives a figure of its own, which then is not said again.

    >>> in_words("a moderate oven", Fraction(375))
    'a moderately hot oven, 375 F'
    """
    word = min(WORDS, key=lambda name: abs(WORDS[name] - fahrenheit))
    match = _WORD.search(text)
    if match is None:
        return f"{to_step(fahrenheit, Fraction(5))} F"
    moved = f"{text[: match.start()]}{word}{text[match.end() :]}"
    return moved if figured else f"{moved}, {to_step(fahrenheit, OVEN_STEP)} F"


def fan_drop(heat: Heat, scale: str) -> Fraction | None:
    """How much lower this recipe's fan figure stands than its conventional one, where it gives both in one scale."""
    base = scale.removeprefix("fan-")
    figures = {twin.scale: twin.value for twin in heat.twins}
    figures[heat.scale] = heat.value if heat.value is not None else heat.fahrenheit
    plain, fan = figures.get(base), figures.get(scale)
    return plain - fan if plain is not None and fan is not None and 0 < plain - fan <= 50 else None


def reset(setting: Heat | Twin, heat: Heat | None, text: str, exact: Fraction, exact_max: Fraction | None) -> str:
    """One written figure of a setting, set to ``exact`` degrees F (conventional); ``text`` is how it stands."""
    scale = setting.scale
    if scale == "word":
        return in_words(text, exact, heat is not None and any(twin.scale != "word" for twin in heat.twins))
    fan = fan_drop(heat, scale) if heat is not None and scale.startswith("fan") else None
    step = THERMOMETER_STEP if heat is not None and heat.place in THERMOMETER else OVEN_STEP
    below = heat is not None and heat.place == "syrup"
    top = None if exact_max is None else figure(exact_max, scale, fan, step, below)
    return written(text, figure(exact, scale, fan, step, below), top)
