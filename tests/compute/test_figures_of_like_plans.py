"""Properties of figures across plans that say the same in another way, or a little more of one thing."""

from __future__ import annotations

import math
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_pages import compile_text
from rigbook.compute.figure import Figure
from rigbook.compute.results import Results, results

PLAN = """
plan: 1
show: Alike
length: {length}
kinds:
  lead: {{is: cable, title: a lead, carries: speaker, area: {area}, ends: [speaker-4-pole, speaker-4-pole]}}
units:
  desk: desk-16
  amp: {{kind: amplifier-2x500, attenuation: 0 dB}}
  {boxes}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}}}
buses: {{main: {{low-cut: {cut}, limiter: {limiter}}}}}
outputs: {{main: desk/out 1}}
wiring: {{xlr: [desk/out 1 -> amp/in A], lead: ["amp/out A -> {chain}, {cable}"]}}
room:
  temperature: {air}
  audience: {{floor: {{from: 2 m left {near} out, to: 2 m right {far} out}}}}
  mix-position: {mix} out 1.7 m up
limits: {{temperature: {copper}}}
power:
  supplies: {{house: {{voltage: 230 V}}}}
  circuits: {{one: {{supply: house, rating: 16 A, feeds: [amp], length: {feed}, area: 2.5 mm2}}}}
"""
USUAL = {
    "length": "2 h", "area": "2.5 mm2", "cut": "100 Hz lr 24 dB/oct", "limiter": "+3 dBu", "cable": "30 m",
    "air": "20 degC", "near": "4 m", "far": "16 m", "mix": "12 m", "copper": "20 degC", "feed": "25 m",
    "boxes": "top-1: {kind: top-12, at: 0 m right 0 m out 3 m up}", "chain": "top-1/in",
}  # fmt: skip


def made(**said: str) -> Results:
    with tempfile.TemporaryDirectory() as folder:
        compiled = compile_text(PLAN.format(**(USUAL | said)), Path(folder))
    assert compiled.rig is not None, compiled.findings
    return results(compiled.rig)


def value(result: object) -> float:
    assert isinstance(result, Figure), result
    return result.value


def figures(got: Results) -> list[float]:
    """What the tests below compare."""
    (circuit,), (run, *_) = got.mains.circuits, got.cable_runs
    levels = [got.levels.most_at_mix, *(b.mean for a in got.levels.by_area for b in a.bands)]
    return [value(f) for f in (run.loop, run.loss, run.damping, circuit.drop, circuit.drop_volts, *levels)]


@pytest.mark.parametrize(
    "said",
    [
        {"cable": "98.42519685 ft", "feed": "2500 cm"}, {"cable": "30000 mm"}, {"air": "68 degF"}, {"air": "293.15 K"},
        {"copper": "68 degF"}, {"cut": "0.1 kHz lr 24 dB/oct"}, {"limiter": "+0.781512 dBV"}, {"length": "120 min"},
        {"near": "157.4803150 in", "far": "52.49343832 ft", "mix": "39.37007874 ft"}, {"area": "0.0000025 m2"},
    ],
)  # fmt: skip
def test_the_same_in_another_unit_is_the_same(said: dict[str, str]) -> None:
    assert figures(made(**said)) == pytest.approx(figures(made()), rel=1e-6)


lengths = st.integers(1, 120)


@given(lengths, lengths)
@settings(max_examples=12, deadline=None)
def test_a_longer_cable_loses_more(one: int, two: int) -> None:
    short, long = (made(cable=f"{m} m", feed=f"{m} m") for m in sorted((one, two)))
    for low, high in zip(figures(short)[:2], figures(long)[:2], strict=True):
        assert low <= high
    assert value(short.cable_runs[0].damping) >= value(long.cable_runs[0].damping)
    assert value(short.mains.circuits[0].drop) <= value(long.mains.circuits[0].drop)
    ohm_per_m = [value(got.cable_runs[0].loop) / m for got, m in zip((short, long), sorted((one, two)), strict=True)]
    assert ohm_per_m[0] == pytest.approx(ohm_per_m[1])


@given(st.integers(-40, 90), st.integers(-40, 90))
@settings(max_examples=12, deadline=None)
def test_warmer_copper_loses_more(one: int, two: int) -> None:
    cold, warm = (made(copper=f"{t} degC") for t in sorted((one, two)))
    assert value(cold.cable_runs[0].loss) <= value(warm.cable_runs[0].loss)
    assert value(cold.mains.circuits[0].drop) <= value(warm.mains.circuits[0].drop)
    assert value(cold.levels.most_at_mix) >= value(warm.levels.most_at_mix)


AREAS = ("0.75 mm2", "1.5 mm2", "14 AWG", "2.5 mm2", "12 AWG", "4 mm2", "6 mm2", "10 AWG", "8 AWG", "10 mm2", "4/0 AWG")


def test_more_copper_loses_less() -> None:
    """Areas and gauges in the order of their resistance: IEC 60228 class 5 and ASTM B258."""
    losses = [value(made(area=area).cable_runs[0].loss) for area in AREAS]
    assert losses == sorted(losses, reverse=True)


@given(st.integers(2, 14))
@settings(max_examples=8, deadline=None)
def test_twice_as_far_is_six_decibels_less_but_for_the_air(metres: int) -> None:
    """In air that is all but dry there is no absorption to reckon; the box plays at ear height along its axis."""
    box = "top-1: {kind: top-12, at: 0 m right 0 m out 1.7 m up, aim: out}"
    near, far = (made(boxes=box, air="20 degC\n  humidity: 0 %", mix=f"{m} m") for m in (metres, 2 * metres))
    assert value(near.levels.most_at_mix) - value(far.levels.most_at_mix) == pytest.approx(20 * math.log10(2))


@given(st.permutations([1, 2, 3]))
@settings(max_examples=6, deadline=None)
def test_the_order_in_which_boxes_are_written_changes_nothing(order: list[int]) -> None:
    lines = {n: f"top-{n}: {{kind: top-12, at: {n} m right 0 m out 3 m up}}" for n in (1, 2, 3)}
    chain = "top-1/in -> top-2/in -> top-3/in"
    usual = made(boxes="\n  ".join(lines[n] for n in (1, 2, 3)), chain=chain)
    other = made(boxes="\n  ".join(lines[n] for n in order), chain=chain)
    # three boxes of 8 ohm, and 4 ohm is the least of this amplifier: what needs its power falls back on their rating
    assert value(usual.amp_channels[0].load) == pytest.approx(8 / 3)
    assert figures(other) == pytest.approx(figures(usual))


@given(st.floats(-9, 9), st.floats(0.5, 18))
@settings(max_examples=10, deadline=None)
def test_a_rig_mirrored_at_the_middle_sounds_the_same_there(across: float, out: float) -> None:
    box = "top-1: {{kind: top-12, at: {x:.3f} m {side} {y:.3f} m back 3 m up, aim: 20 deg {other}, tilt: 10 deg down}}"
    side, other = ("right", "left") if across >= 0 else ("left", "right")
    here = made(boxes=box.format(x=abs(across), side=side, y=out, other=other))
    there = made(boxes=box.format(x=abs(across), side=other, y=out, other=side))
    assert figures(there) == pytest.approx(figures(here))
