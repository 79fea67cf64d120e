"""Gain structure from the microphone to the box, reckoned by hand in dBu and dBFS."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from helpers.by_hand import AMP_PORTS, SPEAKER_IN, figures, value

PLAN = """
plan: 1
show: Levels
kinds:
  desk-kind:
    is: desk
    title: a desk
    ports:
      line 1-8: {{connector: combo, level: mic or line, direction: in, phantom: yes}}
      out 1-4: {{connector: xlr-male, level: line, direction: out}}
    channels: 8
    buses: 8
    full-scale: {full_scale} dBu
    preamp-gain: 0 dB - 60 dB
  amp-kind:
    is: amplifier
    title: an amplifier
    {ports}
    power: {{8 ohm: {watts} W}}
    minimum-load: 8 ohm
    gain: {gain} dB
  mic-kind:
    is: microphone
    title: a microphone
    mic-sensitivity: {mv} mV/Pa
  box: {{is: speaker, title: a box, box: top, {speaker}, impedance: 8 ohm, rated-power: 1500 W, sensitivity: 97 dB}}
units:
  desk: desk-kind
  amp: {{kind: amp-kind, attenuation: {attenuation} dB}}
  a1: box
inputs: {{1: {{name: Voice, from: desk/line 1, mic: mic-kind, source: vocal, gain: {preamp} dB, to: main}}}}
buses: {{main: {{{bus}}}}}
outputs: {{main: desk/out 1}}
wiring:
  xlr: [desk/out 1 -> amp/in A]
  speaker-4-mm2: ["amp/out A -> a1, 5 m"]
limits: {{nominal-level: {nominal} dBFS}}
"""


def plan(
    full_scale: float = 21, watts: float = 500, gain: float = 32, attenuation: float = 0, bus: str = "",
    nominal: float = -18, mv: float = 2, preamp: float = 30,
) -> str:  # fmt: skip
    return PLAN.format(
        ports=AMP_PORTS, speaker=SPEAKER_IN, full_scale=full_scale, watts=watts, gain=gain, attenuation=attenuation,
        bus=bus, nominal=nominal, mv=mv, preamp=preamp,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("settings", "clips_dbfs"),
    [
        # 500 W into 8 ohm: 63.25 V = 38.24 dBu; less 32 dB: +6.24 dBu at its input; a desk of +21 dBu at 0 dBFS
        ({}, -14.762),
        ({"full_scale": 24}, -17.762),
        ({"full_scale": 18}, -11.762),
        ({"gain": 26}, -8.762),
        ({"attenuation": -12}, -2.762),
        ({"bus": "gain: -6 dB"}, -8.762),
        # 1000 W are 3.01 dB more
        ({"watts": 1000}, -11.752),
    ],
)
def test_where_the_amplifier_clips(settings: dict[str, float], clips_dbfs: float, tmp_path: Path) -> None:
    """20 lg(√(P·Z)/√0.6) less gain and the level of full scale (0 dBu = √0.6 V; EBU R68 for dBFS)."""
    (got,) = figures(plan(**settings), tmp_path)["gain"]  # type: ignore[arg-type]
    stage = next(s for s in got["stages"] if s["name"] == got["amplifier"])
    assert value(stage["clips_at"]) == pytest.approx(clips_dbfs, abs=0.002)
    assert value(got["headroom"]) == pytest.approx(clips_dbfs + 18, abs=0.002)
    assert got["first"] == "amp/out A"


@pytest.mark.parametrize(("nominal", "headroom"), [(-18, 3.238), (-20, 5.238), (-9, -5.762)])
def test_headroom_over_the_level_of_the_meters(nominal: float, headroom: float, tmp_path: Path) -> None:
    (got,) = figures(plan(nominal=nominal), tmp_path)["gain"]
    assert value(got["headroom"]) == pytest.approx(headroom, abs=0.002)


def test_attenuation_with_which_desk_and_amplifier_clip_together(tmp_path: Path) -> None:
    """The amplifier clips 14.76 dB below full scale: turned down by that, both end together."""
    (got,) = figures(plan(), tmp_path)["gain"]
    assert value(got["attenuation"]) == pytest.approx(-14.762, abs=0.002)


def test_a_desk_that_ends_before_the_amplifier(tmp_path: Path) -> None:
    """Turned down by 20 dB the amplifier would clip at +5.24 dBFS: the desk's socket ends first, at 0 dBFS."""
    (got,) = figures(plan(attenuation=-20), tmp_path)["gain"]
    assert got["first"] == "desk/out 1"
    stages = {s["name"]: value(s["clips_at"]) for s in got["stages"]}
    assert stages["desk/out 1"] == pytest.approx(0)
    assert stages["amp/out A"] == pytest.approx(5.238, abs=0.002)


@pytest.mark.parametrize(
    ("mv", "dbu"), [(1.0, -57.761), (2.0, -51.740), (5.0, -43.781), (20.0, -31.740), (50, -23.781)]
)
def test_level_of_a_microphone(mv: float, dbu: float, tmp_path: Path) -> None:
    """M at 94 dB (1 Pa, to 0.02 dB) in dBu: 20 lg(M/0.7746 V) (IEC 60268-4); louder sources in proportion."""
    (got,) = figures(plan(mv=mv), tmp_path)["inputs"]
    spl = next(float(i["value"]) for i in got["level"]["inputs"] if i["unit"] == "dB")
    assert value(got["level"]) == pytest.approx(dbu + spl - 94, abs=0.03)


def test_preamplifier(tmp_path: Path) -> None:
    """-18 dBFS of a desk of +21 dBu is +3 dBu; the gain wanted brings the microphone there."""
    (got,) = figures(plan(preamp=30), tmp_path)["inputs"]
    assert value(got["wanted_gain"]) == pytest.approx(3 - value(got["level"]), abs=0.01)
    assert value(got["headroom"]) == pytest.approx(21 - value(got["level"]) - 30, abs=0.01)
    assert math.isfinite(value(got["headroom"]))
