"""The air of a kitchen, against published values and two reference libraries."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from rewriter import air
from rewriter.air import NoSuchAir
from rewriter.errors import Unusable
from rewriter.model import Air

EVERY_500_FT = [-1_400, *range(-1_000, 16_001, 500)]
feet = st.integers(air.LOWEST_FT, air.HIGHEST_FT)


@pytest.mark.parametrize("ft", EVERY_500_FT)
def test_pressure_is_the_standard_atmosphere(ft: int) -> None:
    """fluids, ATMOSPHERE_1976: U.S. Standard Atmosphere 1976."""
    assert air.of(f"{ft} ft").pressure_hpa * 100 == pytest.approx(ATMOSPHERE_1976(ft * 0.3048).P, rel=2e-6)


@pytest.mark.parametrize("ft", EVERY_500_FT)
def test_boiling_point_is_the_saturation_line(ft: int) -> None:
    """CoolProp: its IF97 backend holds the same equation; its own equation of state lies within 0.001 K of it."""
    kitchen = air.of(f"{ft} ft")
    pascal = kitchen.pressure_hpa * 100
    assert kitchen.boiling_c + 273.15 == pytest.approx(PropsSI("T", "P", pascal, "Q", 0, "IF97::Water"), abs=1e-6)
    assert kitchen.boiling_c + 273.15 == pytest.approx(PropsSI("T", "P", pascal, "Q", 0, "Water"), abs=1e-3)


@pytest.mark.parametrize(("kelvin", "megapascal"), [(300, 0.353658941e-2), (500, 0.263889776e1), (600, 0.123443146e2)])
def test_saturation_pressure_in_the_release(kelvin: float, megapascal: float) -> None:
    """IAPWS R7-97(2012), table 35, from memory."""
    assert air.saturation_hpa(kelvin - 273.15) / 10_000 == pytest.approx(megapascal, rel=1e-8)


@pytest.mark.parametrize(("megapascal", "kelvin"), [(0.1, 0.372755919e3), (1, 0.453035632e3), (10, 0.584149488e3)])
def test_saturation_temperature_in_the_release(megapascal: float, kelvin: float) -> None:
    """IAPWS R7-97(2012), table 36, from memory."""
    assert air.boiling_c(megapascal * 10_000) + 273.15 == pytest.approx(kelvin, rel=1e-8)


@pytest.mark.parametrize(
    ("ft", "hpa", "fahrenheit"),
    [
        (2_500, 925.0, 207.4),
        (3_000, 908.1, 206.5),
        (5_000, 843.1, 202.8),
        (6_500, 796.9, 200.1),
        (7_500, 767.2, 198.3),
        (10_000, 696.9, 193.7),
    ],
)
def test_table_of_the_1976_atmosphere_and_the_saturation_line(ft: int, hpa: float, fahrenheit: float) -> None:
    """Worked with CoolProp and fluids, to one decimal."""
    kitchen = air.of(f"{ft:,} ft")
    assert (round(kitchen.pressure_hpa, 1), round(kitchen.boiling_f, 1)) == (hpa, fahrenheit)


@pytest.mark.parametrize(
    ("ft", "low", "high"), [(0, 212, 212), (2_000, 208, 208), (5_000, 203, 203), (7_500, 198, 198), (10_000, 193, 194)]
)
def test_table_of_the_extension_service(ft: int, low: int, high: int) -> None:
    """Colorado State University Extension, guide to high-elevation food preparation, Table 1 (whole degrees)."""
    assert low - 0.5 <= air.of(f"{ft} feet").boiling_f <= high + 0.5


@pytest.mark.parametrize(
    ("given", "exact"),
    [
        ("6500 ft", 6500),
        ("6,500 feet", 6500),
        ("6 500 ft", 6500),
        ("6500ft.", 6500),
        ("6500′", 6500),
        ("about 6,500 ft", 6500),
        ("Elevation: 6500 FT above sea level", 6500),
        ("6500.5 ft", Fraction(13001, 2)),
        ("-282 ft", -282),
        ("−282 ft", -282),
        ("282 feet below sea level", -282),
        ("1,981 m", Fraction(1981 * 10_000, 3048)),
        ("1981 metres", Fraction(1981 * 10_000, 3048)),
        ("1981 m a.s.l.", Fraction(1981 * 10_000, 3048)),
        ("1.9812 km", 6500),
        ("sea level", 0),
        (1981.2, 6500),
        (1981, Fraction(1981 * 10_000, 3048)),
        (Fraction(19812, 10), 6500),
        (0, 0),
    ],
)
def test_elevation_is_exact(given: str | float | Fraction, exact: Fraction | int) -> None:
    """A foot is 0.3048 m exactly: NIST Handbook 44, Appendix C."""
    kitchen = air.from_elevation(given)
    assert kitchen.elevation_ft == exact
    assert kitchen.elevation_m == pytest.approx(float(exact) * 0.3048)
    assert kitchen.origin == "elevation"
    assert air.of(given) == kitchen


@pytest.mark.parametrize(
    "given", ["796.9 hPa", "797 mbar", "79.69 kPa", "23.53 inHg", "23.53 in. Hg", "598 mmHg", 796.9]
)
def test_barometer_units_say_the_same_place(given: str | float) -> None:
    """inHg and mmHg: NIST SP 811, Appendix B. 796.9 hPa belongs to 6,500 ft (1976 atmosphere)."""
    kitchen = air.from_barometer(given)
    assert float(kitchen.elevation_ft) == pytest.approx(6500, abs=20)
    assert kitchen.origin == "barometer"


@pytest.mark.parametrize(
    "given", ["200.1 F", "200.1°F", "93.4 C", "93.4 degrees Celsius", "water boils at 200.1 F", 93.4]
)
def test_boiling_test(given: str | float) -> None:
    kitchen = air.from_boiling(given)
    assert float(kitchen.elevation_ft) == pytest.approx(6500, abs=25)
    assert kitchen.origin == "boiling"


def test_two_fahrenheit_are_about_a_thousand_feet() -> None:
    """Common practice, no source; so does the table of the extension service (212 to 203 F over 5,000 ft)."""
    drop = air.of("6000 ft").boiling_f - air.of("7000 ft").boiling_f
    assert 1.7 < drop < 2.1


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ("6500", "no unit"),
        ("", "cannot be read"),
        ("high up", "cannot be read"),
        ("6500 ft (1981 m)", "one figure"),
        ("1981,2 m", "cannot be read"),
        ("1.981 m", "1981"),
        ("6500 horses", "horses"),
        ("16,001 ft", "outside -1,400 to 16,000 ft"),
        ("-1401 ft", "outside -1,400 to 16,000 ft"),
        ("1100 hPa", "station pressure"),
        ("500 hPa", "outside"),
        ("150 F", "thermometer"),
        ("220 F", "thermometer"),
        ("-5 hPa", "outside"),
        (1e300, "outside"),
        (math.inf, "not a number"),
        (math.nan, "not a number"),
        (True, "true or false"),
    ],
)
def test_what_cannot_be_says_what_and_how_to_mend_it(given: str | float, says: str) -> None:
    with pytest.raises(NoSuchAir) as refused:
        air.of(given)
    assert isinstance(refused.value, Unusable)
    assert says in str(refused.value)
    assert refused.value.mend
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(("reading", "make"), [("201 F", air.from_barometer), ("796.9 hPa", air.from_boiling)])
def test_a_unit_of_another_kind_is_refused(reading: str, make: object) -> None:
    assert callable(make)
    with pytest.raises(NoSuchAir, match="unit"):
        make(reading)


@given(feet)
def test_feet_and_metres_come_back(ft: int) -> None:
    kitchen = air.of(f"{ft:,} ft")
    assert kitchen.elevation_ft == ft
    assert air.of(Fraction(ft) * Fraction(3048, 10_000)) == kitchen


@given(feet)
def test_a_barometer_and_a_boiling_test_lead_back(ft: int) -> None:
    kitchen = air.of(f"{ft} ft")
    for tested in (air.from_barometer(kitchen.pressure_hpa), air.from_boiling(f"{kitchen.boiling_c:.9f} C")):
        assert tested.elevation_ft == ft
        assert tested.boiling_c == pytest.approx(kitchen.boiling_c, abs=1e-4)
        assert air.disagreement(kitchen, tested) is None


@given(feet, feet)
def test_higher_is_thinner_and_boils_sooner(one: int, other: int) -> None:
    low, high = (air.of(f"{ft} ft") for ft in sorted((one, other)))
    assert (low.pressure_hpa, low.boiling_c) >= (high.pressure_hpa, high.boiling_c)
    assert low == high or low.pressure_hpa > high.pressure_hpa


@given(st.text(max_size=30))
def test_any_words_are_read_or_refused_in_one_line(words: str) -> None:
    try:
        kitchen = air.of(words)
    except NoSuchAir as error:
        complaint = str(error)
    else:
        complaint = ""
        assert air.LOWEST_FT <= kitchen.elevation_ft <= air.HIGHEST_FT
    assert len(complaint.splitlines()) <= 1


@pytest.mark.parametrize(
    ("stated", "tested", "asks"),
    [
        ("6500 ft", "201 F", None),
        ("6500 ft", "199.5 F", None),
        ("6500 ft", "204 F", "boiling test"),
        ("6500 ft", "198 F", "boiling test"),
        ("6500 ft", "797 hPa", None),
        ("6500 ft", "750 hPa", "barometer"),
        ("6500 ft", "1016 hPa", "weather report"),
    ],
)
def test_disagreement(stated: str, tested: str, asks: str | None) -> None:
    question = air.disagreement(air.of(stated), air.of(tested))
    assert (asks in question and question.endswith("?")) if asks and question else question is asks


def test_a_weather_reports_pressure_is_doubted() -> None:
    assert "reduce it to sea level" in str(air.doubt(air.of("1013.2 hPa")))
    assert "reduce it to sea level" in str(air.doubt(air.of("29.92 inHg")))
    assert air.doubt(air.of("843 hPa")) is None
    assert air.doubt(air.of("0 ft")) is None


def test_an_air_passes_unchanged() -> None:
    kitchen = Air(2000.0, 795.0, 93.3)
    assert air.of(kitchen) is kitchen
    assert air.from_elevation(kitchen) is kitchen
