from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.levels import (
    distance_loss,
    geometric_divergence,
    level_at_distance,
    line_source_limit,
    line_source_loss,
    sound_pressure_level,
)

FOOT = 0.3048

CALLS = {
    "03-isl": lambda i: level_at_distance(i["L1_dB"], i["d2"], i["d1"]),
    "03-adiv": lambda i: geometric_divergence(i["d_m"]),
    "03-line": lambda i: i["L1_dB"] - line_source_loss(i["d2"], i["d1"]),
    "03-spl": lambda i: sound_pressure_level(i["p_Pa"]),
    "03-line-limit": lambda i: line_source_limit(i["length_m"], i["f_Hz"], i["c"]),
    "15-front-back": lambda i: distance_loss(i["far_m"], i["near_m"]),
    "16-3to1": lambda i: level_at_distance(0.0, i["ratio"], 1.0),
}

distances = st.floats(0.1, 1000)


@cases("levels")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(distances, distances)
def test_twice_as_far_loses_six_decibels_of_a_point_and_three_of_a_line(distance: float, reference: float) -> None:
    step = distance_loss(2 * distance, reference) - distance_loss(distance, reference)
    assert step == pytest.approx(6.0206, abs=1e-4)
    assert line_source_loss(2 * distance) - line_source_loss(distance) == pytest.approx(3.0103, abs=1e-4)


@given(distances, distances)
def test_feet_change_nothing(distance: float, reference: float) -> None:
    assert distance_loss(distance / FOOT, reference / FOOT) == pytest.approx(distance_loss(distance, reference))


@given(distances, distances, distances)
def test_by_way_of_a_third_distance(one: float, two: float, three: float) -> None:
    assert distance_loss(one, two) + distance_loss(two, three) == pytest.approx(distance_loss(one, three), abs=1e-9)


@given(st.floats(1e-6, 1e3))
def test_ten_times_the_pressure_is_twenty_decibels(pressure: float) -> None:
    assert sound_pressure_level(10 * pressure) - sound_pressure_level(pressure) == pytest.approx(20)


@given(distances)
def test_divergence_is_that_of_the_whole_sphere(distance: float) -> None:
    exact = 10 * math.log10(4 * math.pi * distance**2)
    assert geometric_divergence(distance) == pytest.approx(exact, abs=0.01)


def test_arrays_broadcast_like_floats() -> None:
    distance = np.array([1.0, 2.0, 50.0])
    reference = np.array([[1.0], [4.0]])
    assert distance_loss(distance, reference).shape == (2, 3)
    assert level_at_distance(100.0, distance) == pytest.approx([level_at_distance(100.0, float(d)) for d in distance])
    assert line_source_loss(distance) == pytest.approx(distance_loss(distance) / 2)


@pytest.mark.parametrize(
    "call",
    [
        lambda: distance_loss(0.0),
        lambda: distance_loss(1.0, 0.0),
        lambda: distance_loss(np.array([1.0, 0.0])),
        lambda: line_source_loss(-1.0),
        lambda: line_source_limit(0.1, 1000, 343.2),
        lambda: geometric_divergence(0.0),
        lambda: sound_pressure_level(0.0),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
