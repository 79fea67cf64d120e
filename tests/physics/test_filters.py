from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.crossover_pairs import KINDS, cut
from rigbook.physics.crossovers import response_level
from rigbook.physics.errors import OutOfRange
from rigbook.physics.filters import Cut, cut_derivative, cut_response, frequency_at_level


def level(side, i):
    return response_level(cut_response(cut(side, i["family"], i["order"]), i["f_over_fc"]))


def derivative_ms(i) -> tuple[float, float]:
    got = 1000 * cut_derivative(cut("high-cut", i["family"], i["order"], i["fc_Hz"]), i["fc_Hz"])
    return got.real, got.imag


CALLS = {
    "06-lp": lambda i: level("high-cut", i),
    "06-hp": lambda i: level("low-cut", i),
    "06-slope": derivative_ms,
    "06-at-level": lambda i: frequency_at_level(cut(i["side"], i["family"], i["order"]), i["L_dB"]),
}
kinds = st.sampled_from(KINDS)
sides = st.sampled_from(["low-cut", "high-cut"])
corners = st.floats(10, 20_000)
ratios = st.floats(0.01, 100)


@cases("filters")
def test_published(row: Row) -> None:
    check(row, CALLS)


@pytest.mark.parametrize(("family", "order"), KINDS)
@pytest.mark.parametrize("side", ["low-cut", "high-cut"])
def test_against_another_library(side, family, order: int) -> None:
    signal = pytest.importorskip("scipy.signal")
    corner_hz = 125.0
    kind = {"high-cut": "lowpass", "low-cut": "highpass"}[side]
    omega = 2 * math.pi * corner_hz
    if family == "bessel":
        b, a = signal.bessel(order, omega, kind, analog=True, norm="mag")
    else:
        b, a = signal.butter(order // 2 if family == "linkwitz-riley" else order, omega, kind, analog=True)
    frequencies = np.geomspace(1, 20_000, 300)
    theirs = signal.freqs(b, a, 2 * math.pi * frequencies)[1]
    if family == "linkwitz-riley":
        theirs = theirs**2
    ours = cut_response(Cut(side, family, order, corner_hz), frequencies)
    assert ours == pytest.approx(theirs, rel=1e-6, abs=1e-15)


@given(sides, kinds, corners, ratios)
def test_floats_and_arrays_agree(side, kind, corner_hz: float, ratio: float) -> None:
    one = Cut(side, *kind, corner_hz)
    frequency_hz = ratio * corner_hz
    grid = np.array([[frequency_hz, 0.0], [corner_hz, 2 * frequency_hz]])
    for function in (cut_response, cut_derivative):
        got = function(one, grid)
        assert got.shape == grid.shape
        each = np.array([[function(one, float(f)) for f in row] for row in grid])
        assert got == pytest.approx(each, rel=1e-9)


@given(kinds, corners, ratios)
def test_a_low_cut_is_the_mirror_of_a_high_cut(kind, corner_hz: float, ratio: float) -> None:
    low = cut_response(Cut("low-cut", *kind, corner_hz), corner_hz * ratio)
    high = cut_response(Cut("high-cut", *kind, corner_hz), corner_hz / ratio)
    assert low == pytest.approx(high.conjugate(), rel=1e-9)


@given(kinds, corners)
def test_what_passes_passes_whole_and_the_corner_is_where_it_should_be(kind, corner_hz: float) -> None:
    high = Cut("high-cut", *kind, corner_hz)
    assert cut_response(high, 0.0) == 1
    assert cut_response(Cut("low-cut", *kind, corner_hz), 0.0) == 0
    at_corner = -6.0206 if kind[0] == "linkwitz-riley" else -3.0103
    assert response_level(cut_response(high, corner_hz)) == pytest.approx(at_corner, abs=1e-4)


@given(kinds)
def test_far_away_the_slope_is_the_order(kind) -> None:
    high = Cut("high-cut", *kind, 1.0)
    octave_db = response_level(cut_response(high, 1000.0)) - response_level(cut_response(high, 2000.0))
    assert octave_db == pytest.approx(6.0206 * kind[1], abs=0.001)


@given(sides, kinds, corners, st.floats(0.1, 10))
def test_the_derivative_is_that_of_the_response(side, kind, corner_hz: float, ratio: float) -> None:
    one, f = Cut(side, *kind, corner_hz), ratio * corner_hz
    step = f * 1e-5
    by_steps = (cut_response(one, f + step) - cut_response(one, f - step)) / (4 * math.pi * step)
    scale = 1 / (2 * math.pi * corner_hz)
    assert cut_derivative(one, f) == pytest.approx(by_steps, rel=1e-5, abs=1e-7 * scale)


@given(sides, kinds, corners, st.floats(-120, -0.1))
def test_the_level_found_is_the_level_asked_for(side, kind, corner_hz: float, level_db: float) -> None:
    one = Cut(side, *kind, corner_hz)
    assert response_level(cut_response(one, frequency_at_level(one, level_db))) == pytest.approx(level_db, abs=1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: cut_response(Cut("low-cut", "butterworth", 2, 0), 100),
        lambda: cut_response(Cut("low-cut", "butterworth", 9, 100), 100),
        lambda: cut_response(Cut("low-cut", "butterworth", 2, 100), -1),
        lambda: cut_response(Cut("low-cut", "butterworth", 2, 100), np.array([1.0, float("nan")])),
        lambda: cut_derivative(Cut("high-cut", "linkwitz-riley", 1, 100), 100),
        lambda: frequency_at_level(Cut("high-cut", "bessel", 2, 100), 0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
