from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from rigbook.physics.errors import OutOfRange
from rigbook.physics.microphones import PATTERNS, null_angle, pattern_response

CALLS = {
    "10-pattern": lambda i: pattern_response(i["pattern"], i["theta_deg"]),
    "10-null": lambda i: null_angle(i["pattern"]),
}

patterns = st.sampled_from(sorted(PATTERNS))


@cases("microphones")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(patterns, st.floats(-180, 180))
def test_symmetrical_and_never_above_the_axis(pattern: str, angle: float) -> None:
    assert pattern_response(pattern, angle) <= 1e-9
    assert pattern_response(pattern, -angle) == pytest.approx(pattern_response(pattern, angle))
    assert pattern_response(pattern, 0) == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("pattern", sorted(PATTERNS))
def test_nothing_is_heard_in_the_null(pattern: str) -> None:
    angle = null_angle(pattern)
    if angle is None:
        assert pattern == "omnidirectional"
    else:
        assert pattern_response(pattern, angle) < -100


def test_arrays_agree_with_floats() -> None:
    angles = np.array([0.0, 60.0, 90.0, 120.0])
    assert pattern_response("cardioid", angles) == pytest.approx([pattern_response("cardioid", a) for a in angles])


def test_outside_the_range() -> None:
    with pytest.raises(OutOfRange):
        pattern_response("cardioid", 361)
    with pytest.raises(KeyError):
        pattern_response("square", 0)
