"""Loads, powers and limiters of amplifiers in their modes, reckoned by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.by_hand import AMP_PORTS, SPEAKER_IN, compiled_data, figures, row, value

PLAN = """
plan: 1
show: Amplifier
kinds:
  amp-kind:
    is: amplifier
    title: an amplifier
    {ports}
    power: {{8 ohm: 500 W, 4 ohm: 800 W}}
    bridged-power: {{8 ohm: 1600 W}}
    minimum-load: 4 ohm
    minimum-load-bridged: 8 ohm
    {own}
    damping-factor: 300
  eight: {{is: speaker, title: a box, box: top, {speaker}, impedance: 8 ohm, rated-power: 350 W, sensitivity: 97 dB}}
  sixteen: {{is: speaker, title: a box, box: top, {speaker}, impedance: 16 ohm, rated-power: 100 W, sensitivity: 97 dB}}
  four: {{is: speaker, title: a box, box: top, {speaker}, impedance: 4 ohm, rated-power: 700 W, sensitivity: 97 dB}}
units:
  desk: desk-16
  amp: {{kind: amp-kind, mode: {mode}{setting}}}
  a1, a2: {first}
  b1: {second}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}}}
buses: {{main: {{stereo: yes}}}}
outputs: {{main left: desk/out 1, main right: desk/out 2}}
wiring:
  xlr: [{xlr}]
  speaker-4-mm2: {cables}
"""


def plan(
    mode: str = "stereo",
    first: str = "eight",
    second: str = "eight",
    own: str = "gain: 32 dB",
    setting: str = "",
    cables: str = "[amp/out A -> a1 -> a2, amp/out B -> b1]",
) -> str:
    xlr = "desk/out 1-2 -> amp/in A-B" if mode == "stereo" else "desk/out 1 -> amp/in A"
    return PLAN.format(
        ports=AMP_PORTS, speaker=SPEAKER_IN, mode=mode, first=first, second=second, own=own, setting=setting,
        cables=cables, xlr=xlr,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("first", "load", "watts"),
    [("eight", 4.0, 800.0), ("sixteen", 8.0, 500.0)],
)
def test_two_like_boxes_on_one_output(first: str, load: float, watts: float, tmp_path: Path) -> None:
    """1/Z = 1/Z1 + 1/Z2 (Ohm's law): two of 8 ohm are 4 ohm, two of 16 ohm are 8 ohm; U = √(P·Z)."""
    got = row(figures(plan(first=first), tmp_path)["amplifiers"], socket="amp/out A")
    assert (value(got["load"]), value(got["power"])) == pytest.approx((load, watts))
    assert value(got["volts"]) == pytest.approx(math.sqrt(watts * load))
    assert [value(b["power"]) for b in got["boxes"]] == pytest.approx([watts / 2, watts / 2])


def test_unlike_boxes_share_by_conductance(tmp_path: Path) -> None:
    """8 ohm and 16 ohm are 5.33 ohm; at one voltage the 8 ohm box takes twice the power (P = U²/Z).

    The power lies between the two declared points: straight in 1/Z gives 650 W, straight in Z 700 W.
    """
    text = plan(second="sixteen", cables="[amp/out A -> a1 -> b1, amp/out B -> a2]")
    got = row(figures(text, tmp_path)["amplifiers"], socket="amp/out A")
    assert value(got["load"]) == pytest.approx(16 / 3)
    assert 649 < value(got["power"]) < 701
    parts = {b["box"]: value(b["power"]) for b in got["boxes"]}
    assert parts["a1"] == pytest.approx(2 * parts["b1"])
    assert sum(parts.values()) == pytest.approx(value(got["power"]))


def test_three_boxes_on_one_output_are_below_what_it_bears(tmp_path: Path) -> None:
    """Three of 8 ohm are 2.67 ohm; no power is declared there and none is made up."""
    text = plan(cables="[amp/out A -> a1 -> a2 -> b1]")
    document, found = compiled_data(text, tmp_path)
    got = row(document["amplifiers"], socket="amp/out A")
    assert value(got["load"]) == pytest.approx(8 / 3)
    assert "missing" in got["power"]
    assert "amp-underload" in found


def test_parallel_mode_joins_inputs_not_outputs(tmp_path: Path) -> None:
    """With the inputs in parallel each output keeps its own load: 4 ohm of two boxes and 8 ohm of one."""
    document = figures(plan(mode="parallel"), tmp_path)
    loads = {a["socket"]: value(a["load"]) for a in document["amplifiers"]}
    powers = {a["socket"]: value(a["power"]) for a in document["amplifiers"]}
    assert loads == pytest.approx({"amp/out A": 4, "amp/out B": 8})
    assert powers == pytest.approx({"amp/out A": 800, "amp/out B": 500})


def test_bridged_into_eight_ohm(tmp_path: Path) -> None:
    """1600 W into 8 ohm are 113.1 V; each half sees 4 ohm."""
    document, found = compiled_data(plan(mode="bridged", cables="[amp/out A -> a1]"), tmp_path)
    (got,) = document["amplifiers"]
    assert (value(got["load"]), value(got["minimum"]), value(got["power"])) == pytest.approx((8, 8, 1600))
    assert value(got["volts"]) == pytest.approx(113.137, abs=0.001)
    assert "amp-underload" not in found


def test_bridged_into_two_boxes_is_an_underload(tmp_path: Path) -> None:
    """Two of 8 ohm on a bridged pair: 4 ohm, each half sees 2 ohm."""
    document, found = compiled_data(plan(mode="bridged", cables="[amp/out A -> a1 -> a2]"), tmp_path)
    (got,) = document["amplifiers"]
    assert (value(got["load"]), value(got["minimum"])) == pytest.approx((4, 8))
    assert "missing" in got["power"]
    assert "amp-underload" in found


@pytest.mark.parametrize(
    ("own", "setting", "gain_db"),
    [
        ("gain: 32 dB", "", 32.0),
        ("gain: 26 dB", "", 26.0),
        ("gain: 32 dB", ", attenuation: -6 dB", 26.0),
        # 1.4 V for 500 W into 8 ohm: 63.25 V / 1.4 V = 33.10 dB
        ("input-sensitivity: 1.4 V", "", 33.0980),
        # 0.775 V (0 dBu): 63.25 V / 0.775 V = 38.23 dB
        ("input-sensitivity: 0.775 V", "", 38.2347),
    ],
)
def test_limiter_for_a_box(own: str, setting: str, gain_db: float, tmp_path: Path) -> None:
    """350 W continuous into 8 ohm: √(350·8) = 52.92 V = 36.69 dBu (0 dBu = √0.6 V); less the gain at the input."""
    text = plan(own=own, setting=setting, cables="[amp/out A -> a1, amp/out B -> b1]")
    got = row(figures(text, tmp_path)["amplifiers"], socket="amp/out A")
    assert value(got["limiter"]) == pytest.approx(52.915, abs=0.001)
    assert value(got["gain"]) == pytest.approx(gain_db, abs=0.001)
    assert value(got["limiter_input"]) == pytest.approx(36.6899 - gain_db, abs=0.002)


def test_limiter_keeps_the_weakest_of_unlike_boxes(tmp_path: Path) -> None:
    """8 ohm and 350 W bear 52.9 V, 16 ohm and 100 W bear √(1600) = 40 V: 40 V it is."""
    text = plan(second="sixteen", cables="[amp/out A -> a1 -> b1, amp/out B -> a2]")
    got = row(figures(text, tmp_path)["amplifiers"], socket="amp/out A")
    assert value(got["limiter"]) == pytest.approx(40)
