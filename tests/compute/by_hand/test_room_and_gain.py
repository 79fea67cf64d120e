"""Critical distance and gain before feedback, reckoned by hand."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from helpers.by_hand import figures, row, value

PLAN = """
plan: 1
show: Lectern
units:
  desk: desk-16
  top: {{kind: powered-top-12, at: 0 m right 2 m out 1.2 m up, aim: out}}
inputs: {{{inputs}}}
buses: {{main: {{}}}}
outputs: {{main: desk/out 1}}
wiring: {{xlr: [desk/out 1 -> top/in]}}
room:
  {room}
  mix-position: 0 m right 8 m out 1.2 m up
  audience: {{floor: {{from: 5 cm left 15.95 m out, to: 5 cm right 16.05 m out, ear-height: 1.2 m}}}}
limits: {{equivalent-distance: 2 m, stability-margin: {margin} dB}}
"""
VOICE = (
    "{n}: {{name: Voice {n}, from: desk/line {n}, mic: {mic}, source: speech, mic-distance: 0.3 m, to: main, "
    "at: 0 m right 2 m back 1.2 m up}}"
)


def document(folder: Path, voices: int = 1, room: str = "capacity: 50", margin: float = 6) -> dict[str, Any]:
    folder.mkdir(exist_ok=True)
    inputs = ", ".join(VOICE.format(n=n, mic="dynamic-vocal") for n in range(1, voices + 1))
    return figures(PLAN.format(inputs=inputs, room=room, margin=margin), folder)


def test_needed_gain_in_the_open(tmp_path: Path) -> None:
    """D. and C. Davis, Sound System Engineering: NAG = 20 lg(D0/EAD): talker 18 m away, wanted as at 2 m: 19.1 dB."""
    got = document(tmp_path)["feedback"][0]
    assert value(got["needed"]) == pytest.approx(20 * math.log10(18.03 / 2), abs=0.03)


@pytest.mark.parametrize(("voices", "less"), [(2, 3.01), (4, 6.02), (8, 9.03)])
def test_each_doubling_of_open_microphones_costs_three_decibels(voices: int, less: float, tmp_path: Path) -> None:
    """The same: 10 lg NOM."""
    one, many = document(tmp_path / "a")["feedback"][0], document(tmp_path / "b", voices)["feedback"][0]
    assert value(one["potential"]) - value(many["potential"]) == pytest.approx(less, abs=0.01)
    assert value(one["needed"]) == pytest.approx(value(many["needed"]))
    assert value(many["margin"]) == pytest.approx(value(many["potential"]) - value(many["needed"]))


def test_the_stability_margin_is_taken_off(tmp_path: Path) -> None:
    loose, strict = (document(tmp_path / str(m), margin=m)["feedback"][0] for m in (0, 6))
    assert value(loose["potential"]) - value(strict["potential"]) == pytest.approx(6)


@pytest.mark.parametrize(
    ("volume", "seconds", "rc_of_q1"),
    # 0.057 √(V/T): Kuttruff, Room Acoustics; 0.03121 √(V/T) in feet is the same
    [(200, 0.5, 1.140), (1000, 1.0, 1.802), (2000, 1.5, 2.081), (10000, 2.0, 4.031), (150000, 3.0, 12.75)],
)
def test_critical_distance(volume: float, seconds: float, rc_of_q1: float, tmp_path: Path) -> None:
    """Times √Q, Q by Molloy of 90° x 60°: 180°/asin(sin 45°·sin 30°) = 8.69."""
    q = 180 / math.degrees(math.asin(math.sin(math.radians(45)) * 0.5))
    got = row(
        document(tmp_path, room=f"volume: {volume} m3\n  reverberation-time: {seconds} s")["room"], box="top"
    )
    assert value(got["critical"]) == pytest.approx(rc_of_q1 * math.sqrt(q), rel=0.01)
    # 6 m on the axis: direct over reverberant is 20 lg(rc/d)
    assert value(got["at_mix"]) == pytest.approx(20 * math.log10(value(got["critical"]) / 6), abs=0.01)


def test_modes_of_a_room(tmp_path: Path) -> None:
    """Schroeder: 2000 √(T/V): 1 s in 1000 m³ is 63 Hz, 0.5 s in 200 m³ 100 Hz."""
    for volume, seconds, hz in ((1000, 1.0, 63.25), (200, 0.5, 100.0)):
        got = document(tmp_path / str(volume), room=f"volume: {volume} m3\n  reverberation-time: {seconds} s")
        assert value(got["acoustics"]["modes_below"]) == pytest.approx(hz, abs=0.05)
