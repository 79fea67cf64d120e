from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.crossover_pairs import KINDS, pair
from rigbook.physics.crossover_alignment import WORTH_DB, best_alignment
from rigbook.physics.crossover_region import ripple
from rigbook.physics.crossovers import Way
from rigbook.physics.errors import OutOfRange
from rigbook.records import replace


def advice(i):
    got = best_alignment(*pair(i["family"], i["order"], 100.0, i["polarity"], i["upper_late_ms"] / 1000), 100.0)
    return got.invert, got.delay_s * 1000


def applied(lower: Way, upper: Way, invert: bool, delay_s: float) -> tuple[Way, Way]:
    return (
        replace(lower, delay_s=lower.delay_s + max(0.0, -delay_s)),
        replace(upper, inverted=upper.inverted != invert, delay_s=upper.delay_s + max(0.0, delay_s)),
    )


CALLS = {"06-align": advice}
misaligned = st.builds(
    lambda kind, polarity, late_s: pair(*kind, 100.0, polarity, late_s),
    st.sampled_from(KINDS),
    st.sampled_from(["normal", "inverted"]),
    st.floats(-0.01, 0.01),
)


@cases("crossover_alignment")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(misaligned)
@settings(max_examples=40)
def test_the_advice_does_what_it_says(ways: tuple[Way, Way]) -> None:
    got = best_alignment(*ways, 100.0)
    assert ripple(ways, 50.0, 200.0).lowest_db == pytest.approx(got.hole_now_db, abs=0.01) or got.hole_now_db < -200
    after = ripple(applied(*ways, got.invert, got.delay_s), 50.0, 200.0)
    assert after.lowest_db == pytest.approx(got.hole_db, abs=1e-6) or got.hole_db < -200
    assert got.hole_db >= min(got.hole_now_db, 0) - 1e-9


@given(misaligned)
@settings(max_examples=40)
def test_taking_the_advice_leaves_nothing_to_advise(ways: tuple[Way, Way]) -> None:
    got = best_alignment(*ways, 100.0, 0.02)
    again = best_alignment(*applied(*ways, got.invert, got.delay_s), 100.0, 0.005)
    assert min(again.hole_db, 0) <= min(got.hole_db, 0) + WORTH_DB


@given(misaligned, st.floats(-20, 20))
@settings(max_examples=20)
def test_gain_changes_no_advice(ways: tuple[Way, Way], gain_db: float) -> None:
    lower, upper = ways
    assert best_alignment(lower, replace(upper, gain_db=gain_db), 100.0) == best_alignment(lower, upper, 100.0)


@given(misaligned)
@settings(max_examples=20)
def test_asked_about_polarity_alone_it_moves_no_delay(ways: tuple[Way, Way]) -> None:
    assert best_alignment(*ways, 100.0, 0.0).delay_s == 0


@pytest.mark.parametrize("order", [1, 3, 5, 7])
@pytest.mark.parametrize("polarity", ["normal", "inverted"])
def test_a_flat_sum_is_left_alone(order: int, polarity: str) -> None:
    got = best_alignment(*pair("BW", order, 100.0, polarity), 100.0)
    assert (got.invert, got.delay_s) == (False, 0)


@pytest.mark.parametrize(("crossover_hz", "longest_s"), [(0, None), (100, -1)])
def test_outside_the_range(crossover_hz: float, longest_s: float | None) -> None:
    with pytest.raises(OutOfRange):
        best_alignment(*pair("LR", 4, 100.0), crossover_hz, longest_s)
