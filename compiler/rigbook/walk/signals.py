"""Test signals of the walk test, for sound files; the page makes the same samples in the browser.

The noise comes from a generator of whole numbers that is written out here (Park and Miller's, multiplier 48271; see
Park, Miller and Stockmeyer, Communications of the ACM 36(7), 1993): a library's own generator may change between
versions, and JavaScript could not repeat it. Every product stays below 2**53, so that both count alike. The noise is
shaped in the frequency domain, so that its bands end sharply and it repeats without a seam.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

from rigbook.records import frozen

if TYPE_CHECKING:
    import numpy as np

    Samples = np.ndarray[Any, np.dtype[np.float64]]

RATE: Final = 48_000
"""Samples a second."""
PERIOD: Final = 131_072
"""Samples after which noise repeats: 2.7 s."""
RMS: Final = 0.1
"""Level of noise and tones: -20 dBFS."""
FADE_S: Final = 2.0
"""Length of the fade at the start of a file, in seconds."""
TONES_HZ: Final = tuple(1000 * 2 ** ((i - 14) / 3) for i in range(25))
"""Thirds of an octave from 40 Hz to 10 kHz, exact middle frequencies in base two (IEC 61260-1)."""
TONE_S: Final = 0.6
"""Length of each stepped tone, in seconds."""
BURST_HZ, BURST_CYCLES = 63, 8
BANDS: Final = MappingProxyType(
    {"pink": (20, 20_000), "low": (40, 100), "mid": (500, 2_000), "high": (4_000, 16_000)}
)
"""Band edges of the pink noises, in Hz."""


@frozen
class Signal:
    """A test signal as a sound file."""

    name: str
    """Name of its file, without `.wav`."""
    key: str
    """What is played: `pink`, `low`, `mid`, `high`, `tone`, `pulse`, `burst`, `sweep`."""
    side: str
    """`both` (a file with one channel), `left`, `right`, or `turns`: left and right in turn."""
    seconds: float
    title: str
    purpose: str


SIGNALS: Final = (
    Signal("pink", "pink", "both", 20, "pink noise, 20 Hz to 20 kHz", "every box for the audience: tone and level"),
    Signal("pink-left", "pink", "left", 20, "pink noise, left side only", "sides: nothing may sound on the right"),
    Signal("pink-right", "pink", "right", 20, "pink noise, right side only", "sides: nothing may sound on the left"),
    Signal("pink-turns", "pink", "turns", 20, "pink noise, left and right in turn", "both sides against each other"),
    Signal("low", "low", "both", 20, "pink noise, 40 to 100 Hz", "subs; finds what rattles"),
    Signal("mid", "mid", "both", 20, "pink noise, 500 Hz to 2 kHz", "boxes set to one level against each other"),
    Signal("high", "high", "both", 20, "pink noise, 4 to 16 kHz", "high drivers: a dead one is heard at once"),
    Signal("tone", "tone", "both", 20, "1 kHz tone", "feeds, recorders and meters: level"),
    Signal("pulse", "pulse", "both", 20, "pulses that push first", "polarity: a tester, or two boxes that must add"),
    Signal("burst", "burst", "both", 20, "bursts of 63 Hz", "subs: timing and polarity against the tops"),
    Signal("sweep", "sweep", "both", 2 * TONE_S * len(TONES_HZ), "stepped tones, 40 Hz to 10 kHz", "rattles; twice"),
)


def samples(signal: Signal) -> Samples:
    """A signal as it stands in its file: frames x channels, full scale 1; faded in, and out over 50 ms."""
    import numpy as np

    frames = round(signal.seconds * RATE)
    mono = period(signal.key)
    if signal.side == "turns":
        both = np.concatenate([np.stack([mono, 0 * mono], 1), np.stack([0 * mono, mono], 1)])
    elif signal.side == "both":
        both = mono[:, None]
    else:
        both = np.stack([mono, 0 * mono] if signal.side == "left" else [0 * mono, mono], 1)
    whole: Samples = np.resize(both, (frames, both.shape[1]))
    return whole * _faded(frames)[:, None]


def _faded(frames: int) -> Samples:
    import numpy as np

    gain = np.ones(frames)
    for length, backwards in ((round(FADE_S * RATE), False), (RATE // 20, True)):
        ramp = np.sin(np.arange(length) / length * (math.pi / 2)) ** 2
        if backwards:
            gain[-length:] *= ramp[::-1]
        else:
            gain[:length] *= ramp
    return gain


def period(key: str) -> Samples:
    """One period of a signal, full scale 1, without fades."""
    return noise(*BANDS[key]) if key in BANDS else MAKERS[key]()


def noise(low_hz: float, high_hz: float) -> Samples:
    """Pink noise between two frequencies: components 1/period apart, amplitude 1/sqrt(f), phases drawn."""
    import numpy as np

    bins = np.arange(math.ceil(low_hz * PERIOD / RATE), math.floor(high_hz * PERIOD / RATE) + 1)
    drawn = _drawn()
    phase = 2 * math.pi * np.array([next(drawn) for _ in bins])
    spectrum = np.zeros(PERIOD // 2 + 1, dtype=complex)
    spectrum[bins] = np.exp(1j * phase) / np.sqrt(bins)
    made = np.fft.irfft(spectrum, PERIOD)
    return made * (RMS / math.sqrt(float(np.mean(made**2))))


def _drawn() -> Iterator[float]:
    """Numbers between 0 and 1, always the same."""
    seed = 1
    while True:
        seed = seed * 48271 % 2147483647
        yield seed / 2147483647


def _times(seconds: float) -> Samples:
    import numpy as np

    return np.arange(round(seconds * RATE)) / RATE


def _tone() -> Samples:
    import numpy as np

    return RMS * math.sqrt(2) * np.sin(2 * math.pi * 1000 * _times(1))


def _pulse() -> Samples:
    """Pushes for 2 ms, pulls half as much for 4 ms: no steady part, and its side shows on a polarity tester."""
    import numpy as np

    ms = _times(0.5) * 1000
    push, pull = 0.5 * np.sin(math.pi * ms / 2) ** 2, -0.25 * np.sin(math.pi * (ms - 2) / 4) ** 2
    return np.where(ms < 2, push, np.where(ms < 6, pull, 0.0))


def _burst() -> Samples:
    """Eight cycles of 63 Hz under a raised cosine, once a second."""
    import numpy as np

    t, length = _times(1), BURST_CYCLES / BURST_HZ
    made = 0.25 * np.sin(2 * math.pi * BURST_HZ * t) * np.sin(math.pi * t / length) ** 2
    return np.where(t < length, made, 0.0)


def _sweep() -> Samples:
    """Each tone rises and falls over 50 ms."""
    import numpy as np

    t = _times(TONE_S)
    edge = np.minimum(1, np.minimum(t / 0.05, (TONE_S - t) / 0.05))
    return np.concatenate([RMS * math.sqrt(2) * np.sin(2 * math.pi * hz * t) * edge for hz in TONES_HZ])


MAKERS: Final = MappingProxyType[str, Callable[[], "Samples"]](
    {"tone": _tone, "pulse": _pulse, "burst": _burst, "sweep": _sweep}
)
