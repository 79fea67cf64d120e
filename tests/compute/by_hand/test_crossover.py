"""Sums of mains and subs with the filters as typed, reckoned by hand and with scipy's filters."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy import signal

from helpers.by_hand import figures, value

PLAN = """
plan: 1
show: Crossover
units:
  desk: desk-16
  amp-tops: amplifier-2x500
  amp-subs: amplifier-2x500
  top: top-12
  sub: sub-18
inputs: {{1: {{name: Bass, from: desk/line 1, mic: dynamic-kick, source: bass, to: [main, subs]}}}}
buses:
  main: {{low-cut: {low}{main}}}
  subs: {{high-cut: {high}{subs}}}
outputs: {{main: desk/out 1, subs: desk/out 2}}
wiring:
  xlr: [desk/out 1 -> amp-tops/in A, desk/out 2 -> amp-subs/in A]
  speaker-4-mm2: ["amp-tops/out A -> top, 5 m", "amp-subs/out A -> sub, 5 m"]
"""


def crossover(folder: Path, low: str, high: str = "", main: str = "", subs: str = "") -> dict[str, Any]:
    text = PLAN.format(low=low, high=high or low, main=main, subs=subs)
    (got,) = figures(text, folder)["crossovers"]
    return got


REVERSED = ", polarity: reversed"


@pytest.mark.parametrize(
    ("cut", "main", "at_crossing"),
    [
        # Linkwitz 1976: even Linkwitz-Riley sum flat, second order with one way turned over; Butterworth of odd order
        # sum flat either way, of even order +3.01 dB with the right polarity
        ("100 Hz lr 24 dB/oct", "", 0.0),
        ("100 Hz lr 48 dB/oct", "", 0.0),
        ("100 Hz lr 12 dB/oct", REVERSED, 0.0),
        ("100 Hz lr 36 dB/oct", REVERSED, 0.0),
        ("100 Hz butterworth 18 dB/oct", "", 0.0),
        ("100 Hz butterworth 18 dB/oct", REVERSED, 0.0),
        ("80 Hz butterworth 6 dB/oct", "", 0.0),
        ("100 Hz butterworth 24 dB/oct", "", 3.0103),
        ("100 Hz butterworth 12 dB/oct", REVERSED, 3.0103),
    ],
)
def test_sum_at_the_crossing(cut: str, main: str, at_crossing: float, tmp_path: Path) -> None:
    got = crossover(tmp_path, cut, main=main)
    assert value(got["crossing"]) == pytest.approx(float(cut.split()[0]), rel=5e-3)
    assert value(got["highest"]) == pytest.approx(at_crossing, abs=0.02)
    if at_crossing == 0:
        assert value(got["lowest"]) == pytest.approx(0, abs=0.02)


@pytest.mark.parametrize(
    ("cut", "main"),
    [
        ("100 Hz lr 24 dB/oct", REVERSED),
        ("100 Hz lr 12 dB/oct", ""),
        ("100 Hz butterworth 12 dB/oct", ""),
        ("100 Hz butterworth 24 dB/oct", REVERSED),
    ],
)
def test_the_wrong_polarity_is_a_hole(cut: str, main: str, tmp_path: Path) -> None:
    """Both ways are alike in level and 180° apart: the sum vanishes, and the advice turns one way over."""
    got = crossover(tmp_path, cut, main=main)
    assert value(got["lowest"]) < -25
    assert got["advice"]["invert"] is True
    assert value(got["advice"]["delay"]) == pytest.approx(0, abs=0.05)


def _analogue(kind: str, order: int, hz: float, high: bool, w: np.ndarray) -> np.ndarray:
    side = "highpass" if high else "lowpass"
    if kind == "lr":
        b, a = signal.butter(order // 2, 2 * math.pi * hz, side, analog=True)
        return signal.freqs(b, a, w)[1] ** 2
    if kind == "bessel":
        b, a = signal.bessel(order, 2 * math.pi * hz, side, analog=True, norm="mag")
    else:
        b, a = signal.butter(order, 2 * math.pi * hz, side, analog=True)
    return signal.freqs(b, a, w)[1]


@pytest.mark.parametrize(
    ("low", "high", "delay_ms", "sign"),
    [
        (("lr", 4, 100), ("lr", 4, 100), 5.0, 1),
        (("lr", 4, 120), ("lr", 4, 90), 0.0, 1),
        (("bessel", 4, 100), ("bessel", 4, 100), 0.0, 1),
        (("bessel", 2, 90), ("bessel", 2, 90), 0.0, -1),
        (("bessel", 8, 100), ("bessel", 8, 100), 0.0, 1),
        (("butterworth", 3, 100), ("lr", 4, 80), 2.5, 1),
        (("butterworth", 8, 63), ("butterworth", 4, 63), 1.0, -1),
    ],
)  # fmt: skip
def test_any_pair_of_filters_against_scipy(
    low: tuple[str, int, float], high: tuple[str, int, float], delay_ms: float, sign: int, tmp_path: Path
) -> None:
    """Every point of the drawn curve, with the delay on the subs and the polarity on the tops."""
    said = [f"{hz} Hz {kind} {6 * order} dB/oct" for kind, order, hz in (low, high)]
    got = crossover(tmp_path, *said, main=REVERSED if sign < 0 else "", subs=f", delay: {delay_ms} ms")
    hz = np.array([p["hz"] for p in got["curve"]])
    w = 2 * math.pi * hz
    upper = sign * _analogue(*low, True, w)
    lower = _analogue(*high, False, w) * np.exp(-1j * w * delay_ms / 1000)
    for key, wanted in (("upper_db", upper), ("lower_db", lower), ("sum_db", upper + lower)):
        drawn, exact = np.array([p[key] for p in got["curve"]]), 20 * np.log10(np.abs(wanted))
        seen = exact > -40
        assert drawn[seen] == pytest.approx(exact[seen], abs=0.05), key


def test_half_a_period_of_delay_undoes_a_crossover(tmp_path: Path) -> None:
    """5 ms are half a period of 100 Hz: two ways in phase become opposed there."""
    got = crossover(tmp_path, "100 Hz lr 24 dB/oct", subs=", delay: 5 ms")
    assert value(got["lowest"]) < -25
    assert value(got["advice"]["delay"]) == pytest.approx(5, abs=0.1) or got["advice"]["invert"] is True


@pytest.mark.parametrize(
    ("low", "high", "octaves"),
    [("80 Hz lr 24 dB/oct", "160 Hz lr 24 dB/oct", 1.0), ("200 Hz lr 24 dB/oct", "100 Hz lr 24 dB/oct", -1.0)],
)
def test_overlap_and_gap(low: str, high: str, octaves: float, tmp_path: Path) -> None:
    """lg2 of the sub's upper end over the top's lower end; below nought a gap."""
    assert value(crossover(tmp_path, low, high)["overlap"]) == pytest.approx(octaves, abs=0.01)
