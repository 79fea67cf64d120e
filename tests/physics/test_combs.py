from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.combs import comb_nulls, comb_peaks, comb_ripple
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sums import coherent_sum
from rigbook.physics.travel import phase_shift

CALLS = {
    "16-comb": lambda i: comb_nulls(i["delay_ms"] / 1000),
    "16-comb-peaks": lambda i: comb_peaks(i["delay_ms"] / 1000),
    "16-ripple": lambda i: comb_ripple(i["copy_dB"]),
}

delays = st.floats(0.0001, 0.1)


@cases("combs")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(delays, st.floats(-40, -0.5))
def test_peaks_and_nulls_against_the_sum_of_two_tones(delay: float, copy: float) -> None:
    peak, null = comb_ripple(copy)
    for frequency in comb_peaks(delay):
        assert coherent_sum([0.0, copy], [0.0, phase_shift(frequency, delay)]) == pytest.approx(peak, abs=1e-6)
    for frequency in comb_nulls(delay):
        assert coherent_sum([0.0, copy], [0.0, phase_shift(frequency, delay)]) == pytest.approx(null, abs=1e-6)


@given(delays)
def test_nulls_lie_midway_between_peaks(delay: float) -> None:
    (first, second), nulls = comb_peaks(delay, 2), comb_nulls(delay, 2)
    assert nulls[0] == pytest.approx(first / 2)
    assert nulls[1] == pytest.approx((first + second) / 2)


def test_an_equal_copy_cancels() -> None:
    assert comb_ripple(0) == (pytest.approx(6.0206, abs=1e-4), -math.inf)


@pytest.mark.parametrize(
    "call", [lambda: comb_nulls(0), lambda: comb_peaks(0), lambda: comb_nulls(0.001, 0), lambda: comb_ripple(100)]
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
