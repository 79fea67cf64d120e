from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.amplifiers import (
    bridged_power,
    gain_from_sensitivity,
    input_for_power,
    limiter_volts,
    power_at_clip,
    power_at_input,
    power_for_volts,
    rated_power,
    volts_for_power,
)
from rigbook.physics.errors import OutOfRange
from rigbook.physics.loads import bridged_half_load

CALLS = {
    "05-v-rated": lambda i: volts_for_power(i["P_W"], i["Z_ohm"]),
    "05-p-volts": lambda i: power_for_volts(i["V"], i["Z_ohm"]),
    "05-p-rated": lambda i: rated_power(i["points"], i["Z_ohm"]),
    "05-p-bridge": lambda i: bridged_power(i["P_half_W"]),
    "05-amp-gain": lambda i: gain_from_sensitivity(i["vin_dBu"], i["P_W"], i["Z_ohm"]),
    "05-amp-in": lambda i: input_for_power(i["gain_dB"], i["P_W"], i["Z_ohm"]),
    "05-amp-p": lambda i: power_at_input(i["gain_dB"], i["in_dBu"], i["Z_ohm"]),
    "05-limit": lambda i: limiter_volts(i["P_W"], i["Z_ohm"], i["crest_dB"]),
    "05-crest": lambda i: power_at_clip(i["P_rated_W"], i["crest_dB"]),
}
powers = st.floats(0.01, 20_000)
loads = st.floats(1, 600)
gains = st.floats(0, 60)


@cases("amplifiers")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(powers, loads)
def test_volts_and_watts_there_and_back(power_w: float, ohm: float) -> None:
    assert power_for_volts(volts_for_power(power_w, ohm), ohm) == pytest.approx(power_w)


@given(gains, powers, loads)
def test_gain_and_input_level_agree(gain_db: float, power_w: float, ohm: float) -> None:
    level_dbu = input_for_power(gain_db, power_w, ohm)
    assert gain_from_sensitivity(level_dbu, power_w, ohm) == pytest.approx(gain_db, abs=1e-9)
    assert power_at_input(gain_db, level_dbu, ohm) == pytest.approx(power_w)


@given(powers, st.floats(2, 16))
def test_an_amplifier_of_constant_voltage_is_interpolated_exactly(power_w: float, ohm: float) -> None:
    points = [(16, power_w), (8, 2 * power_w), (2, 8 * power_w)]
    assert rated_power(points, ohm) == pytest.approx(16 * power_w / ohm)


def test_a_load_that_rounding_put_outside_is_the_declared_one() -> None:
    """Three boxes of 8 Ω where 2.67 Ω is declared; six of 24 Ω are 4.000000000000001 Ω to a computer."""
    assert rated_power([(8, 500), (2.67, 1000)], 8 / 3) == 1000
    assert rated_power([(4, 800)], 1 / sum([1 / 24] * 6)) == 800
    assert rated_power([(4, 800)], 4.02) == 800
    for ohm in (4.03, 3.97, 8, 2):
        with pytest.raises(OutOfRange):
            rated_power([(4, 800)], ohm)


@given(powers, powers, st.floats(4, 8))
def test_between_two_points_the_power_is_between_theirs(one_w: float, two_w: float, ohm: float) -> None:
    got = rated_power([(8, one_w), (4, two_w)], ohm)
    assert min(one_w, two_w) * (1 - 1e-9) <= got <= max(one_w, two_w) * (1 + 1e-9)


@given(st.floats(1, 200), loads)
def test_a_bridged_pair_doubles_the_voltage(volts: float, ohm: float) -> None:
    half_w = power_for_volts(volts, bridged_half_load(ohm))
    assert bridged_power(half_w) == pytest.approx(power_for_volts(2 * volts, ohm))


@given(powers)
def test_a_sine_at_clip_has_rated_power(power_w: float) -> None:
    assert power_at_clip(power_w, 3.0103) == pytest.approx(power_w, rel=1e-5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: volts_for_power(-1, 8),
        lambda: power_for_volts(10, 0),
        lambda: rated_power([], 8),
        lambda: rated_power([(8, 500), (4, 800)], 2),
        lambda: rated_power([(8, 500), (4, 800)], 16),
        lambda: rated_power([(8, 500), (0, 800)], 8),
        lambda: rated_power([(8, 0)], 8),
        lambda: bridged_power(-1),
        lambda: gain_from_sensitivity(4, 0, 8),
        lambda: input_for_power(float("nan"), 500, 8),
        lambda: power_at_input(32, 4, -8),
        lambda: limiter_volts(0, 8),
        lambda: limiter_volts(100, 8, 30),
        lambda: power_at_clip(100, -1),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
