"""Distances, times and delays in warm and cold air, reckoned by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.by_hand import figures, value

PLAN = """
plan: 1
show: Delay
units:
  desk: desk-16
  main-1: {{kind: powered-top-12, at: 0 m right 0 m out 3 m up, aim: out}}
  late: {{kind: powered-top-10, at: {late}, supports: main-1, covers: [rear]}}
  sub: {{kind: powered-sub-18, at: {sub}}}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, late, subs]}}}}
buses:
  main: {{low-cut: 100 Hz lr 24 dB/oct}}
  late: {{role: delay, delay: {set_ms} ms}}
  subs: {{high-cut: 100 Hz lr 24 dB/oct}}
outputs: {{main: desk/out 1, late: desk/out 2, subs: desk/out 3}}
wiring: {{xlr: [desk/out 1 -> main-1/in, desk/out 2 -> late/in, desk/out 3 -> sub/in]}}
room:
  temperature: {celsius} degC
  mix-position: 0 m right 20 m out 1.2 m up
  audience: {{rear: {{from: 2 m left 28 m out, to: 2 m right 32 m out, ear-height: 1.2 m}}}}
limits: {{delay-offset: {offset} ms}}
"""


def plan(
    celsius: float = 20, late: str = "0 m right 20 m out 3 m up", offset: float = 10, set_ms: float = 0,
    sub: str = "0 m right 2 m out 0.4 m up",
) -> str:  # fmt: skip
    return PLAN.format(celsius=celsius, late=late, offset=offset, set_ms=set_ms, sub=sub)


SPEEDS = [(-10, 325.17), (0, 331.29), (10, 337.30), (20, 343.20), (30, 349.01), (40, 354.72)]
"""m/s, by c = 343.2 √((t + 273.15)/293.15) (ISO 9613-1, A.5); 331.3 and 343.2 stand in any table of air."""


@pytest.mark.parametrize(("celsius", "speed"), SPEEDS)
def test_from_places_to_times(celsius: int, speed: float, tmp_path: Path) -> None:
    """From 3 m up to ears at 1.2 m, 30 m and 10 m away on the floor: 30.054 m and 10.161 m."""
    (got,) = figures(plan(celsius), tmp_path)["delays"]
    far, near = math.hypot(30, 1.8), math.hypot(10, 1.8)
    assert (far, near) == pytest.approx((30.0539, 10.1607), abs=1e-4)
    assert (value(got["main_distance"]), value(got["own_distance"])) == pytest.approx((far, near), abs=0.02)
    assert value(got["main_time"]) == pytest.approx(1000 * far / speed, abs=0.06)
    assert value(got["wanted"]) == pytest.approx(1000 * (far - near) / speed + 10, abs=0.06)


def test_the_words_at_twenty_and_thirty_degrees(tmp_path: Path) -> None:
    """19.893 m are 57.96 ms at 20 °C and 57.00 ms at 30 °C; 10 ms on top."""
    texts = []
    for celsius in (20, 30):
        folder = tmp_path / str(celsius)
        folder.mkdir()
        texts.append(figures(plan(celsius), folder)["delays"][0]["wanted"]["text"])
    assert texts == ["68.0 ms", "67.0 ms"]


@pytest.mark.parametrize(("set_ms", "later"), [(0, -57.96), (57.96, 0.0), (67.96, 10.0), (100, 42.04)])
def test_how_much_later_it_arrives_as_set(set_ms: float, later: float, tmp_path: Path) -> None:
    (got,) = figures(plan(set_ms=set_ms), tmp_path)["delays"]
    assert value(got["later"]) == pytest.approx(later, abs=0.06)


@pytest.mark.parametrize(
    ("sub", "later"),
    [
        # the main is √(20² + 1.8²) = 20.081 m from the mix position
        ("0 m right 2 m out 0.4 m up", (math.hypot(18, 0.8) - 20.0808) / 0.3432),
        ("0 m right 3 m back 0.4 m up", (math.hypot(23, 0.8) - 20.0808) / 0.3432),
        ("3 m left 0 m out 0.4 m up", (math.sqrt(400 + 9 + 0.64) - 20.0808) / 0.3432),
    ],
)
def test_sub_against_top_at_the_mix_position(sub: str, later: float, tmp_path: Path) -> None:
    """Path difference over 343.2 m/s; below nought the sub comes first."""
    (got,) = figures(plan(sub=sub), tmp_path)["subs"]
    assert value(got["later"]) == pytest.approx(later, abs=0.02)
