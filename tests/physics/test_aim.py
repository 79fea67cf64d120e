from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.aim import aim_at, distance_between, listener_angles, off_axis_angle
from rigbook.physics.errors import OutOfRange


def off_axis(i) -> float:
    """By the target, and again by aim and tilt: both ways must meet."""
    angle = off_axis_angle(i["speaker"], i["aim"], i["listener"])
    aim, tilt = aim_at(i["speaker"], i["aim"])
    h, v = listener_angles(i["speaker"], aim, tilt, i["listener"])
    assert math.hypot(h, v) == pytest.approx(angle)
    return angle


CALLS = {
    "15-off-axis": off_axis,
    "15-aim": lambda i: aim_at(i["position"], i["target"]),
    "15-distance": lambda i: distance_between(i["position"], i["listener"]),
    "15-frame": lambda i: listener_angles(i["position"], i["aim_deg"], i["tilt_deg"], i["listener"], i["roll_deg"]),
}

coordinates = st.floats(-50, 50)
places = st.tuples(coordinates, coordinates, coordinates)
aims = st.floats(-180, 180)
tilts = st.floats(-89, 89)


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return math.dist(one, other) > 0.1


@cases("aim")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(places, places, places)
def test_off_axis_angle_against_the_dot_product(box, target, listener) -> None:
    assume(apart(box, target) and apart(box, listener))
    a, b = np.subtract(target, box), np.subtract(listener, box)
    cosine = float(a @ b / np.linalg.norm(a) / np.linalg.norm(b))
    angle = off_axis_angle(box, target, listener)
    assert math.cos(math.radians(angle)) == pytest.approx(cosine, abs=1e-9)


@given(places, aims, tilts, places, aims)
def test_frame_against_scipy_rotations(box, aim, tilt, listener, roll) -> None:
    """The frame as three turns of a right-handed box that looks along +y: tilt about x, aim about -z, roll about y."""
    rotation = oracle("scipy.spatial.transform").Rotation
    assume(apart(box, listener))
    turned = rotation.from_euler("z", -aim, degrees=True) * rotation.from_euler("x", tilt, degrees=True)
    turned = turned * rotation.from_euler("y", -roll, degrees=True)
    right, out, up = turned.inv().apply(np.subtract(listener, box))
    from_axis = math.degrees(math.atan2(math.hypot(right, up), out))
    around = math.atan2(up, right)
    h, v = listener_angles(box, aim, tilt, listener, roll)
    assert h == pytest.approx(from_axis * math.cos(around), abs=1e-5)
    assert v == pytest.approx(from_axis * math.sin(around), abs=1e-5)


@given(places, places)
def test_the_target_is_on_the_axis(box, target) -> None:
    assume(apart(box, target))
    aim, tilt = aim_at(box, target)
    assert listener_angles(box, aim, tilt, target) == pytest.approx((0, 0), abs=1e-5)
    assert off_axis_angle(box, target, target) == pytest.approx(0, abs=1e-5)


@given(places, aims, tilts, places)
def test_on_its_side_the_angles_change_places(box, aim, tilt, listener) -> None:
    h, v = listener_angles(box, aim, tilt, listener)
    on_side = listener_angles(box, aim, tilt, listener, 90)
    assert on_side == pytest.approx((v, -h), abs=1e-9)


def test_signs() -> None:
    assert aim_at((0, 0, 0), (1, 0, 0)) == pytest.approx((90, 0))
    assert aim_at((0, 0, 0), (0, -1, 0)) == pytest.approx((180, 0))
    assert aim_at((0, 0, 0), (0, 1, 1)) == pytest.approx((0, 45))
    assert aim_at((0, 0, 0), (0, 0, -1)) == pytest.approx((0, -90))
    assert listener_angles((0, 0, 2), 0, -10, (0, 8, 2)) == pytest.approx((0, 10))
    assert listener_angles((0, 0, 2), 20, 0, (0, 8, 2)) == pytest.approx((-20, 0))
    assert math.hypot(*listener_angles((0, 0, 2), 0, 0, (0, -3, 2))) == pytest.approx(180)


def test_arrays_agree_with_floats() -> None:
    grid = np.array([[[1.0, 5.0, 1.2], [3.0, 9.0, 1.2]], [[-4.0, 2.0, 1.7], [0.0, -2.0, 1.2]]])
    box = (1.0, 0.5, 3.0)
    h, v = listener_angles(box, 10, -8, grid, 90)
    assert h.shape == (2, 2)
    for place in np.ndindex(2, 2):
        point = tuple(float(c) for c in grid[place])
        assert (h[place], v[place]) == pytest.approx(listener_angles(box, 10, -8, point, 90))
        assert distance_between(box, grid)[place] == pytest.approx(distance_between(box, point))
        assert off_axis_angle(box, (0, 9, 1), grid)[place] == pytest.approx(off_axis_angle(box, (0, 9, 1), point))


@pytest.mark.parametrize(
    "call",
    [
        lambda: aim_at((1, 1, 1), (1, 1, 1)),
        lambda: listener_angles((0, 0, 0), 400, 0, (1, 1, 1)),
        lambda: listener_angles((0, 0, 0), 0, 91, (1, 1, 1)),
        lambda: listener_angles((0, 0, 0), 0, 0, (1, 1, 1), 400),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
