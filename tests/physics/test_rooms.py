from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.errors import OutOfRange
from rigbook.physics.rooms import (
    absorption_area,
    air_absorption_area,
    critical_distance,
    critical_distance_from_time,
    direct_to_reverberant,
    eyring_time,
    room_constant,
    sabine_time,
    schroeder_frequency,
    steady_level,
)

FOOT = 0.3048


def sabine_by_band(volume_m3: float, surfaces, metres: float) -> list[float]:
    return [
        sabine_time(volume_m3, absorption_area([(one["S"] * metres**2, one["alpha"][band]) for one in surfaces]))
        for band in range(6)
    ]


def from_area(i) -> float:
    # EN 12354-6 annex E works with c0 = 345.6 m/s, so that 55.3 / c0 is 0.16
    return sabine_time(i["V_m3"], i["A_m2"] + i.get("A_air_m2", 0.0), 345.6)


def distance(i) -> float:
    if "R_m2" in i:
        return critical_distance(i["Q"], i["R_m2"])
    return critical_distance(i["Q"], i["S_ft2"] * FOOT**2 * i["alpha"]) / FOOT


def at_critical_distance(i) -> float:
    q, constant = 4.0, 80.0
    near = critical_distance(q, constant)
    direct_alone = steady_level(100.0, q, near, 1e12)
    return steady_level(100.0, q, near, constant) - direct_alone


CALLS = {
    "09-sabine-ft": lambda i: sabine_by_band(i["V_ft3"] * FOOT**3, i["surfaces_ft2"], FOOT),
    "09-sabine-m": lambda i: sabine_by_band(i["V_m3"], i["surfaces_m2"], 1.0),
    "09-area": lambda i: absorption_area(i["surfaces_m2_alpha"]),
    "09-t-area": from_area,
    "09-air-area": lambda i: air_absorption_area(i["V_m3"], i["m_1_m"]),
    "09-sabine": lambda i: sabine_time(i["V_m3"], i["S_m2"] * i["alpha_mean"], i["c"]),
    "09-eyring": lambda i: eyring_time(i["V_m3"], i["S_m2"], i["alpha_mean"], i["c"]),
    "09-R": lambda i: room_constant(i["S_m2"], i["alpha_mean"]),
    "09-dc": distance,
    "09-dc-rt": lambda i: critical_distance_from_time(i["Q"], i["V_m3"], i["T_s"]),
    "09-direct": lambda i: direct_to_reverberant(5.0 * i["distances_in_critical_distances"], 5.0),
    "09-steady": lambda i: steady_level(i["Lw_dB"], i["Q"], i["r_m"], i["R_m2"]),
    "09-steady-rc": at_critical_distance,
    "09-schroeder": lambda i: schroeder_frequency(i["T_s"], i["V_m3"]),
}

volumes = st.floats(20, 50_000)
surfaces = st.floats(50, 20_000)
coefficients = st.floats(0.01, 0.9)
factors = st.floats(1, 50)


@cases("rooms")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(volumes, surfaces, coefficients)
def test_eyring_against_acoustic_toolbox(volume: float, surface: float, coefficient: float) -> None:
    """The library takes 0.161 V/A, 0.04 % off 24 ln 10 / 343.2."""
    room = oracle("acoustic_toolbox.room")
    theirs = room.t60_eyring([surface], [coefficient], volume, c=343.2)
    assert eyring_time(volume, surface, coefficient) == pytest.approx(float(theirs), rel=0.005)


@given(volumes, surfaces, coefficients)
def test_sabine_against_acoustic_toolbox(volume: float, surface: float, coefficient: float) -> None:
    room = oracle("acoustic_toolbox.room")
    theirs = room.t60_sabine([surface], [coefficient], volume, c=343.2)
    assert sabine_time(volume, surface * coefficient) == pytest.approx(float(theirs), rel=0.005)


@given(volumes, surfaces, coefficients)
def test_eyring_is_shorter(volume: float, surface: float, coefficient: float) -> None:
    assert eyring_time(volume, surface, coefficient) < sabine_time(volume, surface * coefficient)


@given(volumes, surfaces)
def test_eyring_nears_sabine_where_little_is_absorbed(volume: float, surface: float) -> None:
    assert eyring_time(volume, surface, 0.001) == pytest.approx(sabine_time(volume, surface * 0.001), rel=1e-3)


@given(factors, volumes, st.floats(10, 5000))
def test_both_ways_to_the_critical_distance_agree(factor: float, volume: float, area: float) -> None:
    assume(area < 12 * volume ** (2 / 3))  # no room absorbs more
    time_s = sabine_time(volume, area)
    assert critical_distance_from_time(factor, volume, time_s) == pytest.approx(critical_distance(factor, area))


@given(factors, volumes, st.floats(0.2, 10))
def test_feet_change_nothing(factor: float, area: float, distance_m: float) -> None:
    near_ft = critical_distance(factor, area / FOOT**2)
    assert near_ft * FOOT == pytest.approx(critical_distance(factor, area))
    assert direct_to_reverberant(distance_m / FOOT, near_ft) == pytest.approx(
        direct_to_reverberant(distance_m, critical_distance(factor, area)), abs=1e-9
    )


@given(factors, st.floats(5, 5000), st.floats(0.2, 100))
def test_direct_over_reverberant_is_the_quotient_of_the_two_terms(factor: float, constant: float, at: float) -> None:
    direct = steady_level(100, factor, at, 1e15)
    reverberant = steady_level(100, factor, 1e9, constant)
    ratio = direct_to_reverberant(at, critical_distance(factor, constant))
    assert direct - reverberant == pytest.approx(ratio, abs=1e-3)


@pytest.mark.parametrize(
    "call",
    [
        lambda: absorption_area([(-1, 0.1)]),
        lambda: absorption_area([(1, 2.0)]),
        lambda: air_absorption_area(0, 0.001),
        lambda: sabine_time(100, 0),
        lambda: eyring_time(100, 100, 1.0),
        lambda: room_constant(100, 1.0),
        lambda: critical_distance(0, 100),
        lambda: critical_distance_from_time(1, 100, 0),
        lambda: steady_level(90, 1, 0, 100),
        lambda: direct_to_reverberant(0, 1),
        lambda: schroeder_frequency(1, 0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
