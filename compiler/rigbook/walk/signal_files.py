"""Test signals as files: 24-bit WAV at 48 kHz, their levels, and the list that lies beside them."""

from __future__ import annotations

import io
import math
import wave
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from rigbook.records import frozen
from rigbook.walk.signals import FADE_S, RATE, SIGNALS, Signal, samples

if TYPE_CHECKING:
    from rigbook.walk.signals import Samples
    from rigbook.walk.step import Step

FULL: Final = 2**23 - 1
"""The largest sample of 24 bits."""
TAPS: Final = 16
"""Samples on each side that the interpolation between samples looks at."""
CAUTION: Final = """\
Caution: loud noise and sudden peaks damage hearing at once and for good. Turn everything down before the first file,
raise it slowly, tell everyone in the room, keep ears away from the boxes and use no headphones. Noise and tones can
also overheat drivers: play no louder and no longer than the test needs.
"""


@frozen
class Measured:
    """The level of a file."""

    rms_dbfs: float
    """Root mean square of what plays (both sides of a file that plays them in turn), from the end of the fade on;
    0 dBFS is a constant full scale, so a sine at full scale reads -3.01."""
    true_peak_dbtp: float
    """Highest level between samples as well (ITU-R BS.1770, four times oversampled)."""


def measured(made: Samples) -> Measured:
    """The level of samples (frames x channels) that are longer than their fade."""
    import numpy as np

    steady = made[round(FADE_S * RATE) : -RATE // 20]
    power = float(np.mean(np.sum(steady**2, axis=1)))
    return Measured(10 * math.log10(power), 20 * math.log10(true_peak(made)))


def true_peak(made: Samples) -> float:
    """Largest absolute value at four times the rate, as ITU-R BS.1770 measures it; full scale 1.

    Values between samples come from a windowed sinc over 2 x `TAPS` samples. At four times the rate a peak can still
    be missed by up to 0.7 dB near half the rate (BS.1770-4, annex 2); our signals end at 20 kHz.
    """
    import numpy as np

    at = np.arange(-TAPS + 1, TAPS + 1)
    highest = float(np.abs(made).max())
    for quarter in (0.25, 0.5, 0.75):
        shift = at - quarter
        taps = np.sinc(shift) * np.cos(math.pi * shift / (2 * TAPS + 1)) ** 2
        for column in made.T:
            highest = max(highest, float(np.abs(np.convolve(column, taps[::-1])).max()))
    return highest


def wav(made: Samples) -> bytes:
    """Samples as a WAV file of 24 bits. The same samples give the same bytes."""
    import numpy as np

    # sums and sines may differ in their last bit between machines; rounded to 24 bits that is seen in one sample of
    # some ten million
    whole = np.rint(made * FULL).astype("<i4")
    data = whole.reshape(-1, 1).view(np.uint8).reshape(-1, 4)[:, :3].tobytes()
    out = io.BytesIO()
    with wave.open(out, "wb") as file:
        file.setnchannels(made.shape[1])
        file.setsampwidth(3)
        file.setframerate(RATE)
        file.writeframes(data)
    return out.getvalue()


def files(steps: Iterable[Step] = ()) -> Iterable[tuple[str, bytes]]:
    """Names and bytes of every file, the list last; it says which file is for which of the steps given."""
    rows = []
    for signal in SIGNALS:
        made = samples(signal)
        rows.append((signal, measured(made)))
        yield f"{signal.name}.wav", wav(made)
    yield "README.txt", listing(rows, steps).encode()


def listing(rows: Iterable[tuple[Signal, Measured]], steps: Iterable[Step]) -> str:
    """The list of the files: level, peak, length and purpose of each."""
    text = f"Test signals for the walk test\n\n{CAUTION}\n"
    text += "file              RMS dBFS  true peak dBTP  length  channels\n"
    for signal, level in rows:
        channels = "one" if signal.side == "both" else "two"
        text += f"{signal.name + '.wav':<17} {level.rms_dbfs:>8.1f}  {level.true_peak_dbtp:>14.1f}  "
        text += f"{signal.seconds:>4g} s  {channels}\n    {signal.title}; {signal.purpose}\n"
    text += (
        f"\n48 kHz, 24 bit. Every file fades in over {FADE_S:g} s. RMS from the end of the fade on, against a steady\n"
        "full scale (a sine at full scale reads -3.0); true peak after ITU-R BS.1770, four times oversampled.\n"
        "The walk-test page plays the same signals.\n"
    )
    named = [(step.title, file_for(step)) for step in steps]
    if named:
        width = max(len(title) for title, _ in named)
        text += "\nfor the steps of the plan\n" + "".join(f"{t:<{width}}  {name}\n" for t, name in named)
    return text


def file_for(step: Step) -> str:
    """The file that a step wants: one side alone where the step plays one side of a pair in pink noise."""
    key = "pink" if step.signal_key not in {s.key for s in SIGNALS} else step.signal_key
    side = step.leg if key == "pink" and step.leg in ("left", "right") else "both"
    return next(f"{s.name}.wav" for s in SIGNALS if (s.key, s.side) == (key, side))
