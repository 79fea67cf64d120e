from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.crossover_pairs import FAMILIES, KINDS, cut, pair
from rigbook.physics.crossovers import (
    Way,
    designed_phase,
    group_delay,
    overlap_octaves,
    phase_between,
    response_level,
    sum_loss,
    sum_response,
    way_response,
)
from rigbook.physics.errors import OutOfRange

GROUP_DELAYS = {
    "LR4 sum": pair("LR", 4, 100.0),
    "LR2 sum, one branch inverted": pair("LR", 2, 100.0, "inverted"),
    "BW2 low-pass": pair("BW", 2, 100.0)[:1],
}


def sums(i):
    ways = pair(i["family"], i["order"], 1.0, i["polarity"])
    if isinstance(i["f_over_fc"], list):
        return [response_level(sum_response(ways, float(f))) for f in i["f_over_fc"]]
    return response_level(sum_response(ways, float(i["f_over_fc"])))


def late(i):
    ways = pair(i["family"], i["order"], i["fc_Hz"], late_s=i["late_ms"] / 1000)
    return response_level(sum_response(ways, i["fc_Hz"]))


def phase(i):
    """The designed phase, after a look that the two ways do have it, whole turns aside."""
    wanted = designed_phase(FAMILIES[i["family"]], i["order"])  # type: ignore[arg-type]
    for ratio in (0.1, 1.0, 3.0):
        turns = (wanted - phase_between(*pair(i["family"], i["order"]), ratio)) / 360
        assert turns == pytest.approx(round(turns), abs=1e-6)
    return wanted


def one_way(i):
    got = way_response(
        Way((cut("high-cut", "LR", 4, i["fc_Hz"]),), i["gain_dB"], True, i["late_ms"] / 1000), i["fc_Hz"]
    )
    return got.real, got.imag


def overlap(i):
    high = cut("high-cut", i["family"], i["order"], i["high_cut_Hz"])
    return overlap_octaves(high, cut("low-cut", i["family"], i["order"], i["low_cut_Hz"]), i["L_dB"])


CALLS = {
    "06-sum": sums,
    "06-null": sums,
    "06-misaligned": late,
    "06-phase": phase,
    "06-gd": lambda i: 1000 * group_delay(GROUP_DELAYS[i["what"]], i["fc_Hz"] * i["f_over_fc"]),
    "06-way": one_way,
    "06-loss": lambda i: sum_loss(pair(i["family"], i["order"]), 1.0),
    "06-overlap": overlap,
}
cuts = st.builds(
    lambda side, kind, corner: cut(side, *kind, corner),
    st.sampled_from(["low-cut", "high-cut"]),
    st.sampled_from(KINDS),
    st.floats(50, 2000),
)
ways = st.builds(Way, st.lists(cuts, max_size=2).map(tuple), st.floats(-12, 12), st.booleans(), st.floats(-0.01, 0.01))
frequencies = st.floats(100, 1000)


@cases("crossovers")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.lists(ways, min_size=1, max_size=4), frequencies)
def test_the_sum_lies_below_that_of_the_levels(several: list[Way], frequency_hz: float) -> None:
    assert sum_loss(several, frequency_hz) <= 1e-9


@given(st.sampled_from([2, 4, 6, 8]), st.floats(20, 20_000), st.floats(20, 20_000))
def test_linkwitz_riley_sums_flat_in_its_right_polarity(order: int, corner: float, frequency: float) -> None:
    polarity = "inverted" if order in (2, 6) else "normal"
    assert response_level(sum_response(pair("LR", order, corner, polarity), frequency)) == pytest.approx(0, abs=1e-6)


@given(st.sampled_from([1, 3, 5, 7]), st.sampled_from(["normal", "inverted"]), st.floats(0.01, 100))
def test_odd_butterworth_sums_flat_in_either_polarity(order: int, polarity: str, ratio: float) -> None:
    assert response_level(sum_response(pair("BW", order, 1.0, polarity), ratio)) == pytest.approx(0, abs=1e-6)


@given(ways, st.floats(-0.01, 0.01), frequencies)
def test_delay_turns_the_phase_and_nothing_else(way: Way, more_s: float, frequency_hz: float) -> None:
    later = Way(way.cuts, way.gain_db, way.inverted, way.delay_s + more_s)
    here, there = way_response(way, frequency_hz), way_response(later, frequency_hz)
    assert abs(there) == pytest.approx(abs(here))
    assert group_delay([later], frequency_hz) - group_delay([way], frequency_hz) == pytest.approx(more_s, abs=1e-9)


@given(st.sampled_from(KINDS), st.floats(0.1, 10))
def test_group_delay_against_another_library(kind, ratio: float) -> None:
    signal = pytest.importorskip("scipy.signal")
    from rigbook.physics.filter_prototypes import denominator

    omega = np.array([ratio * (1 - 1e-6), ratio * (1 + 1e-6)])
    theirs = signal.freqs([1.0], denominator(*kind)[::-1], omega)[1]
    by_steps = -np.diff(np.unwrap(np.angle(theirs)))[0] / (2e-6 * ratio)
    got = group_delay([Way((cut("high-cut", *kind, 1 / (2 * math.pi)),))], ratio / (2 * math.pi))
    assert got == pytest.approx(by_steps, rel=1e-4, abs=1e-6)


@given(st.lists(ways, min_size=1, max_size=3))
def test_floats_and_arrays_agree(several: list[Way]) -> None:
    grid = np.array([[100.0, 250.0], [400.0, 999.0]])
    assume(np.all(sum_loss(several, grid) > -100))  # in a null only rounding is left, and it differs
    for function in (sum_response, group_delay, sum_loss):
        got = function(several, grid)
        assert got.shape == grid.shape
        each = np.array([[function(several, float(f)) for f in row] for row in grid])
        assert got == pytest.approx(each, rel=1e-6, abs=1e-9)


def test_a_null_in_an_array_is_minus_infinity() -> None:
    assert response_level(np.array([0j, 1 + 0j])).tolist() == [-math.inf, 0.0]


def test_where_nothing_is_left_there_is_no_delay_and_no_loss() -> None:
    nothing = [Way(), Way(inverted=True)]
    grid = np.array([100.0, 200.0])
    assert math.isnan(group_delay(nothing, 100.0))
    assert np.isnan(group_delay(nothing, grid)).all()
    assert sum_loss(nothing, 100.0) == -math.inf
    blocked = [Way((cut("low-cut", "LR", 4),))]
    assert math.isnan(sum_loss(blocked, 0.0))
    assert np.isnan(sum_loss(blocked, 0 * grid)).all()


@pytest.mark.parametrize(
    "call",
    [
        lambda: sum_response([], 100.0),
        lambda: way_response(Way(gain_db=float("nan")), 100.0),
        lambda: way_response(Way(delay_s=float("inf")), 100.0),
        lambda: phase_between(Way(), Way(), 0.0),
        lambda: designed_phase("butterworth", 9),
        lambda: overlap_octaves(cut("high-cut", "LR", 4), cut("low-cut", "LR", 4), 0.0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
