"""Heats: every oven, oil, syrup, food and water temperature a text sets, with its place and purpose.

>>> text = "Preheat the oven to 350°F (177°C). Bake 20 min., lower to 325 and bake until the center reads 200°F."
>>> [(h.text, str(h.fahrenheit), h.place, h.purpose) for h in find_heats(text)]
[('350°F', '350', 'oven', 'preheat'), ('325', '325', 'oven', 'bake'), ('200°F', '200', 'food', 'doneness')]
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import islice

from rewriter.model import Heat, Twin
from rewriter.reading import degrees, oven_words
from rewriter.reading.clauses import plain
from rewriter.reading.degrees import Degrees, Figure
from rewriter.reading.settings import Setting, settings
from rewriter.reading.whereabouts import Whereabouts, spoken_of, whereabouts

_METRIC = re.compile(r"\d ?(?:g|grams?|ml|kg)\b")
_CUPS = re.compile(r"\bcups?\b|\btbsp|\btablesp|\btsp|\boz\b|\bsticks?\b|\bounces?\b")
_FAN_F, _FAN_C = 25, 20
"""What a fan oven stands lower than a conventional one: 25 F or 20 C (common practice, no source)."""


_exact = lru_cache(maxsize=1024)(Fraction)


def to_fahrenheit(celsius: Degrees) -> Fraction:
    """Degrees F, exact.

    >>> to_fahrenheit(Fraction(180))
    Fraction(356, 1)
    """
    return _exact(degrees.fahrenheit(celsius))


@lru_cache(maxsize=1024)
def to_celsius(fahrenheit: Degrees) -> Fraction:
    """Degrees C, exact.

    >>> to_celsius(Fraction(350))
    Fraction(530, 3)
    """
    return (fahrenheit - 32) * Fraction(5, 9)


def find_heats(text: str, start: int = 0, end: int | None = None) -> list[Heat]:
    """Every heat set in ``text[start:end]``, in reading order, with offsets into ``text``.

    The figure written first is the heat; others of the same setting (C beside F, gas mark, fan) are its twins.
    fahrenheit and celsius are the conventional oven's: as written where written, else converted exactly.
    A number without a letter is read by its size, its place and the recipe's other figures; where these leave it
    open, ``sure`` is False. Never raises.
    """
    piece = text[start:end]
    low = plain(piece)
    numbers = degrees.scan(piece, low)
    lettered = [figure for figure in numbers if figure.kind != "bare"]
    figures = numbers + (oven_words.scan(low, lettered) if "oven" in low or "bak" in low else [])
    if not figures:
        return []
    found = settings(low, sorted(figures, key=lambda figure: figure.start))
    metric = _metric(low, found)
    heats = []
    for setting in found:
        where = whereabouts(piece, low, setting)
        if where:
            heats.append(_heat(piece, setting, where, metric, start))
    return _followed(low, heats, start)


def _metric(low: str, found: list[Setting]) -> bool | None:
    """Whether the text thinks in Celsius (True), in Fahrenheit (False) or does not tell (None)."""
    scales = {figure.scale for setting in found for figure in setting.figures}
    if "F" in scales:
        return False
    if "C" in scales or "gas" in scales:
        return True
    grams, cups = bool(_METRIC.search(low)), bool(_CUPS.search(low))
    return grams if grams != cups else None


def _scale(value: Degrees, where: Whereabouts, metric: bool | None) -> tuple[str, bool]:
    """F or C for a number without a letter, and whether that is sure."""
    low, high = {
        "oven": (140, 265), "oil": (140, 225), "syrup": (100, 205),
        "water": (46, 60), "food": (25, 99), "pan": (140, 260),
    }[where.place]  # fmt: skip
    if value > high:
        return "F", True
    if where.place == "oven" and where.purpose in ("keep-warm", "proof", "dry"):
        return ("C" if metric else "F"), metric is not None
    if value < low:
        return "C", where.place != "oven"
    if where.place == "oven" and value < 200:
        return "C", metric is not None
    if metric is None:
        return "F", where.place == "food"
    return ("C" if metric else "F"), True


def _heat(text: str, setting: Setting, where: Whereabouts, metric: bool | None, shift: int) -> Heat:
    sure = setting.sure and where.sure
    figures: list[tuple[Figure, str]] = []
    for figure, fan in zip(setting.figures, setting.fans, strict=True):
        scale = figure.scale
        if not scale and fan and figures and figures[0][1] in "FC":
            scale = figures[0][1]  # "180/160 fan": the letter the oven itself is read in
        elif not scale:
            scale, told = _scale(figure.low, where, metric)
            sure = sure and (told or _by_gas(figure.low, scale, setting))
        figures.append((figure, f"fan-{scale}" if fan and scale in "FC" else scale))
    first, scale = figures[0]
    sure = sure or (where.place == "oven" and scale in ("F", "C") and _by_gas(first.low, scale, setting))
    fahrenheit, celsius, maximum = _figures(figures)
    twins = tuple(
        Twin(f.start + shift, f.end + shift, f.text(text), None if s == "word" else _written(f, s), s)
        for f, s in figures[1:]
    )
    return Heat(
        first.start + shift, first.end + shift, first.text(text), fahrenheit, celsius, twins,
        where.place, where.purpose, sure, scale,
        None if scale == "word" else _written(first, scale), maximum,
    )  # fmt: skip


def _by_gas(value: Degrees, scale: str, setting: Setting) -> bool:
    """Whether a gas mark of the same setting bears a bare number's scale out."""
    fahrenheit = value if scale == "F" else degrees.fahrenheit(value)
    return any(figure.scale == "gas" and -20 <= figure.low - fahrenheit <= 20 for figure in setting.figures)


def _written(figure: Figure, scale: str) -> Fraction:
    """The figure as written: a gas mark's own number, else its degrees."""
    return degrees.mark(figure.low) if scale == "gas" else _exact(figure.low)


def _figures(figures: list[tuple[Figure, str]]) -> tuple[Fraction, Fraction, Fraction | None]:
    """The conventional oven's degrees F and C, and the upper end in F of a range."""
    by = {scale: figure for figure, scale in reversed(figures)}
    fahrenheit: Degrees
    high: Degrees | None = None
    if "F" in by:
        fahrenheit, high = by["F"].low, by["F"].high
    elif "C" in by:
        top = by["C"].high
        fahrenheit, high = degrees.fahrenheit(by["C"].low), None if top is None else degrees.fahrenheit(top)
    elif "gas" in by or "word" in by:
        row = by["gas"] if "gas" in by else by["word"]
        fahrenheit, high = row.low, row.high
    elif "fan-F" in by:
        fahrenheit = by["fan-F"].low + _FAN_F
    else:
        fahrenheit = degrees.fahrenheit(by["fan-C"].low + _FAN_C)
    celsius = _exact(by["C"].low) if "C" in by else to_celsius(fahrenheit)
    return _exact(fahrenheit), celsius, None if high is None else _exact(high)


def _followed(low: str, heats: list[Heat], shift: int) -> list[Heat]:
    """Preheating for roasting or toasting alone is told by what follows, up to the next oven setting."""
    for i, heat in enumerate(heats):
        if heat.place != "oven" or heat.purpose != "preheat":
            continue
        after = (h.start for h in islice(heats, i + 1, i + 15) if h.place == "oven" and h.fahrenheit != heat.fahrenheit)
        stop = next(after, shift + len(low)) - shift
        verb = spoken_of(low, heat.end - shift, min(stop, heat.end - shift + 2500))
        if verb in ("roast", "toast"):
            heats[i] = replace(heat, purpose=verb)
    return heats
