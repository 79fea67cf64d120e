from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.amplifier_mains import EIGHTH, btu_per_hour, duty_level, heat, mains_power
from rigbook.physics.errors import OutOfRange

CALLS = {
    "13-eighth": lambda i: duty_level(),
    "13-amp-mains": lambda i: mains_power(i["channels"], i["P_rated_W"], i["efficiency"], i["idle_W"]),
    "13-amp-heat": lambda i: heat(i["channels"], i["P_rated_W"], i["efficiency"], i["idle_W"]),
    "13-heat": lambda i: btu_per_hour(i["P_W"]),
}
channels = st.integers(0, 8)
powers = st.floats(0, 5000)
efficiencies = st.floats(0.1, 1)
shares = st.floats(0, 1)


@cases("amplifier_mains")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(channels, powers, efficiencies, st.floats(0, 200), shares)
def test_what_comes_in_is_sound_or_heat(n: int, power_w: float, efficiency: float, idle_w: float, share: float) -> None:
    warm = heat(n, power_w, efficiency, idle_w, share)
    assert warm + n * power_w * share == pytest.approx(mains_power(n, power_w, efficiency, idle_w, share))
    assert warm >= idle_w - 1e-6


@given(channels, powers, efficiencies, st.floats(0, 200))
def test_without_signal_only_idle_is_left(n: int, power_w: float, efficiency: float, idle_w: float) -> None:
    assert mains_power(n, power_w, efficiency, idle_w, 0) == idle_w


def test_the_eighth_is_what_is_taken_by_default() -> None:
    assert mains_power(2, 500, 0.65, 40) == mains_power(2, 500, 0.65, 40, EIGHTH)


def test_btu_against_another_library() -> None:
    constants = pytest.importorskip("scipy.constants")
    assert btu_per_hour(1) == pytest.approx(3600 / constants.Btu_IT, rel=1e-7)


@pytest.mark.parametrize(
    "call",
    [
        lambda: duty_level(0),
        lambda: duty_level(2),
        lambda: mains_power(-1, 500, 0.7),
        lambda: mains_power(2, -500, 0.7),
        lambda: mains_power(2, 500, 0),
        lambda: mains_power(2, 500, 1.2),
        lambda: mains_power(2, 500, 0.7, -1),
        lambda: heat(2, 500, 0.7, 0, 1.5),
        lambda: btu_per_hour(-1),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
