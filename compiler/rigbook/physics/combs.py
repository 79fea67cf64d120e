"""Comb filters: a sound and its late copy."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require


def comb_nulls(delay_s: float, count: int = 3) -> tuple[float, ...]:
    """First nulls of a sound that meets its copy.

    Args:
        delay_s: delay of the copy in s, a float.
        count: how many nulls.
    Returns: frequencies in Hz, rising; their spacing is one over the delay.
    Source: Everest & Pohlmann, Master Handbook of Acoustics, ch. 10: n / (2 t), n odd.
    Valid: delay above 0 s; the copy has the same polarity.
    Errata: only odd multiples of 1/(2 t); even ones are peaks (`comb_peaks`).
    """
    require("delay", delay_s, "s", 0, above=True)
    require("number of nulls", count, "", 1)
    return tuple((2 * n + 1) / (2 * delay_s) for n in range(count))


def comb_peaks(delay_s: float, count: int = 3) -> tuple[float, ...]:
    """First peaks above 0 Hz of a sound that meets its copy.

    Args:
        delay_s: delay of the copy in s, a float.
        count: how many peaks.
    Returns: frequencies in Hz, rising.
    Source: Everest & Pohlmann, Master Handbook of Acoustics, ch. 10: n / t.
    Valid: delay above 0 s; the copy has the same polarity.
    """
    require("delay", delay_s, "s", 0, above=True)
    require("number of peaks", count, "", 1)
    return tuple(n / delay_s for n in range(1, count + 1))


def comb_ripple(copy_db: float) -> tuple[float, float]:
    """Height of the peaks and depth of the nulls of a comb filter.

    Args:
        copy_db: level of the copy against the first sound in dB, a float.
    Returns: level at a peak and in a null in dB against the first sound alone; minus infinity for an equal copy.
    Source: 20 lg(1 + g) and 20 lg |1 - g|; Everest & Pohlmann, Master Handbook of Acoustics, fig. 10-14.
    Valid: -200 to 60 dB.
    """
    require("level of the copy", copy_db, "dB", -200, 60)
    copy = 10 ** (copy_db / 20)
    null = abs(1 - copy)
    return 20 * math.log10(1 + copy), 20 * math.log10(null) if null else -math.inf
