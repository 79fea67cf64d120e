from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.noise_exposure import (
    WORKING_DAY_S,
    allowed_time,
    equivalent_level,
    exposure_dose,
    exposure_points,
    time_weighted_average,
    weekly_exposure,
)
from rigbook.physics.sums import energy_mean

MINUTE, HOUR = 60.0, 3600.0


def percent(i, criterion: float, exchange: float) -> float:
    parts = [(level, hours * HOUR) for level, hours in i["exposures_dBA_h"]]
    return 100 * exposure_dose(parts, criterion, exchange)


CALLS = {
    "11-niosh-t": lambda i: allowed_time(i["L_dBA"], i["criterion_dBA"], i["exchange_dB"]) / MINUTE,
    "11-osha-t": lambda i: allowed_time(i["L_dBA"], 90, 5) / HOUR,
    "11-osha-d": lambda i: percent(i, 90, 5),
    "11-osha-twa": lambda i: time_weighted_average(i["dose_pct"] / 100, 90, 5),
    "11-niosh-d": lambda i: percent(i, 85, 3),
    "11-eu-t": lambda i: allowed_time(i["L_dBA"], i["value_dBA"], 3) / MINUTE,
    "11-lex": lambda i: equivalent_level(
        [(energy_mean(task["L_dBA"]), task["h"] * HOUR) for task in i["tasks"]], WORKING_DAY_S
    ),
    "11-hse-points": lambda i: exposure_points(i["LEPd_dBA"]),
    "11-hse-week": lambda i: weekly_exposure(i["points"]),
    "11-canada": lambda i: allowed_time(i["L_dBA"], 87, 3) / HOUR,
    "11-leq15": lambda i: equivalent_level([(level, minutes * MINUTE) for minutes, level in i["parts_min_dBA"]]),
}

levels = st.floats(60, 130)
times = st.floats(1, WORKING_DAY_S)
parts = st.lists(st.tuples(levels, times), min_size=1, max_size=8)
exchanges = st.sampled_from([3.0, 5.0])


@cases("noise_exposure")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(levels, exchanges)
def test_one_exchange_rate_louder_halves_the_time(level: float, exchange: float) -> None:
    assert allowed_time(level, 85, exchange) == pytest.approx(2 * allowed_time(level + exchange, 85, exchange))


@given(levels, exchanges)
def test_the_allowed_time_is_a_full_dose(level: float, exchange: float) -> None:
    assert exposure_dose([(level, allowed_time(level, 90, exchange))], 90, exchange) == pytest.approx(1)


@given(levels, exchanges)
def test_the_average_of_a_steady_day_is_its_level(level: float, exchange: float) -> None:
    dose = exposure_dose([(level, WORKING_DAY_S)], 90, exchange)
    assert time_weighted_average(dose, 90, exchange) == pytest.approx(level)


@given(parts)
def test_equivalent_level_lies_between_the_parts(day: list[tuple[float, float]]) -> None:
    loudness = [level for level, _ in day]
    assert min(loudness) - 1e-9 <= equivalent_level(day) <= max(loudness) + 1e-9


@given(parts, st.randoms())
def test_order_and_units_change_nothing(day: list[tuple[float, float]], random) -> None:
    mixed = [(level, time / HOUR) for level, time in day]
    random.shuffle(mixed)
    assert equivalent_level(mixed) == pytest.approx(equivalent_level(day))


@given(levels)
def test_five_equal_days_are_the_week(level: float) -> None:
    assert weekly_exposure(5 * exposure_points(level)) == pytest.approx(level)


@given(levels, times)
def test_half_the_time_is_three_decibels_less(level: float, time: float) -> None:
    whole = equivalent_level([(level, time)], WORKING_DAY_S)
    assert whole - equivalent_level([(level, time / 2)], WORKING_DAY_S) == pytest.approx(3.0103, abs=1e-4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: allowed_time(141, 85, 3),
        lambda: allowed_time(90, 85, 0),
        lambda: allowed_time(90, 85, 3, 0),
        lambda: exposure_dose([(90, -1)], 85, 3),
        lambda: time_weighted_average(0, 90, 5),
        lambda: equivalent_level([]),
        lambda: equivalent_level([(90, 0)]),
        lambda: equivalent_level([(90, -1), (90, 5)]),
        lambda: equivalent_level([(90, 5)], 0),
        lambda: exposure_points(150),
        lambda: weekly_exposure(0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
