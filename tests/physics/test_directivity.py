from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.directivity import (
    coverage_in_band,
    directivity_factor_cone,
    directivity_factor_rectangular,
    directivity_index,
    piston_coverage_angle,
    piston_response,
)
from rigbook.physics.errors import OutOfRange

INCH = 0.0254


def at_argument(x: float) -> float:
    """Response of a piston at k a sin(theta) = x, with k a = 10."""
    frequency = 10 * 343.2 / (2 * math.pi * 0.2)
    return piston_response(frequency, 0.2, math.degrees(math.asin(x / 10)))


def root(i) -> float:
    """Where the response crosses half the pressure, found by halving; the closed angle must lie there too."""
    low, high = 1.0, 3.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if at_argument(middle) > 20 * math.log10(0.5) else (low, middle)
    frequency = 10 * 343.2 / (2 * math.pi * 0.2)
    assert 10 * math.sin(math.radians(piston_coverage_angle(frequency, 0.2) / 2)) == pytest.approx(low, abs=1e-5)
    return low


CALLS = {
    "09-di": lambda i: directivity_index(i["Q"]),
    "15-q-molloy": lambda i: directivity_factor_rectangular(i["H_deg"], i["V_deg"]),
    "15-q-cone": lambda i: directivity_factor_cone(i["theta_deg"]),
    "15-piston": root,
    "15-piston-6": lambda i: piston_coverage_angle(i["f_Hz"], i["radius_m"], i["c"]),
    "15-piston-down": lambda i: at_argument(i["x"]),
    "15-in-band": lambda i: coverage_in_band(i["nominal_deg"], i["f_Hz"], i["mouth_in"] * INCH),
}

angles = st.floats(5, 180)


@cases("directivity")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(0.01, 20), st.floats(-90, 90))
def test_piston_against_scipy(ka: float, angle: float) -> None:
    special = oracle("scipy.special")
    x = ka * math.sin(math.radians(angle))
    theirs = abs(2 * special.j1(x) / x) if x else 1.0
    ours = 10 ** (piston_response(ka * 343.2 / (2 * math.pi * 0.1), 0.1, angle) / 20)
    assert ours == pytest.approx(theirs, abs=1e-7)


@given(angles, angles)
def test_rectangular_factor_against_the_solid_angle(horizontal: float, vertical: float) -> None:
    """Solid angle of a rectangular pyramid by its triangle (Van Oosterom & Strackee 1983), away from 180 degrees."""
    assume(max(horizontal, vertical) <= 170)
    a, b = math.tan(math.radians(horizontal / 2)), math.tan(math.radians(vertical / 2))
    solid = 4 * math.atan2(a * b, math.sqrt(1 + a * a + b * b))
    assert directivity_factor_rectangular(horizontal, vertical) == pytest.approx(4 * math.pi / solid, rel=1e-6)


@given(angles, st.floats(5, 179))
def test_narrower_is_more_directive(horizontal: float, vertical: float) -> None:
    wider = directivity_factor_rectangular(horizontal, vertical + 1)
    assert directivity_factor_rectangular(horizontal, vertical) > wider
    assert directivity_factor_cone(vertical) > directivity_factor_cone(vertical + 1)
    assert directivity_factor_rectangular(horizontal, vertical) == pytest.approx(
        directivity_factor_rectangular(vertical, horizontal)
    )


def test_half_space_and_whole_space() -> None:
    assert directivity_factor_rectangular(180, 180) == pytest.approx(2)
    assert directivity_factor_cone(360) == pytest.approx(1)
    assert coverage_in_band(90, 30, 0.3) == 360


@pytest.mark.parametrize(
    "call",
    [
        lambda: directivity_factor_rectangular(0, 40),
        lambda: directivity_factor_rectangular(90, 181),
        lambda: directivity_factor_cone(361),
        lambda: directivity_index(0),
        lambda: piston_response(1000, 0.1, 91),
        lambda: piston_response(20_000, 0.2, 10),
        lambda: piston_coverage_angle(100, 0.1),
        lambda: coverage_in_band(90, 0, 0.3),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
