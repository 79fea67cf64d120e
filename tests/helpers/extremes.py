"""Whole plans at the ends of what the language lets be typed: every subject at once, each value from a short list."""

from __future__ import annotations

import re
from types import MappingProxyType
from typing import Any

from helpers.by_hand import AMP_PORTS, SPEAKER_IN

CHOICES = MappingProxyType(
    {
        "celsius": ("20", "-40", "-20", "0", "60"),
        "humidity": ("50", "0", "1", "100"),
        "volume": ("1000 m3", "5 m3", "10000 m3", "5000000 m3"),
        "reverberation": ("1.2 s", "0.05 s", "20 s"),
        "mix": ("0 m right 12 m out 1.2 m up", "0 m right 0 m out 1.2 m up", "0 m right 1000 m out 1.2 m up"),
        "rear": ("14 m out", "1.2 m out", "1000 m out"),
        "area": ("2.5 mm2", "0.05 mm2", "0.2 mm2", "300 mm2", "40 AWG", "4/0 AWG"),
        "run": ("25 m", "5 cm", "10 km"),
        "ohm": ("8 ohm", "1 ohm", "50 kohm"),
        "rated": ("400 W", "0.01 W", "50 kW"),
        "sensitivity": ("97 dB", "60 dB", "130 dB"),
        "coverage": ("90 x 60 deg", "1 x 1 deg", "360 x 360 deg"),
        "power": ("{8 ohm: 500 W, 4 ohm: 800 W}", "{8 ohm: 0.01 W}", "{1 ohm: 50 kW, 50 kohm: 0.01 W}"),
        "gain": ("gain: 32 dB", "gain: 0 dB", "gain: 60 dB", "input-sensitivity: 10 mV", "input-sensitivity: 20 V"),
        "attenuation": ("0 dB", "-100 dB", "100 dB"),
        "damping": ("300", "1", "100000"),
        "low": ("100 Hz lr 24 dB/oct", "5 Hz lr 48 dB/oct", "20 kHz bessel 48 dB/oct", "100 Hz butterworth 6 dB/oct"),
        "high": ("100 Hz lr 24 dB/oct", "5 Hz butterworth 48 dB/oct", "20 kHz lr 12 dB/oct"),
        "delay": ("0 ms", "5 s", "10 ms"),
        "bus_gain": ("0 dB", "-100 dB", "60 dB"),
        "top_at": ("3 m left 1 m out 3 m up", "0 m right 0 m out 0 m up", "0 m right 12 m out 1.2 m up", "900 m left"),
        "sub_at": ("2 m left 1 m out 0.4 m up", "0 m right 12 m out 1.2 m up", "500 m back"),
        "mic_at": ("0 m right 1 m back 1.5 m up", "0 m right 0 m out 0 m up", "3 m left 1 m out 3 m up", "1 km back"),
        "mic_distance": ("0.05 m", "1 mm", "30 m"),
        "mv": ("2 mV/Pa", "0.01 mV/Pa", "500 mV/Pa"),
        "full_scale": ("+21 dBu", "0 dBu", "+30 dBu"),
        "preamp": ("30 dB", "-30 dB", "90 dB"),
        "target": ("95 dB(A)", "40 dB(A)", "140 dB(A)"),
        "length": ("3 h", "1 min", "24 h"),
        "idle": ("50 W", "0 W", "100 kW"),
        "efficiency": ("55 %", "5 %", "100 %"),
        "factor": ("0.9", "0.01", "1"),
        "voltage": ("230 V", "90 V", "300 V"),
        "rating": ("16 A", "1 A", "5000 A"),
        "other": ("500 W", "0 W", "100 kW"),
        "feed": ("30 m", "5 cm", "10 km"),
        "laid": ("C", "A2"),
        "bunch": ("1", "9", "12"),
        "carrier": ("606.5 MHz", "20 MHz", "10 GHz"),
        "spacing": ("350 kHz", "1 kHz", "50 MHz"),
        "guard": ("100 kHz", "0 kHz", "50 MHz"),
        "nominal": ("-18 dBFS", "0 dBFS", "-60 dBFS"),
        "copper": ("20 degC", "-40 degC", "90 degC"),
        "air": ("30 degC", "-40 degC", "90 degC"),
        "loss": ("0.5 dB", "0 dB", "20 dB"),
        "ead": ("2 m", "0 m", "100 m"),
        "share": ("80 %", "0 %", "100 %"),
        "weight": ("18 kg", "1 g", "3000 kg"),
    }
)  # fmt: skip

PLAN = """
plan: 1
show: Extremes
length: {length}
target-level: {target}
kinds:
  desk-kind:
    is: desk
    title: a desk
    ports:
      line 1-8: {{connector: combo, level: mic or line, direction: in, phantom: yes}}
      out 1-4: {{connector: xlr-male, level: line, direction: out}}
    channels: 8
    buses: 8
    full-scale: {full_scale}
  amp-kind:
    is: amplifier
    title: an amplifier
    {ports}
    power: {power}
    minimum-load: 4 ohm
    {gain}
    damping-factor: {damping}
    draw-idle: {idle}
    efficiency: {efficiency}
    power-factor: {factor}
    weight: {weight}
    height: 2 U
  box: {{is: speaker, title: a box, box: top, {speaker}, impedance: {ohm}, rated-power: {rated},
    sensitivity: {sensitivity}, coverage: {coverage}, weight: {weight}}}
  sub: {{is: speaker, title: a box, box: sub, {speaker}, impedance: {ohm}, rated-power: {rated},
    sensitivity: {sensitivity}}}
  mic-kind: {{is: microphone, title: a microphone, mic-sensitivity: {mv}}}
  lead: {{is: cable, title: a lead, ends: [speaker-4-pole, speaker-4-pole], carries: speaker, area: {area}}}
units:
  desk: desk-kind
  amp: {{kind: amp-kind, attenuation: {attenuation}}}
  top: {{kind: box, at: {top_at}, mount: stand, stand: speaker-stand}}
  low: {{kind: sub, at: {sub_at}}}
  late: {{kind: powered-top-12, at: 0 m right 8 m out 2 m up, supports: top}}
  rx-1, rx-2, rx-3: radio-handheld
inputs:
  1: {{name: Voice, from: desk/line 1, mic: mic-kind, source: vocal, gain: {preamp}, mic-distance: {mic_distance},
    at: {mic_at}, to: [main, subs, late]}}
buses:
  main: {{low-cut: {low}, gain: {bus_gain}}}
  subs: {{high-cut: {high}}}
  late: {{role: delay, delay: {delay}}}
outputs: {{main: desk/out 1, subs: desk/out 2, late: desk/out 3}}
wiring:
  xlr: [desk/out 1 -> amp/in A, desk/out 2 -> amp/in B, desk/out 3 -> late/in]
  lead: ["amp/out A -> top, {run}", "amp/out B -> low, {run}"]
racks: {{r: {{kind: rack-12u, front: {{1: amp}}, lifts: 2}}}}
room:
  temperature: {celsius} degC
  humidity: {humidity} %
  volume: {volume}
  reverberation-time: {reverberation}
  mix-position: {mix}
  audience: {{floor: {{from: 5 m left 1 m out, to: 5 m right {rear}}}}}
power:
  supplies: {{house: {{phases: 3, voltage: {voltage}, rating: {rating}, length: {feed}, area: {area}, bunch: {bunch}}}}}
  circuits:
    a: {{supply: house, rating: {rating}, feeds: [amp, desk], length: {feed}, area: {area}, laid: {laid},
      other-load: {other}}}
radio:
  spacing: {spacing}
  guard: {guard}
  channels: {{rx-1: {{frequency: {carrier}}}, rx-2: {{frequency: 607 MHz}}, rx-3: {{frequency: 607.5 MHz}}}}
limits:
  nominal-level: {nominal}
  temperature: {copper}
  feed-air: {air}
  speaker-cable-loss: {loss}
  equivalent-distance: {ead}
  circuit-share: {share}
"""


def plan(**chosen: str) -> str:
    """The plan with these values, and for the rest the first of each list."""
    return PLAN.format(ports=AMP_PORTS, speaker=SPEAKER_IN, **{k: v[0] for k, v in CHOICES.items()} | chosen)


NO_NUMBER = re.compile(r"\b(?:nan|inf|infinity)\b|∞", re.IGNORECASE)
MINUS_NOUGHT = re.compile(r"(?<![\w.])[-−]0(?:\.0+)?(?![\d.])")
EXPONENT = re.compile(r"\d[eE][+-]?\d{2}")


def nonsense(text: str) -> str:
    """What in a printed text is no number that a person would print; empty where nothing is."""
    found = NO_NUMBER.search(text) or MINUS_NOUGHT.search(text) or EXPONENT.search(text)
    return text[max(found.start() - 40, 0) : found.end() + 40] if found else ""


def figures(node: Any, where: str = "") -> list[tuple[str, dict[str, Any]]]:
    """Every figure of a document with its place."""
    if isinstance(node, dict):
        own = [(where, node)] if "formula" in node else []
        return own + [f for k, v in node.items() for f in figures(v, f"{where}.{k}")]
    return [f for i, v in enumerate(node) for f in figures(v, f"{where}[{i}]")] if isinstance(node, list) else []
