from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.speed_of_sound import speed_of_sound
from rigbook.physics.travel import delay_in_samples, phase_shift, travel_distance, travel_time, wavelength

FOOT = 0.3048
AT_20_C = 343.2

CALLS = {
    "01-delay": lambda i: 1000 * travel_time(i["d_m"], speed_of_sound(i["t_C"])),
    "01-wavelength": lambda i: wavelength(i["f_Hz"], speed_of_sound(i["t_C"])),
    "01-phase": lambda i: phase_shift(i["f_Hz"], i["delay_ms"] / 1000),
    "01-samples": lambda i: delay_in_samples(travel_time(i["d_m"], speed_of_sound(i["t_C"])), i["fs_Hz"]),
    "16-path": lambda i: travel_distance(i["delay_ms"] / 1000, AT_20_C) / FOOT,
    "17-echo-d": lambda i: travel_distance(i["delay_ms"] / 1000, AT_20_C),
}

distances = st.floats(0.01, 1000)
speeds = st.floats(300, 370)


@cases("travel")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(distances, speeds)
def test_time_and_distance_undo_each_other(distance: float, speed: float) -> None:
    assert travel_distance(travel_time(distance, speed), speed) == pytest.approx(distance)


@given(st.floats(20, 20_000), speeds)
def test_one_wavelength_takes_one_period(frequency: float, speed: float) -> None:
    assert travel_time(wavelength(frequency, speed), speed) == pytest.approx(1 / frequency)


@given(distances, speeds)
def test_feet_change_nothing(distance: float, speed: float) -> None:
    assert travel_time(distance / FOOT, speed / FOOT) == pytest.approx(travel_time(distance, speed))


@given(st.floats(20, 20_000), st.floats(0, 1))
def test_phase_is_wrapped(frequency: float, delay: float) -> None:
    assert 0 <= phase_shift(frequency, delay) < 360


def test_arrays_agree_with_floats() -> None:
    paths = np.array([3.0, 12.0, 40.0])
    delays = travel_time(paths, AT_20_C)
    assert delays == pytest.approx([travel_time(float(path), AT_20_C) for path in paths])
    assert phase_shift(80.0, delays) == pytest.approx([phase_shift(80.0, float(delay)) for delay in delays])


@pytest.mark.parametrize(
    "call",
    [
        lambda: travel_time(-1, 343),
        lambda: travel_time(1, 0),
        lambda: travel_distance(-1, 343),
        lambda: wavelength(0, 343),
        lambda: phase_shift(0, 1),
        lambda: delay_in_samples(1, 0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
