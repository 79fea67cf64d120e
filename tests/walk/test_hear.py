"""What a listener would say of a box, worked out by hand; thresholds are common practice (3 dB is noticed)."""

from __future__ import annotations

import math

import pytest

from rigbook.walk.hear import judge, judge_pair, magnitude, regions
from rigbook.walk.sounding import Range
from rigbook.walk.wires import Cut

TOP, SUB = Range(60.0, 18_000.0), Range(35.0, 150.0)
FULL = ((0.0, False, 0.0, ()),)
LOW = Cut("low", 100.0, 4, True)
"""100 Hz, Linkwitz-Riley of 24 dB an octave."""


def at(gain: float = 0.0, flip: bool = False, delay: float = 0.0, *cuts: Cut) -> tuple[object, ...]:
    return ((gain, flip, delay, tuple(cuts)),)


@pytest.mark.parametrize(
    ("now", "plan", "word"),
    [
        (FULL, FULL, ""),
        ((), FULL, "silent"),
        (FULL, (), "sounds"),
        (at(-60.0), FULL, "silent"),
        (at(-2.0), FULL, ""),
        (at(-6.0), FULL, "quiet"),
        (at(+6.0), FULL, "loud"),
        (at(0.0, True), FULL, ""),
        (at(0.0, False, 0.02), FULL, ""),
        (at(0.0, False, 0.0, LOW), FULL, "thin"),
        (FULL, at(0.0, False, 0.0, LOW), "boomy"),
        (at(0.0, False, 0.0, Cut("high", 800.0, 4, True)), FULL, "dull"),
        (FULL, at(0.0, False, 0.0, Cut("high", 800.0, 4, True)), "bright"),
    ],
)
def test_a_top(now: object, plan: object, word: str) -> None:
    assert judge(now, plan, TOP, coarse=False) == word  # type: ignore[arg-type]


def test_in_the_line_check_only_much_is_said() -> None:
    """The sound itself was judged in the steps."""
    thin = at(0.0, False, 0.0, LOW)
    assert judge(thin, FULL, TOP, coarse=True) == ""  # type: ignore[arg-type]
    assert judge(at(-5.0), FULL, TOP, coarse=True) == ""  # type: ignore[arg-type]
    assert judge(at(-7.0), FULL, TOP, coarse=True) == "quiet"  # type: ignore[arg-type]


def test_filters_at_their_corner() -> None:
    """Butterworth is 3 dB down there, Linkwitz-Riley 6 dB (Linkwitz 1976)."""
    assert 20 * math.log10(magnitude(Cut("low", 100.0, 4, False), 100.0)) == pytest.approx(-3.01, abs=0.01)
    assert 20 * math.log10(magnitude(LOW, 100.0)) == pytest.approx(-6.02, abs=0.01)
    assert 20 * math.log10(magnitude(LOW, 50.0)) == pytest.approx(-24.6, abs=0.1), "an octave below, 24 dB an octave"


def test_two_delayed_parts_make_a_comb() -> None:
    """10 ms apart: 50 Hz cancels (half a period), 100 Hz adds; over a region it is near the sum of the powers."""
    both = (*FULL, *at(0.0, False, 0.01))
    low, mid, high = (a - b for a, b in zip(regions(both, TOP), regions(FULL, TOP), strict=True))  # type: ignore[arg-type]
    assert -3 < low < 6
    assert mid == pytest.approx(3, abs=1.5)
    assert high == pytest.approx(3, abs=1.5)


@pytest.mark.parametrize(
    ("a", "b", "low_hz", "word"),
    [
        (FULL, FULL, 0.0, ""),
        (at(0.0, True), FULL, 0.0, "hollow"),
        (at(0.0, False, 0.005), FULL, 0.0, "first-b"),
        (FULL, at(0.0, False, 0.005), 0.0, "first-a"),
        (at(0.0, False, 0.0005), FULL, 0.0, ""),
        (at(0.0, True), FULL, 63.0, "hollow"),
        (at(0.0, False, 0.008), FULL, 63.0, "hollow"),
        (at(0.0, True, 0.008), FULL, 63.0, ""),
        ((), FULL, 0.0, ""),
    ],
)
def test_two_boxes(a: object, b: object, low_hz: float, word: str) -> None:
    """8 ms are half a period of 63 Hz: a turned box that late adds again."""
    assert judge_pair((a, b), (FULL, FULL), low_hz) == word  # type: ignore[arg-type]
