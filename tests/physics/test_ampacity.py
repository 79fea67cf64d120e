from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.ampacity import (
    AREAS_MM2,
    METHODS,
    air_factor,
    ampacity,
    gauge_ampacity,
    group_factor,
    worst_phase_drop,
)
from rigbook.physics.errors import OutOfRange

CALLS = {
    "13-iz": lambda i: ampacity(i["area_mm2"], i["method"], i["loaded"]),
    "13-cord": lambda i: ampacity(i["area_mm2"], i["method"], i["loaded"]),
    "13-awg": lambda i: gauge_ampacity(i["awg"]),
    "13-air": lambda i: air_factor(i["t_C"], i["insulation_C"]),
    "13-air60": lambda i: air_factor(i["t_C"], i["insulation_C"]),
    "13-bunch": lambda i: group_factor(i["cables"]),
    "13-drop3": lambda i: worst_phase_drop(i["R_ohm_per_km"] / 1000, i["length_m"], i["here_A"], i["others_A"], i["V"]),
}


@cases("ampacity")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(0.5, 120), st.floats(0.5, 120), st.sampled_from(METHODS), st.sampled_from((2, 3)))
def test_thicker_never_carries_less(one: float, two: float, method: str, loaded) -> None:
    thin, thick = sorted((one, two))
    assert ampacity(thin, method, loaded) <= ampacity(thick, method, loaded)


@pytest.mark.parametrize("area", AREAS_MM2)
def test_the_worse_a_cable_is_cooled_the_less_it_carries(area: float) -> None:
    for loaded in (2, 3):
        a1, a2, b1, b2, c, e = (ampacity(area, m, loaded) for m in METHODS)
        assert a2 <= a1 <= b2 <= b1 <= c <= e
    assert all(ampacity(area, m, 3) < ampacity(area, m, 2) for m in METHODS)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 100))
def test_phasors_give_the_same(a: float, b: float, c: float) -> None:
    """The neutral carries the vector sum; the part in phase with the first voltage counts."""
    neutral = sum(i * cmath.exp(-2j * math.pi * n / 3) for n, i in enumerate((a, b, c)))
    assert worst_phase_drop(0.001, 100, a, b + c, 230) == pytest.approx(0.1 * (a + neutral.real) / 230, abs=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: ampacity(0.4),
        lambda: ampacity(121),
        lambda: ampacity(float("nan")),
        lambda: ampacity(2.5, "C", 4),  # type: ignore[arg-type]
        lambda: gauge_ampacity(20),
        lambda: air_factor(66),
        lambda: air_factor(20, 30),
        lambda: group_factor(0),
        lambda: group_factor(10),
        lambda: worst_phase_drop(0.001, -1, 1, 1, 230),
    ],
)
def test_outside_the_range(call) -> None:
    with pytest.raises(OutOfRange):
        call()
