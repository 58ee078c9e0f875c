"""The air of a kitchen: from its elevation, a barometer or a boiling test to pressure and boiling point.

The physics stand in :mod:`rewriter.atmosphere`: U.S. Standard Atmosphere 1976 and IAPWS-IF97.

>>> kitchen = of("6,500 ft")
>>> kitchen.elevation_ft, round(kitchen.pressure_hpa, 1), round(kitchen.boiling_f, 1)
(Fraction(6500, 1), 796.9, 200.1)
>>> of("water boils at 201 F").elevation_ft
Fraction(5999, 1)
"""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from rewriter.atmosphere import boiling_c, elevation_m, pressure_hpa, saturation_hpa
from rewriter.errors import Unusable
from rewriter.model import Air

__all__ = [
    "NoSuchAir",
    "boiling_c",
    "disagreement",
    "doubt",
    "elevation_m",
    "from_barometer",
    "from_boiling",
    "from_elevation",
    "of",
    "pressure_hpa",
    "saturation_hpa",
]

Number = int | float | Decimal | Fraction

LOWEST_FT, HIGHEST_FT = -1_400, 16_000
FOOT_M = Fraction(3048, 10000)  # exact: NIST Handbook 44, Appendix C

# One boiling point differs from another when it is 1 F off, about 500 ft: a kitchen thermometer tells no finer.
DISAGREE_F = 1.0
# Weather reports reduce pressure to sea level: there, wherever they are, it hardly ever falls below this.
WEATHER_HPA = 980.0

_LENGTH = {
    **dict.fromkeys(("ft", "foot", "feet", "'", "′", "’"), FOOT_M),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters", "mtr", "mtrs"), Fraction(1)),
    **dict.fromkeys(("km", "kilometre", "kilometres", "kilometer", "kilometers"), Fraction(1000)),
}
# inHg and mmHg at 0 C: NIST SP 811, Appendix B.
_PRESSURE = {
    **dict.fromkeys(("hpa", "mbar", "mb", "millibar", "millibars", "hectopascal", "hectopascals"), 1.0),
    **dict.fromkeys(("kpa", "kilopascal", "kilopascals"), 10.0),
    **dict.fromkeys(("inhg", "inchhg", "incheshg", "inches", "inch", '"hg', "in", "inchesofmercury"), 33.86389),
    **dict.fromkeys(("mmhg", "torr"), 1.333224),
}
_FAHRENHEIT = frozenset(("f", "°f", "degf", "degreesf", "fahrenheit", "degreesfahrenheit"))
_CELSIUS = frozenset(("c", "°c", "degc", "degreesc", "celsius", "degreescelsius", "centigrade"))

_LEAD = (
    r"(?:(?:about|approx(?:imately)?\.?|roughly|circa|ca\.?|elevation|altitude|station|pressure|barometer|reads|my|the|"
)
_LEAD += r"water|boils|is|of|at)(?:\s+|\s*[:=]\s*)|[~≈]\s*)*"
_FIGURE = re.compile(
    rf"{_LEAD}(?P<sign>[-+−–])?\s*(?P<whole>\d{{1,3}}(?:[,\u00a0\u202f ']\d{{3}})+|\d+)(?P<part>\.\d+)?"
    r"\s*(?P<unit>[^\d\s][^\d]*)?",
    re.IGNORECASE,
)
_SEA = re.compile(
    r"(?:above|over)\s*(?:mean\s*)?sea\s*level|a\.?m?\.?s\.?l\.?|(?:of\s+)?(?:elevation|altitude)|high|up"
)
_BELOW = re.compile(r"below\s*(?:mean\s*)?sea\s*level")

_ELEVATION_MEND = 'write it as "6500 ft" or "1981 m"'
_BAROMETER_MEND = 'write the station pressure as "796.9 hPa" or "23.53 inHg"'
_BOILING_MEND = 'write the temperature at which plain water boils hard as "201 F" or "94 C"'


class NoSuchAir(Unusable):
    """An elevation, barometer reading or boiling point that cannot be read, or that no kitchen has."""


def of(where: str | Number | Air) -> Air:
    """Air from whatever is known: an elevation, a barometer reading, a boiling point, metres, or an Air.

    Raises NoSuchAir where it cannot be read or lies outside -1,400 to 16,000 ft.

    >>> of(1981.2) == of("1,981.2 m") == of(of("1981.2 metres"))
    True
    >>> round(of("23.53 inHg").elevation_m, -1)
    1980.0
    """
    return _of_words(where) if isinstance(where, str) else from_elevation(where)


@lru_cache(maxsize=256)
def _of_words(where: str) -> Air:
    _, unit = _figure(where, _ELEVATION_MEND)
    if unit in _PRESSURE:
        return from_barometer(where)
    if unit in _FAHRENHEIT or unit in _CELSIUS:
        return from_boiling(where)
    return from_elevation(where)


def from_elevation(where: str | Number | Air) -> Air:
    """Air at an elevation above sea level: "6500 ft", "1,981 m", a number of metres, or an Air as it is.

    ``elevation_ft`` stays exact. Raises NoSuchAir where the words cannot be read, the unit is missing, or the
    place lies outside -1,400 to 16,000 ft.

    >>> from_elevation("1,981.2 metres").elevation_ft
    Fraction(6500, 1)
    >>> from_elevation("sea level").boiling_f > 211.9
    True
    >>> from_elevation("6500")
    Traceback (most recent call last):
    rewriter.air.NoSuchAir: the elevation "6500" has no unit; write it as "6500 ft" or "1981 m"
    """
    if isinstance(where, Air):
        return where
    return _at_words(where) if isinstance(where, str) else _at(_exact(where) / FOOT_M, str(where))


@lru_cache(maxsize=256)
def _at_words(where: str) -> Air:
    return _at(_feet(where), where)


def from_barometer(reading: str | Number) -> Air:
    """Air from a barometer in the kitchen: "796.9 hPa", "23.53 inHg", or a number of hPa.

    It must be the station pressure, the true pressure of the place. A weather report gives another figure: it is
    reduced to sea level, lies near 1013 hPa (29.92 inHg) everywhere, and tells nothing of the elevation; see
    :func:`doubt`. ``elevation_ft`` is to the whole foot. Raises NoSuchAir where it cannot be read or lies outside
    what -1,400 to 16,000 ft have.

    >>> from_barometer("796.9 hPa").elevation_ft
    Fraction(6499, 1)
    >>> from_barometer("1080 hPa")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    rewriter.air.NoSuchAir: a barometer at "1080 hPa" ... write the station pressure as "796.9 hPa" or "23.53 inHg"...
    """
    if isinstance(reading, str):
        value, unit = _figure(reading, _BAROMETER_MEND)
        if unit not in _PRESSURE:
            lacking = f'has the unit "{unit}", which is no pressure' if unit else "has no unit"
            raise NoSuchAir(f'the barometer reading "{reading}" {lacking}', _BAROMETER_MEND)
        hpa = float(value) * _PRESSURE[unit]
    else:
        hpa = float(_exact(reading))
    return _measured(
        hpa, f'a barometer at "{reading}"', f"{_BAROMETER_MEND}, not a weather report's figure", "barometer"
    )


def from_boiling(test: str | Number) -> Air:
    """Air from the temperature at which plain water boils there: "201 F", "94 C".

    A bare number is degrees Celsius below 150, else Fahrenheit: no kitchen has both. 2 F less is about 1,000 ft
    more. ``elevation_ft`` is to the whole foot. Raises NoSuchAir where it cannot be read or lies outside what
    -1,400 to 16,000 ft have.

    >>> round(from_boiling("200.1 F").pressure_hpa)
    797
    >>> from_boiling("94 C") == from_boiling(94)
    True
    """
    if isinstance(test, str):
        value, unit = _figure(test, _BOILING_MEND)
        if unit and unit not in _FAHRENHEIT | _CELSIUS:
            raise NoSuchAir(f'the boiling point "{test}" has the unit "{unit}", which is no temperature', _BOILING_MEND)
    else:
        value, unit = _exact(test), ""
    celsius = float(value) if unit in _CELSIUS or (not unit and value < 150) else float((value - 32) * Fraction(5, 9))
    hpa = saturation_hpa(celsius) if 0 < celsius < 150 else math.nan
    return _measured(hpa, f'a boiling point of "{test}"', f"check the thermometer and {_BOILING_MEND}", "boiling")


def disagreement(stated: Air, tested: Air) -> str | None:
    """A question where a test does not fit the stated elevation by 1 F (about 500 ft) or more, else None.

    >>> disagreement(of("6500 ft"), of("201 F")) is None
    True
    >>> print(disagreement(of("6500 ft"), of("205 F")))  # doctest: +ELLIPSIS
    At 6,500 ft water boils at 200.1 F, but your boiling test says 205 F, which fits about 3,800 ft. 2 F off is ...
    """
    off = tested.boiling_f - stated.boiling_f
    if abs(off) < DISAGREE_F:
        return None
    fits = f"which fits about {round(float(tested.elevation_ft), -2) + 0.0:,.0f} ft"
    if tested.origin == "barometer":
        why = (
            " A weather report's pressure is reduced to sea level: read the station pressure."
            if _reduced(tested)
            else ""
        )
        here, there = f"{stated.pressure_hpa:.0f} hPa", f"{tested.pressure_hpa:.0f} hPa"
        says = f"a barometer reads about {here}, but yours says {there}, {fits}."
    else:
        why = " 2 F off is 1,000 ft: try the thermometer in plain water at a rolling boil, clear of the pan."
        says = f"water boils at {stated.boiling_f:.1f} F, but your boiling test says {tested.boiling_f:.0f} F, {fits}."
    return f"At {float(stated.elevation_ft):,.0f} ft {says}{why} Which is right?"


def doubt(kitchen: Air) -> str | None:
    """A caution where a barometer reading looks like a weather report's, reduced to sea level, else None.

    >>> doubt(of("796.9 hPa")) is None and doubt(of("300 ft")) is None
    True
    >>> print(doubt(of("1013 hPa")))  # doctest: +ELLIPSIS
    1013 hPa is the pressure at sea level. ...
    """
    if kitchen.origin != "barometer" or not _reduced(kitchen):
        return None
    return (
        f"{kitchen.pressure_hpa:.0f} hPa is the pressure at sea level. Weather reports everywhere give such a figure, "
        "because they reduce it to sea level: if yours is one, give the elevation or the station pressure instead."
    )


def _at(feet: Fraction, given: str) -> Air:
    if not LOWEST_FT <= feet <= HIGHEST_FT:
        raise NoSuchAir(
            f'the elevation "{given[:40]}" is outside {LOWEST_FT:,} to {HIGHEST_FT:,} ft',
            "check the figure and its unit",
        )
    metres = float(feet * FOOT_M)
    hpa = pressure_hpa(metres)
    return Air(elevation_m=metres, pressure_hpa=hpa, boiling_c=boiling_c(hpa), elevation_ft=feet)


def _measured(hpa: float, what: str, mend: str, origin: str) -> Air:
    metres = elevation_m(hpa) if 0 < hpa < 2_000 else math.nan
    feet = metres / float(FOOT_M)
    if not LOWEST_FT - 0.5 < feet < HIGHEST_FT + 0.5:
        raise NoSuchAir(f"{what} is outside what {LOWEST_FT:,} to {HIGHEST_FT:,} ft have", mend)
    return Air(metres, hpa, boiling_c(hpa), Fraction(round(feet)), origin)


def _reduced(kitchen: Air) -> bool:
    return kitchen.pressure_hpa > WEATHER_HPA


def _exact(number: Number) -> Fraction:
    """The figure a person meant: a float by its shortest decimal form, so that 1981.2 is 19812/10."""
    if isinstance(number, bool):
        raise NoSuchAir("an elevation cannot be true or false", _ELEVATION_MEND)
    try:
        return number if isinstance(number, Fraction) else Fraction(str(number))
    except ValueError:
        raise NoSuchAir(f'"{number}" is not a number', _ELEVATION_MEND) from None


def _figure(words: str, mend: str) -> tuple[Fraction, str]:
    """A figure and its unit, without blanks and full stops, in lower case; "" where there is none."""
    found = _FIGURE.fullmatch(words.strip())
    if _is_sea_level(words):
        return Fraction(0), "ft"
    if not found:
        raise NoSuchAir(f'"{words[:40]}" cannot be read as one figure with its unit', mend)
    value = Fraction(re.sub(r"\D", "", found["whole"]) + (found["part"] or ""))
    unit = (found["unit"] or "").casefold()
    if _BELOW.search(unit):
        value, unit = -value, _BELOW.sub("", unit)
    if found["sign"] and found["sign"] != "+":
        value = -value
    unit = re.sub(r"[\s.,]+", "", _SEA.sub("", unit))
    if (
        unit in _LENGTH
        and unit != "km"
        and found["part"]
        and re.fullmatch(r"\d{1,2}\.\d{3}", found["whole"] + found["part"])
    ):
        raise NoSuchAir(
            f'"{words}" may be {found["whole"]}{found["part"][1:]} or a few {unit}', "write it without the point"
        )
    return value, unit


def _feet(words: str) -> Fraction:
    value, unit = _figure(words, _ELEVATION_MEND)
    if not unit:
        raise NoSuchAir(f'the elevation "{words}" has no unit', _ELEVATION_MEND)
    if unit not in _LENGTH:
        raise NoSuchAir(f'the elevation "{words}" has the unit "{unit}", which is no elevation', _ELEVATION_MEND)
    return value * _LENGTH[unit] / FOOT_M


def _is_sea_level(words: str) -> bool:
    return words.casefold().split() in (["sea", "level"], ["at", "sea", "level"])
