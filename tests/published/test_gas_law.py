"""The computed guide against the professional table, and against CoolProp."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from fluids.atmosphere import ATMOSPHERE_1976

from rewriter import air
from rewriter.correcting.kitchen import kitchen
from rewriter.correcting.policy import policies
from tests.correcting.bakes import up


def cut(feet: float, kind: str = "shortened-cake") -> float:
    return 1 - float(kitchen("gas-law", "middle", up(feet), air.of("0 ft")).factor("leavener", kind))


# Wayne Gisslen, Professional Cooking (2014), Table 33.3: baking powder 20, 40, 60 % less.
@pytest.mark.parametrize(("feet", "table"), [(2500, 20), (5000, 40), (7500, 60)])
def test_within_four_points_of_the_table(feet: int, table: int) -> None:
    assert abs(100 * cut(feet) - table) <= 4


# (P - p_w) / (P0 - p_w), p_w by CoolProp, P by fluids (U.S. Standard Atmosphere 1976), at the setting temperature.
@pytest.mark.parametrize("kind", ["shortened-cake", "quick-bread", "griddle"])
@pytest.mark.parametrize("feet", range(2500, 10_001, 1500))
def test_against_coolprop_and_fluids(kind: str, feet: int) -> None:
    set_c = policies()[kind].set_c
    steam = PropsSI("P", "T", set_c + 273.15, "Q", 1, "Water")
    here = ATMOSPHERE_1976(feet * 0.3048).P
    left = (here - steam) / (101_325 - steam)
    assert cut(feet, kind) == pytest.approx(min(1 - left, 0.75), abs=2e-4)


def test_the_crumb_sets_between_80_and_85_c() -> None:
    """Harold McGee, On Food and Cooking (2004): setting begins about 80 C, later the more sugar there is."""
    rising = {kind: rule for kind, rule in policies().items() if rule.leavener}
    assert rising
    assert all(80 <= rule.set_c <= 85 for rule in rising.values())
    assert rising["shortened-cake"].set_c > rising["griddle"].set_c


def test_never_more_than_three_quarters_and_held_above_10000_ft() -> None:
    assert cut(2499) == 0
    assert cut(9900) <= 0.75
    assert cut(10_000) == cut(14_000) <= 0.75


# Wyoming and Gisslen by elevation; here the same rows by pressure: equal at the table's own points.
@pytest.mark.parametrize(("feet", "liquid"), [(2500, 9), (5000, 15), (7500, 22)])
def test_the_other_rows_meet_the_table_at_its_points(feet: int, liquid: int) -> None:
    factor = kitchen("gas-law", "middle", up(feet), air.of("0 ft")).factor("liquid", "shortened-cake")
    assert float(factor) == pytest.approx(1 + liquid / 100, abs=1e-5)


def test_between_points_pressure_runs_a_little_ahead_of_elevation() -> None:
    """Pressure falls faster lower down, so half way up more than half of the step is done."""
    by_table = kitchen("formula", "middle", up(6250), air.of("0 ft")).factor("liquid", "shortened-cake")
    by_pressure = kitchen("gas-law", "middle", up(6250), air.of("0 ft")).factor("liquid", "shortened-cake")
    assert by_table < by_pressure < 1.22
