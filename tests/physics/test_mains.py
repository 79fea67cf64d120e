from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.conductors import flexible_resistance
from rigbook.physics.errors import OutOfRange
from rigbook.physics.mains import (
    apparent_power,
    largest_continuous_load,
    neutral_current,
    phase_unbalance,
    phase_voltage,
    single_phase_current,
    smallest_rating,
    three_phase_current,
    voltage_drop,
)


def drop(i, phases=1):
    got = voltage_drop(flexible_resistance(i["area_mm2"]), i["length_m"], i["I_A"], i["V"], phases)
    return got.volts, 100 * got.share


CALLS = {
    "13-amps": lambda i: single_phase_current(i["P_W"], i["V"], i["pf"]),
    "13-three-phase": lambda i: three_phase_current(i["P_W"], i["V_LL"], i["pf"]),
    "13-va": lambda i: apparent_power(i["P_W"], i["pf"]),
    "13-nec80": lambda i: largest_continuous_load(i["breaker_A"]),
    "13-nec125": lambda i: smallest_rating(i["continuous_A"], i["noncontinuous_A"]),
    "13-vdrop": drop,
    "13-vdrop-three": lambda i: drop(i, 3),
    "13-phase": lambda i: phase_voltage(i["V_LL"]),
    "13-neutral": lambda i: neutral_current(*i["I_A"]),
    "13-unbalance": lambda i: 100 * phase_unbalance(i["values"]),
}
amps = st.floats(0, 400)
powers = st.floats(0, 1e5)
factors = st.floats(0.1, 1)


@cases("mains")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(amps, amps, amps)
def test_the_neutral_against_phasors(a: float, b: float, c: float) -> None:
    turn = cmath.exp(2j * math.pi / 3)
    assert neutral_current(a, b, c) == pytest.approx(abs(a + b * turn + c * turn**2), abs=1e-9)


@given(amps, amps, amps)
def test_the_neutral_carries_no_more_than_the_fullest_line(a: float, b: float, c: float) -> None:
    assert neutral_current(a, b, c) <= max(a, b, c) * (1 + 1e-12)


@given(powers, st.floats(100, 500), factors)
def test_three_phases_share_the_load(power_w: float, line_volts: float, factor: float) -> None:
    one = single_phase_current(power_w / 3, phase_voltage(line_volts), factor)
    assert three_phase_current(power_w, line_volts, factor) == pytest.approx(one)


@given(st.floats(1, 400))
def test_the_two_ways_to_say_the_continuous_rule(rating_a: float) -> None:
    assert smallest_rating(largest_continuous_load(rating_a)) == pytest.approx(rating_a)


@given(st.floats(1e-4, 0.05), st.floats(0, 300), amps, st.floats(100, 400))
def test_a_balanced_three_phase_cable_loses_half(ohm_per_m: float, length_m: float, a: float, volts: float) -> None:
    one, three = (voltage_drop(ohm_per_m, length_m, a, volts, phases) for phases in (1, 3))
    assert three.volts == pytest.approx(one.volts / 2)
    assert three.share * volts == pytest.approx(three.volts)


@given(st.lists(amps, min_size=2, max_size=3))
def test_unbalance_lies_between_none_and_all(currents: list[float]) -> None:
    assert 0 <= phase_unbalance(currents) <= len(currents) - 1 + 1e-9


def test_nothing_flows_nothing_is_unbalanced() -> None:
    assert phase_unbalance([0, 0, 0]) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: single_phase_current(100, 0),
        lambda: single_phase_current(-1, 230),
        lambda: single_phase_current(100, 230, 0),
        lambda: three_phase_current(100, 400, 1.1),
        lambda: apparent_power(float("nan")),
        lambda: phase_voltage(-1),
        lambda: largest_continuous_load(-1),
        lambda: smallest_rating(-1),
        lambda: voltage_drop(0, 10, 10, 230),
        lambda: voltage_drop(0.008, 10, 10, 0),
        lambda: neutral_current(1, 2, -3),
        lambda: phase_unbalance([1]),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
