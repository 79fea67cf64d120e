from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.loads import (
    bridged_half_load,
    parallel_load,
    parallel_powers,
    series_load,
    series_powers,
    tap_impedance,
    tap_power,
)

CALLS = {
    "05-parallel": lambda i: parallel_load(i["Z_ohm"]),
    "05-series": lambda i: series_load(i["Z_ohm"]),
    "05-bridge": lambda i: bridged_half_load(i["Z_ohm"]),
    "05-share": lambda i: parallel_powers(i["V"], i["Z_ohm"]),
    "05-series-p": lambda i: series_powers(i["V"], i["Z_ohm"]),
    "05-line100": lambda i: tap_impedance(i["V"], i["P_W"]),
    "05-tap": lambda i: tap_power(i["P_W"], i["V_tap"], i["V_line"]),
}
sets = st.lists(st.floats(1, 100), min_size=1, max_size=12)
volts = st.floats(0, 200)


@cases("loads")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(sets)
def test_parallel_is_at_most_the_least_and_series_at_least_the_most(impedances: list[float]) -> None:
    assert parallel_load(impedances) <= min(impedances) * (1 + 1e-12)
    assert series_load(impedances) >= max(impedances)


@given(sets, st.randoms())
def test_order_does_not_matter(impedances: list[float], random) -> None:
    mixed = list(impedances)
    random.shuffle(mixed)
    assert parallel_load(mixed) == pytest.approx(parallel_load(impedances))


@given(volts, sets)
def test_the_powers_add_up_to_that_of_the_whole_load(v: float, impedances: list[float]) -> None:
    assert sum(parallel_powers(v, impedances)) == pytest.approx(v**2 / parallel_load(impedances))
    assert sum(series_powers(v, impedances)) == pytest.approx(v**2 / series_load(impedances))


@given(st.floats(0.1, 1000), st.floats(10, 200))
def test_a_tap_on_its_own_line_takes_what_is_printed(power_w: float, line: float) -> None:
    assert tap_power(power_w, line, line) == pytest.approx(power_w)
    assert tap_power(power_w, line, line / 2) == pytest.approx(power_w / 4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: parallel_load([]),
        lambda: parallel_load([8, 0]),
        lambda: series_load([8, float("nan")]),
        lambda: bridged_half_load(0),
        lambda: parallel_powers(-1, [8]),
        lambda: series_powers(-1, [8]),
        lambda: tap_impedance(100, 0),
        lambda: tap_power(10, 0, 100),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
