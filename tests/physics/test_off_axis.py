from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.off_axis import off_axis_loss, off_axis_loss_by_band

CALLS = {
    "15-model-edge": lambda i: off_axis_loss(i["h_deg"], i["v_deg"], i["H_deg"], i["V_deg"]),
    "15-model-piston": lambda i: off_axis_loss(i["h_deg"], i["v_deg"], i["H_deg"], i["V_deg"]),
    "15-model-band": lambda i: off_axis_loss_by_band(i["h_deg"], i["v_deg"], i["coverages_deg"]),
}

angles = st.floats(-180, 180)
coverages = st.floats(5, 360)


@cases("off_axis")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(0, 2 * math.pi), coverages, coverages)
def test_six_decibels_all_along_the_ellipse(around: float, horizontal: float, vertical: float) -> None:
    assume(360 not in (horizontal, vertical))
    h, v = horizontal / 2 * math.cos(around), vertical / 2 * math.sin(around)
    assert off_axis_loss(h, v, horizontal, vertical) == pytest.approx(6.0206, abs=1e-4)


@given(angles, angles, coverages, coverages)
def test_symmetrical_bounded_and_turned_by_exchange(h: float, v: float, horizontal: float, vertical: float) -> None:
    loss = off_axis_loss(h, v, horizontal, vertical)
    assert 0 <= loss <= 20
    assert off_axis_loss(-h, -v, horizontal, vertical) == pytest.approx(loss)
    assert off_axis_loss(v, h, vertical, horizontal) == pytest.approx(loss)


@given(st.floats(0, 170), coverages)
def test_farther_from_the_axis_never_loses_less(h: float, horizontal: float) -> None:
    assert off_axis_loss(h + 5, 0, horizontal, 60) >= off_axis_loss(h, 0, horizontal, 60)


def test_all_round() -> None:
    assert off_axis_loss(180, 0, 360, 360) == 0
    assert off_axis_loss(180, 0, 360, 40) == 0
    assert off_axis_loss(0, 20, 360, 40) == pytest.approx(6.0206, abs=1e-4)


def test_arrays_agree_with_floats() -> None:
    h = np.linspace(-180, 180, 37)
    v = np.linspace(-90, 90, 5)[:, None]
    loss = off_axis_loss(h, v, 90, 60)
    assert loss.shape == (5, 37)
    assert loss[1, 9] == pytest.approx(off_axis_loss(float(h[9]), float(v[1, 0]), 90, 60))
    assert off_axis_loss_by_band(10.0, 5.0, [(90, 60), (60, 40)], [20.0, 25.0]) == pytest.approx(
        (off_axis_loss(10.0, 5.0, 90, 60), off_axis_loss(10.0, 5.0, 60, 40, 25.0))
    )


@pytest.mark.parametrize(
    "call",
    [
        lambda: off_axis_loss(181, 0, 90, 60),
        lambda: off_axis_loss(0, 0, 0, 60),
        lambda: off_axis_loss(0, 0, 90, 361),
        lambda: off_axis_loss(0, 0, 90, 60, -1),
        lambda: off_axis_loss_by_band(0, 0, [(90, 60)], [1.0, 2.0]),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
