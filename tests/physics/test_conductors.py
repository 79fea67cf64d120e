from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.conductors import (
    CLASS_5_OHM_PER_KM,
    COPPER_OHM_MM2_PER_M,
    awg_area,
    awg_diameter,
    awg_resistance,
    copper_factor,
    factor_to_20c,
    flexible_resistance,
    loop_resistance,
    standard_area,
)
from rigbook.physics.errors import OutOfRange

CALLS = {
    "04-iec60228": lambda i: round(flexible_resistance(i["area_mm2"]) * 1000, 9),
    "04-iec60228-thick": lambda i: round(flexible_resistance(i["area_mm2"]) * 1000, 9),
    "04-standard": lambda i: standard_area(i["area_mm2"]),
    "04-awg-d": lambda i: awg_diameter(i["awg"]) * 1000,
    "04-awg-r": lambda i: awg_resistance(i["awg"]) * 1000,
    "04-awg-area": lambda i: awg_area(i["awg"]),
    "04-temp": lambda i: i["R20"] * copper_factor(i["t_C"]),
    "04-kt": lambda i: factor_to_20c(i["t_C"]),
    "04-loop": lambda i: loop_resistance(i["R_ohm_per_km"] / 1000, i["length_m"], i["t_C"], i["cores"]),
}
areas = st.floats(0.5, 630)


@cases("conductors")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(areas, areas)
def test_thicker_is_never_more_resistive(one: float, two: float) -> None:
    thin, thick = sorted((one, two))
    assert flexible_resistance(thick) <= flexible_resistance(thin)


@given(areas)
def test_a_flexible_core_has_more_than_solid_copper_but_not_a_quarter_more(area_mm2: float) -> None:
    ideal = COPPER_OHM_MM2_PER_M / area_mm2
    assert ideal < flexible_resistance(area_mm2) < 1.25 * ideal


@pytest.mark.parametrize("area_mm2", [area for area in CLASS_5_OHM_PER_KM if area < 630])
def test_interpolation_meets_the_table(area_mm2: float) -> None:
    assert flexible_resistance(area_mm2 * (1 + 1e-9)) == pytest.approx(flexible_resistance(area_mm2), rel=1e-6)


@given(st.integers(-3, 34))
def test_six_gauges_thicker_is_twice_the_diameter(awg: int) -> None:
    assert awg_diameter(awg) / awg_diameter(awg + 6) == pytest.approx(2.005, abs=0.001)


@given(st.floats(5, 40))
def test_the_two_temperature_factors_agree_within_a_quarter_of_a_per_cent(temperature_c: float) -> None:
    assert factor_to_20c(temperature_c) * copper_factor(temperature_c) == pytest.approx(1, abs=0.0025)


@given(st.floats(1e-4, 0.1), st.floats(0, 500), st.integers(1, 4))
def test_a_loop_is_proportional_to_length(ohm_per_m: float, length_m: float, cores: int) -> None:
    twice = loop_resistance(ohm_per_m, 2 * length_m, 20, cores)
    assert twice == pytest.approx(2 * cores * loop_resistance(ohm_per_m, length_m) / cores**2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: flexible_resistance(0.4),
        lambda: flexible_resistance(631),
        lambda: flexible_resistance(float("nan")),
        lambda: awg_diameter(41),
        lambda: awg_area(-4),
        lambda: copper_factor(121),
        lambda: factor_to_20c(-1),
        lambda: loop_resistance(0, 10),
        lambda: loop_resistance(0.01, -1),
        lambda: loop_resistance(0.01, 10, 20, 0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
