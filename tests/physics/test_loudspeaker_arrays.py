from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.loudspeaker_arrays import (
    end_fire_delays,
    end_fire_response,
    gradient_response,
    row_response,
    spacing_limit,
)
from rigbook.physics.speed_of_sound import speed_of_sound

AT_20_C = 343.2


def end_fire_step_ms(i) -> float:
    return 1000 * end_fire_delays(2, i["d_m"], speed_of_sound(i["t_C"]))[1]


CALLS = {
    "16-space": lambda i: spacing_limit(i["d_m"], AT_20_C),
    "16-space23": lambda i: spacing_limit(i["d_m"], AT_20_C, 2 / 3),
    "16-pair": lambda i: row_response(2, i["d_m"], i["f_Hz"], i["theta_deg"], i["c"]),
    "16-array": lambda i: row_response(i["n"], i["d_m"], i["f_Hz"], i["theta_deg"], i["c"]),
    "16-endfire": end_fire_step_ms,
    "16-endfire-pair": lambda i: end_fire_response(i["n"], i["d_m"], i["f_Hz"], i["theta_deg"], i["c"]),
    "16-gradient": lambda i: gradient_response(i["d_m"], i["f_Hz"], 0, i["c"]),
    "16-gradient-rear": lambda i: gradient_response(i["d_m"], i["f_Hz"], i["theta_deg"], i["c"]),
}

counts = st.integers(1, 12)
spacings = st.floats(0.3, 4)
frequencies = st.floats(25, 200)
angles = st.floats(-180, 180)


def far_field(sources: list[tuple[float, float, float]], frequency: float, angle: float) -> float:
    """Pressure of sources on a line at (place, delay, sign), far away at an angle from the line's forward end."""
    k, omega = 2 * math.pi * frequency / AT_20_C, 2 * math.pi * frequency
    ahead = math.cos(math.radians(angle))
    return abs(sum(sign * cmath.exp(1j * (k * place * ahead - omega * delay)) for place, delay, sign in sources))


@cases("loudspeaker_arrays")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(counts, spacings, frequencies, angles)
def test_row_against_a_sum_of_phasors(count: int, spacing: float, frequency: float, angle: float) -> None:
    sources = [(n * spacing, 0.0, 1.0) for n in range(count)]
    wanted = far_field(sources, frequency, 90 - angle) / count
    assert 10 ** (row_response(count, spacing, frequency, angle, AT_20_C) / 20) == pytest.approx(wanted, abs=1e-6)


@given(counts, spacings, frequencies, angles)
def test_end_fire_against_a_sum_of_phasors(count: int, spacing: float, frequency: float, angle: float) -> None:
    delays = end_fire_delays(count, spacing, AT_20_C)
    sources = [(n * spacing, delays[n], 1.0) for n in range(count)]
    wanted = far_field(sources, frequency, angle) / count
    got = 10 ** (end_fire_response(count, spacing, frequency, angle, AT_20_C) / 20)
    assert got == pytest.approx(wanted, abs=1e-6)


@given(spacings, frequencies, angles)
def test_gradient_against_a_sum_of_phasors(spacing: float, frequency: float, angle: float) -> None:
    sources = [(spacing, 0.0, 1.0), (0.0, spacing / AT_20_C, -1.0)]
    got = 10 ** (gradient_response(spacing, frequency, angle, AT_20_C) / 20)
    assert got == pytest.approx(far_field(sources, frequency, angle), abs=1e-6)


@given(spacings, frequencies)
def test_the_gradient_pair_is_silent_to_the_rear(spacing: float, frequency: float) -> None:
    assert gradient_response(spacing, frequency, 180, AT_20_C) < -100


@given(counts, spacings)
def test_delays_rise_by_equal_steps_from_the_rear(count: int, spacing: float) -> None:
    delays = end_fire_delays(count, spacing, AT_20_C)
    assert delays[0] == 0
    assert list(delays) == sorted(delays)
    assert delays[-1] == pytest.approx((count - 1) * spacing / AT_20_C)


@pytest.mark.parametrize(
    "call",
    [
        lambda: spacing_limit(0, AT_20_C),
        lambda: spacing_limit(1, AT_20_C, 0),
        lambda: row_response(0, 1, 100, 0, AT_20_C),
        lambda: end_fire_response(2, 1, 0, 0, AT_20_C),
        lambda: end_fire_delays(0, 1, AT_20_C),
        lambda: gradient_response(1, 100, 0, 0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
