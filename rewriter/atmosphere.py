"""Pressure by elevation and boiling point by pressure, from two published standards.

U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF), troposphere, with geopotential height; IAPWS-IF97 region 4, the
saturation line of water (release R7-97(2012), equations 30 and 31).

>>> round(boiling_c(pressure_hpa(1981.2)), 2)
93.38
"""

from __future__ import annotations

import math

# U.S. Standard Atmosphere 1976: sea-level pressure (hPa) and temperature (K), lapse rate (K per m), g0 M / (R L),
# and the radius of the earth (m) that turns geometric into geopotential height.
SEA_LEVEL_HPA, SEA_LEVEL_K, LAPSE = 1013.25, 288.15, 0.0065
EXPONENT = 9.80665 * 0.0289644 / (8.31432 * LAPSE)
EARTH_M = 6_356_766.0

# IAPWS-IF97, table 34: coefficients n1 to n10 of the saturation line.
N1, N2, N3, N4, N5 = 1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333
N6, N7, N8, N9, N10 = 14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798


def pressure_hpa(elevation_m: float) -> float:
    """Pressure (hPa) at a geometric elevation (m): U.S. Standard Atmosphere 1976, troposphere.

    >>> round(pressure_hpa(1524.0), 1)
    843.1
    """
    height = EARTH_M * elevation_m / (EARTH_M + elevation_m)
    return SEA_LEVEL_HPA * float((1 - LAPSE * height / SEA_LEVEL_K) ** EXPONENT)


def elevation_m(hpa: float) -> float:
    """Geometric elevation (m) at a pressure (hPa): the inverse of :func:`pressure_hpa`.

    >>> round(elevation_m(pressure_hpa(1524.0)), 6)
    1524.0
    """
    height = SEA_LEVEL_K / LAPSE * (1 - float((hpa / SEA_LEVEL_HPA) ** (1 / EXPONENT)))
    return EARTH_M * height / (EARTH_M - height)


def boiling_c(hpa: float) -> float:
    """Boiling point of water (C) at a pressure (hPa): IAPWS-IF97 equation 31, the backward equation.

    >>> round(boiling_c(1000.0) + 273.15, 6)  # table 36 of the release: 372.755919 K at 0.1 MPa
    372.755919
    """
    beta = math.sqrt(math.sqrt(hpa / 10_000))
    e = beta * beta + N3 * beta + N6
    f = N1 * beta * beta + N4 * beta + N7
    g = N2 * beta * beta + N5 * beta + N8
    d = 2 * g / (-f - math.sqrt(f * f - 4 * e * g))
    return (N10 + d - math.sqrt((N10 + d) ** 2 - 4 * (N9 + N10 * d))) / 2 - 273.15


def saturation_hpa(celsius: float) -> float:
    """Vapour pressure of water (hPa) at a temperature (C): IAPWS-IF97 equation 30.

    >>> round(saturation_hpa(300 - 273.15) / 10_000, 12)  # table 35 of the release: 0.00353658941 MPa at 300 K
    0.003536589413
    """
    kelvin = celsius + 273.15
    theta = kelvin + N9 / (kelvin - N10)
    a = theta * theta + N1 * theta + N2
    b = N3 * theta * theta + N4 * theta + N5
    c = N6 * theta * theta + N7 * theta + N8
    quarter = 2 * c / (-b + math.sqrt(b * b - 4 * a * c))
    return quarter * quarter * quarter * quarter * 10_000
