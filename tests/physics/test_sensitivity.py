from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sensitivity import direct_level, power_for_level, sensitivity_per_watt

CALLS = {
    "05-sens": lambda i: sensitivity_per_watt(i["L_2V83_dB"], i["Z_ohm"]),
    "05-spl": lambda i: direct_level(i["S_dB_1W_1m"], i["P_W"], i["d_m"]),
    "05-p-spl": lambda i: power_for_level(i["S_dB_1W_1m"], i["L_dB"], i["d_m"]),
}
sensitivities = st.floats(70, 120)
powers = st.floats(0.001, 10_000)
distances = st.floats(0.1, 300)


@cases("sensitivity")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(sensitivities, powers, distances)
def test_power_and_level_there_and_back(sensitivity: float, power_w: float, distance_m: float) -> None:
    level_db = direct_level(sensitivity, power_w, distance_m)
    assert power_for_level(sensitivity, level_db, distance_m) == pytest.approx(power_w)


@given(sensitivities, st.floats(1, 32))
def test_volts_and_watts_give_the_same_level(level_2v83_db: float, ohm: float) -> None:
    assert direct_level(sensitivity_per_watt(level_2v83_db, ohm), 8 / ohm, 1) == pytest.approx(level_2v83_db)


@pytest.mark.parametrize(
    "call",
    [
        lambda: sensitivity_per_watt(97, 0),
        lambda: sensitivity_per_watt(float("nan"), 8),
        lambda: direct_level(97, 0, 10),
        lambda: direct_level(97, 100, 0),
        lambda: power_for_level(97, 100, -1),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
