"""Test signals as files, measured with scipy: spectra, band edges, isolation of sides, levels, fades, the same bytes.

Pink noise loses 10 log10(2) = 3.01 dB an octave (IEC 60268-1); levels between samples after ITU-R BS.1770-4, annex 2.
"""

from __future__ import annotations

import hashlib
import io
import math

import numpy as np
import pytest
from scipy.io import wavfile
from scipy.signal import resample_poly, welch

from rigbook.walk.signal_files import FULL, file_for, listing, measured, true_peak, wav
from rigbook.walk.signals import BANDS, FADE_S, RATE, SIGNALS, TONES_HZ, Signal, _drawn, samples

BY_NAME = {s.name: s for s in SIGNALS}
STEADY = slice(round(FADE_S * RATE), -RATE // 20)


def read(name: str) -> np.ndarray:
    """The file as another library reads it: frames x channels, full scale 1."""
    rate, data = wavfile.read(io.BytesIO(wav(samples(BY_NAME[name]))))
    assert rate == RATE
    # scipy puts 24 bits into the upper bytes of 32
    return (data.reshape(len(data), -1) / 256) / FULL


def density(column: np.ndarray, window: str = "hann") -> tuple[np.ndarray, np.ndarray]:
    return welch(column[STEADY], RATE, window, nperseg=65536, detrend=False)


def octaves(column: np.ndarray, low: float, high: float) -> tuple[np.ndarray, np.ndarray]:
    """Density in dB, averaged over thirds of an octave."""
    freq, power = density(column)
    middles = low * 2 ** (np.arange(math.floor(3 * math.log2(high / low)) + 1) / 3)
    level = [10 * math.log10(np.mean(power[(freq >= m / 2 ** (1 / 6)) & (freq < m * 2 ** (1 / 6))])) for m in middles]
    return middles, np.array(level)


@pytest.mark.parametrize("name", ["pink", "pink-left", "pink-right"])
def test_pink_noise_falls_three_db_an_octave(name: str) -> None:
    data = read(name)
    column = data[:, -1 if name.endswith("right") else 0]
    middles, level = octaves(column, 50, 10_000)
    slope, at = np.polyfit(np.log2(middles), level, 1)
    assert slope == pytest.approx(-3.01, abs=0.1)
    assert np.abs(level - (slope * np.log2(middles) + at)).max() < 0.5


@pytest.mark.parametrize("name", ["pink", "low", "mid", "high"])
def test_bands_end_where_they_say(name: str) -> None:
    low, high = BANDS[name]
    freq, power = density(read(name)[:, 0], "blackmanharris")
    inside = power[(freq > low * 1.02) & (freq < high * 0.98)]
    below, above = power[(freq > 2) & (freq < low * 0.9)], power[freq > high * 1.1]
    for outside in (below, above):
        if outside.size:
            assert 10 * math.log10(outside.max() / inside.max()) < -60
    assert inside.min() > 0


@pytest.mark.parametrize(("name", "silent"), [("pink-left", 1), ("pink-right", 0)])
def test_the_other_side_is_silent(name: str, silent: int) -> None:
    data = read(name)
    assert not data[:, silent].any()
    assert data[:, 1 - silent].any()


def test_in_turn_means_never_both() -> None:
    data = read("pink-turns")
    assert not (data[:, 0] * data[:, 1]).any()
    on = [np.abs(part).max(axis=0) > 0.01 for part in np.split(data[: 131072 * 6], 6)]
    assert [tuple(map(bool, x)) for x in on] == [(True, False), (False, True)] * 3


def test_the_tone_is_one_kilohertz_alone() -> None:
    freq, power = density(read("tone")[:, 0], "blackmanharris")
    top = int(power.argmax())
    assert freq[top] == pytest.approx(1000, abs=1)
    assert 10 * math.log10(power[np.abs(freq - 1000) > 20].max() / power[top]) < -90


def test_the_burst_is_low() -> None:
    freq, power = density(read("burst")[:, 0])
    assert freq[power.argmax()] == pytest.approx(63, abs=2)
    within = power[(freq > 40) & (freq < 90)].sum() / power.sum()
    assert within > 0.99


def test_the_pulse_pushes_first_and_has_no_steady_part() -> None:
    data = read("pulse")[round(4 * RATE) : round(8 * RATE), 0]
    one = data[: RATE // 2]
    assert one.argmax() < one.argmin()
    assert one.max() == pytest.approx(0.5, abs=1e-3)
    assert one.min() == pytest.approx(-0.25, abs=1e-3)
    assert abs(data.mean()) < 1e-6


def test_the_sweep_steps_through_thirds_of_an_octave() -> None:
    data = read("sweep")[:, 0]
    half = data[len(data) // 2 :]
    heard = []
    for part in np.split(half, 25):
        spectrum = np.abs(np.fft.rfft(part * np.hanning(len(part))))
        heard.append(spectrum.argmax() * RATE / len(part))
    assert heard == pytest.approx(list(TONES_HZ), abs=2)
    # the nominal frequencies of IEC 61260-1, first, middle and last
    assert (heard[0], heard[14], heard[24]) == pytest.approx((40, 1000, 10_000), rel=0.025)


@pytest.mark.parametrize("signal", SIGNALS, ids=lambda s: s.name)
def test_levels_are_as_listed(signal: Signal) -> None:
    """RMS by numpy, peaks between samples by scipy's resampler, neither of them ours."""
    data, said = read(signal.name), measured(samples(signal))
    steady = data[STEADY]
    assert 10 * math.log10((steady**2).sum(axis=1).mean()) == pytest.approx(said.rms_dbfs, abs=0.01)
    finer = max(np.abs(resample_poly(column, 4, 1)).max() for column in data.T)
    assert 20 * math.log10(finer) == pytest.approx(said.true_peak_dbtp, abs=0.1)
    assert said.true_peak_dbtp < -3
    if signal.key in BANDS or signal.key == "tone":
        assert said.rms_dbfs == pytest.approx(-20, abs=0.05)


def test_true_peak_finds_what_lies_between_samples() -> None:
    """A sine at a quarter of the rate, 45 degrees off: samples read 0.707, the wave 1 (ITU-R BS.1770-4, annex 2)."""
    wave = np.sin(np.pi / 2 * np.arange(4800) + np.pi / 4) * np.hanning(4800)
    assert np.abs(wave).max() == pytest.approx(0.7071, abs=1e-3)
    assert true_peak(wave[:, None]) == pytest.approx(1, abs=0.01)


@pytest.mark.parametrize("signal", SIGNALS, ids=lambda s: s.name)
def test_each_file_begins_quiet(signal: Signal) -> None:
    made = samples(signal)
    loudest = np.abs(made).max()
    first, second = np.abs(made[: RATE // 10]).max(), np.abs(made[: RATE // 2]).max()
    assert first < 0.01 * loudest
    assert second < 0.2 * loudest
    assert np.abs(made[-48:]).max() < 0.01 * loudest


def test_the_numbers_drawn_are_those_of_the_generator_named() -> None:
    """The 10000th number of `minstd_rand` begun with 1 is 399268537 (ISO/IEC 14882, [rand.predef])."""
    drawn = _drawn()
    last = [next(drawn) for _ in range(10_000)][-1]
    assert last * 2147483647 == pytest.approx(399268537, abs=0.01)


def test_the_same_bytes_each_time() -> None:
    every = [hashlib.sha256(wav(samples(BY_NAME["mid"]))).hexdigest() for _ in range(2)]
    assert every[0] == every[1]


def test_the_list_says_level_purpose_and_caution() -> None:
    rows = [(s, measured(samples(s))) for s in SIGNALS[:3]]
    text = listing(rows, ())
    assert "damage hearing" in text
    assert "safe" not in text
    assert "pink-left.wav        -20.0            -6.5    20 s  two" in text
    assert max(map(len, text.splitlines())) <= 120


@pytest.mark.parametrize(("key", "leg", "name"), [
    ("pink", "left", "pink-left.wav"), ("pink", "", "pink.wav"), ("low", "", "low.wav"), ("tone", "left", "tone.wav"),
    ("speech", "", "pink.wav"), ("pulse", "", "pulse.wav"),
])
def test_a_step_has_its_file(key: str, leg: str, name: str) -> None:
    class Step:
        signal_key = key

    Step.leg = leg
    assert file_for(Step()) == name
