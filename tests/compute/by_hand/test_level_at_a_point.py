"""Levels at single points: distance, air, sensitivity, angle and sums of boxes, reckoned by hand band by band."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from helpers.by_hand import SPEAKER_IN, figures, value

PLAN = """
plan: 1
show: One point
target-level: 140 dB(A)
kinds:
  box: {{is: speaker, title: a box, box: {build}, {speaker}, impedance: 8 ohm, rated-power: 5 kW,
    sensitivity: {sensitivity} dB, coverage: {coverage}}}
units:
  desk: desk-16
  amp: amplifier-2x500
{units}
  away: {{kind: powered-top-12, at: 0 m right 900 m back 1 m up, aim: back}}
inputs: {{1: {{name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [{bus}, other]}}}}
buses: {{{bus}: {{}}, other: {{role: mains, low-cut: 500 Hz lr 48 dB/oct}}}}
outputs: {{{bus}: desk/out 1, other: desk/out 2}}
wiring:
  xlr: [desk/out 1 -> amp/in A -> amp/in B, desk/out 2 -> away/in]
  speaker-4-mm2: [{cables}]
room:
  temperature: {celsius} degC
  humidity: {humidity} %
  mix-position: 0 m right 10 m out 1.2 m up
  audience:
    near: {{from: 5 cm left 9.95 m out, to: 5 cm right 10.05 m out, ear-height: 1.2 m}}
    far: {{from: 5 cm left 39.95 m out, to: 5 cm right 40.05 m out, ear-height: 1.2 m}}
"""
BANDS = (63, 125, 250, 500, 1000, 2000, 4000, 8000)


def bands(
    folder: Path, at: tuple[str, ...] = ("0 m right 0 m out 1.2 m up, aim: out",), build: str = "top",
    celsius: float = 20, humidity: float = 50, sensitivity: float = 97, coverage: str = "90 x 60 deg",
    area: str = "near",
) -> dict[Any, float]:  # fmt: skip
    """Mean level in each band in one of the small areas, every box on its own output with half a metre of cable."""
    folder.mkdir(exist_ok=True, parents=True)
    units = "\n".join(f"  b{i}: {{kind: box, at: {place}}}" for i, place in enumerate(at))
    cables = ", ".join(f'"amp/out {"AB"[i]} -> b{i}, 0.5 m"' for i in range(len(at)))
    text = PLAN.format(
        build=build, speaker=SPEAKER_IN, sensitivity=sensitivity, coverage=coverage, units=units, cables=cables,
        celsius=celsius, humidity=humidity, bus="subs" if build == "sub" else "main",
    )  # fmt: skip
    document = figures(text, folder)
    # music just below clipping: its crest factor of 12 dB against the 3.01 dB of a sine
    assert all(t["trim_db"] == pytest.approx(-8.9897, abs=1e-3) for t in document["levels"]["trims"]), "held back"
    got = next(a for a in document["levels"]["areas"] if a["area"] == area)
    return {b["band"]: value(b["mean"]) for b in got["bands"]}


def iso_9613_1(hz: float, celsius: float, humidity: float) -> float:
    """Air absorption in dB/m at 101.325 kPa: ISO 9613-1:1993, formulae (3) to (5) and (B.3), written again here."""
    kelvin = celsius + 273.15
    ratio = kelvin / 293.15
    h = humidity * 10 ** (4.6151 - 6.8346 * (273.16 / kelvin) ** 1.261)
    oxygen = 24 + 4.04e4 * h * (0.02 + h) / (0.391 + h)
    nitrogen = ratio**-0.5 * (9 + 280 * h * math.exp(-4.170 * (ratio ** (-1 / 3) - 1)))
    relaxed = 0.01275 * math.exp(-2239.1 / kelvin) / (oxygen + hz**2 / oxygen)
    relaxed += 0.1068 * math.exp(-3352 / kelvin) / (nitrogen + hz**2 / nitrogen)
    return 8.686 * hz**2 * (1.84e-11 * ratio**0.5 + ratio**-2.5 * relaxed)


def exact(nominal: int) -> float:
    """Exact mid-band frequency of an octave, 1000·10^(0.3·n) (IEC 61260-1)."""
    return 1000.0 * 10 ** (0.3 * BANDS.index(nominal) - 1.2)


def test_the_absorption_of_the_test_is_that_of_the_printed_table() -> None:
    """ISO 9613-2:1996, table 2: 20 °C, 70 %: 2.8, 5.0, 9.0, 22.9, 76.6 dB/km from 500 Hz."""
    got = [round(1000 * iso_9613_1(exact(f), 20, 70), 1) for f in BANDS[3:]]
    assert got == [2.8, 5.0, 9.0, 22.9, 76.6]


@pytest.mark.parametrize(
    ("celsius", "humidity"), [(20, 50), (10, 70), (30, 20), (0, 60), (20, 10), (35, 90), (-15, 40)]
)
def test_from_ten_to_forty_metres(celsius: float, humidity: float, tmp_path: Path) -> None:
    """12.04 dB by distance, and 30 m of air in each octave (at 20 °C and 10 % nearly 6 dB of it at 8 kHz)."""
    near = bands(tmp_path / "a", celsius=celsius, humidity=humidity)
    far = bands(tmp_path / "b", celsius=celsius, humidity=humidity, area="far")
    for hz in BANDS:
        wanted = 20 * math.log10(4) + 30 * iso_9613_1(exact(hz), celsius, humidity)
        assert near[hz] - far[hz] == pytest.approx(wanted, abs=0.02), hz


def test_full_power_at_ten_metres(tmp_path: Path) -> None:
    """97 + 10 lg 500 - 20 = 103.99 dB of a sine; in eight octaves of pink noise 9.03 dB less each, and by the stated
    12 dB of crest factor of music 8.99 dB less: 85.97 dB at 250 Hz, where air takes nothing.
    """
    got = bands(tmp_path)
    assert got[250] == pytest.approx(97 + 26.99 - 20 - 9.03 - 8.99, abs=0.05)
    weights = (-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1)  # IEC 61672-1, table 3
    total = 10 * math.log10(sum(10 ** ((got[f] + w) / 10) for f, w in zip(BANDS, weights, strict=True)))
    assert got["A"] == pytest.approx(total, abs=0.05)


def test_three_decibels_of_sensitivity(tmp_path: Path) -> None:
    plain, keen = bands(tmp_path / "a"), bands(tmp_path / "b", sensitivity=100)
    assert all(keen[hz] - plain[hz] == pytest.approx(3) for hz in BANDS)


SIDES = ("2 m left 0 m out 1.2 m up, aim: out", "2 m right 0 m out 1.2 m up, aim: out")


def test_two_unlike_places_add_by_energy_and_subs_by_pressure(tmp_path: Path) -> None:
    """On the line of symmetry: two tops +3.01 dB (energy), two subs with one signal +6.02 dB (pressure)."""
    wide = "360 x 360 deg"
    tops = bands(tmp_path / "a", SIDES, coverage=wide)
    one_top = bands(tmp_path / "b", SIDES[:1], coverage=wide)
    assert all(tops[hz] - one_top[hz] == pytest.approx(3.0103, abs=0.02) for hz in BANDS)
    subs = bands(tmp_path / "c", SIDES, "sub", coverage=wide)
    one_sub = bands(tmp_path / "d", SIDES[:1], "sub", coverage=wide)
    assert subs[63] - one_sub[63] == pytest.approx(6.0206, abs=0.02)


def test_six_decibels_at_the_nominal_angle(tmp_path: Path) -> None:
    """The coverage angle lies between the directions of -6 dB (IEC 60268-5): 45° beside the axis of a box of 90°."""
    on = bands(tmp_path / "a")
    beside = bands(tmp_path / "b", ("0 m right 0 m out 1.2 m up, aim: 45 deg right",))
    above = bands(tmp_path / "c", ("0 m right 0 m out 1.2 m up, aim: out, tilt: 30 deg up",))
    for hz in (1000, 2000, 4000):
        assert on[hz] - beside[hz] == pytest.approx(6.02, abs=0.1)
        assert on[hz] - above[hz] == pytest.approx(6.02, abs=0.1)
