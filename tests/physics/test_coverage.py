from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.coverage import coverage_angle, coverage_edges, coverage_width, down_tilt
from rigbook.physics.errors import OutOfRange

FOOT = 0.3048

CALLS = {
    "15-width": lambda i: coverage_width(i["theta_deg"], i["d_m"]),
    "15-angle": lambda i: coverage_angle(i["w_m"], i["d_m"]),
    "15-tilt": lambda i: down_tilt(i["h_m"], i["ear_m"], i["d_m"]),
    "15-edges": lambda i: coverage_edges(i["h_m"], i["ear_m"], i["tilt_deg"], i["V_deg"]),
}

angles = st.floats(1, 170)
distances = st.floats(0.5, 200)


@cases("coverage")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(angles, distances)
def test_width_and_angle_undo_each_other(angle: float, distance: float) -> None:
    assert coverage_angle(coverage_width(angle, distance), distance) == pytest.approx(angle)


@given(angles, distances)
def test_feet_change_nothing(angle: float, distance: float) -> None:
    assert coverage_width(angle, distance / FOOT) * FOOT == pytest.approx(coverage_width(angle, distance))


@given(st.floats(2, 12), distances, st.floats(0.1, 10))
def test_the_axis_of_an_aimed_box_meets_the_ear(height: float, distance: float, coverage: float) -> None:
    near, far = coverage_edges(height, 1.2, down_tilt(height, 1.2, distance), coverage)
    assert near is not None
    assert near < distance
    assert far is None or far > distance


def test_edges_without_an_end_and_without_a_beginning() -> None:
    assert coverage_edges(5, 1.2, 45, 20)[1] is not None
    assert coverage_edges(5, 1.2, 10, 20)[1] is None
    assert coverage_edges(5, 1.2, -30, 40) == (None, None)
    near, far = coverage_edges(5, 1.2, 90, 60)
    assert near == pytest.approx(-far)


@pytest.mark.parametrize(
    "call",
    [
        lambda: coverage_width(180, 10),
        lambda: coverage_angle(10, 0),
        lambda: down_tilt(3, 1, 0),
        lambda: coverage_edges(1, 1.2, 10, 40),
        lambda: coverage_edges(4, 1.2, 91, 40),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
