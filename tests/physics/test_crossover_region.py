from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.crossover_pairs import KINDS, cut, pair
from rigbook.physics.crossover_region import crossing_frequency, log_frequencies, ripple
from rigbook.physics.crossovers import Way, response_level, sum_response, way_response
from rigbook.physics.errors import OutOfRange


def ends(i):
    got = log_frequencies(i["from_Hz"], i["to_Hz"])
    return got[0], got[1], got[-1], len(got)


def extremes(i):
    got = ripple(pair(i["family"], i["order"], i["fc_Hz"], i["polarity"]), i["fc_Hz"] / 2, i["fc_Hz"] * 2)
    return got.lowest_db, got.highest_db, got.highest_hz


CALLS = {
    "06-log": ends,
    "06-meet": lambda i: crossing_frequency(*pair("LR", 4, i["fc_Hz"], gain_db=i["gain_upper_dB"])),
    "06-ripple": extremes,
}


@cases("crossover_region")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(1, 1000), st.floats(1.01, 1000))
def test_frequencies_rise_evenly(from_hz: float, times: float) -> None:
    got = np.array(log_frequencies(from_hz, from_hz * times))
    steps = np.diff(np.log2(got))
    assert steps.max() <= 1 / 24 + 1e-9
    assert steps == pytest.approx(steps[0])


@given(st.sampled_from(KINDS), st.sampled_from(KINDS), st.floats(60, 200), st.floats(60, 200), st.floats(-6, 6))
def test_where_two_ways_meet_they_have_one_level(low, high, low_hz: float, high_hz: float, gain_db: float) -> None:
    lower = Way((cut("high-cut", *low, low_hz),))
    upper = Way((cut("low-cut", *high, high_hz),), gain_db)
    met = crossing_frequency(lower, upper)
    assert met is not None
    assert abs(way_response(lower, met)) == pytest.approx(abs(way_response(upper, met)), rel=1e-6)


def test_two_ways_that_never_meet() -> None:
    assert crossing_frequency(Way(), Way(gain_db=-6)) is None
    assert crossing_frequency(*reversed(pair("LR", 4, 100.0))) is None


@given(st.sampled_from(KINDS), st.sampled_from(["normal", "inverted"]), st.floats(-0.005, 0.005))
def test_ripple_against_arrays(kind, polarity: str, late_s: float) -> None:
    ways = pair(*kind, 100.0, polarity, late_s)
    got = ripple(ways, 50.0, 200.0)
    frequencies = np.array(log_frequencies(50.0, 200.0))
    levels = np.maximum(response_level(sum_response(ways, frequencies)), -80)
    assert (got.lowest_db, got.highest_db) == pytest.approx(
        (levels.min(), levels.max()), abs=1e-6
    )
    assert 50 <= got.lowest_hz <= 200 * (1 + 1e-9)


def test_a_null_stays_a_number() -> None:
    assert math.isfinite(ripple(pair("LR", 2, 100.0), 50.0, 200.0).lowest_db)


@pytest.mark.parametrize(
    "call",
    [
        lambda: log_frequencies(0, 100),
        lambda: log_frequencies(100, 100),
        lambda: ripple(pair("LR", 4, 100.0), 200.0, 50.0),
        lambda: crossing_frequency(Way(), Way(), -1),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
