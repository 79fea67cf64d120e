from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.microphone_level import equivalent_noise, microphone_output, thermal_noise

CALLS = {
    "05-mic": lambda i: microphone_output(i["M_mV_per_Pa"] / 1000, i["L_dB"]),
    "05-mic-noise": lambda i: equivalent_noise(i["L_dB"], i["M_mV_per_Pa"] / 1000),
    "05-thermal": lambda i: thermal_noise(i["R_ohm"], i["B_Hz"], i["t_C"]),
}


@cases("microphone_level")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(1e-4, 0.1), st.floats(0, 150), st.floats(-20, 20))
def test_a_decibel_in_is_a_decibel_out(sensitivity: float, level_db: float, more_db: float) -> None:
    change = microphone_output(sensitivity, level_db + more_db) - microphone_output(sensitivity, level_db)
    assert change == pytest.approx(more_db, abs=1e-9)


@given(st.floats(1, 1e5), st.floats(1, 1e5), st.floats(-50, 100))
def test_twice_the_bandwidth_or_resistance_is_three_decibels(ohm: float, hertz: float, t_c: float) -> None:
    before = thermal_noise(ohm, hertz, t_c)
    assert thermal_noise(2 * ohm, hertz, t_c) - before == pytest.approx(3.0103, abs=1e-4)
    assert thermal_noise(ohm, 2 * hertz, t_c) - before == pytest.approx(3.0103, abs=1e-4)


def test_boltzmann_against_another_library() -> None:
    constants = pytest.importorskip("scipy.constants")
    from rigbook.physics.microphone_level import BOLTZMANN_J_PER_K

    assert constants.k == BOLTZMANN_J_PER_K


@pytest.mark.parametrize(
    "call",
    [
        lambda: microphone_output(0, 94),
        lambda: equivalent_noise(-50, 0.02),
        lambda: thermal_noise(0, 20_000),
        lambda: thermal_noise(150, 20_000, -300),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
