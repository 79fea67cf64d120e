"""The region around a crossover: where two ways meet, and how level their sum is there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from rigbook.physics._numeric import require
from rigbook.physics.crossovers import Way, sum_response, way_response

STEPS_PER_OCTAVE: Final = 24
FLOOR: Final = 1e-4
"""Ratio (-80 dB) that stands for a sum of less or of nothing, so that a result stays a number that can be met: no two
boxes are alike enough to cancel deeper."""


class Ripple(NamedTuple):
    """Lowest and highest level of a sum, and where."""

    lowest_db: float
    lowest_hz: float
    highest_db: float
    highest_hz: float


def log_frequencies(from_hz: float, to_hz: float) -> tuple[float, ...]:
    """Frequencies at equal musical distances, both ends included.

    Args:
        from_hz: lower end, Hz.
        to_hz: upper end, Hz.
    Returns: Hz, rising, 24 or a little more in each octave.
    Source: ours.
    Valid: 0 < from < to.
    """
    require("lower frequency", from_hz, "Hz", 0, above=True)
    require("upper frequency", to_hz, "Hz", from_hz, above=True)
    count = math.ceil(STEPS_PER_OCTAVE * math.log2(to_hz / from_hz))
    return tuple(from_hz * (to_hz / from_hz) ** (i / count) for i in range(count + 1))


def crossing_frequency(lower: Way, upper: Way, from_hz: float = 10.0, to_hz: float = 20_000.0) -> float | None:
    """Frequency at which an upper way takes over from a lower one: both have the same level.

    Args:
        lower: the lower way.
        upper: the upper way.
        from_hz: where to begin looking, Hz.
        to_hz: where to end, Hz.
    Returns: Hz, the lowest such frequency, or `None` where the upper way never takes over.
    Source: stepping and halving on a logarithmic scale.
    Valid: as `crossovers.way_response`, 0 < from < to.
    """

    def lead(frequency_hz: float) -> float:
        return abs(way_response(lower, frequency_hz)) - abs(way_response(upper, frequency_hz))

    steps = ((lead(f) > 0, f) for f in log_frequencies(from_hz, to_hz))
    for (ahead, below), (still, above) in pairwise(steps):
        if ahead and not still:
            for _ in range(50):
                middle = math.sqrt(below * above)
                below, above = (middle, above) if lead(middle) > 0 else (below, middle)
            return above
    return None


def ripple(ways: Sequence[Way], from_hz: float, to_hz: float) -> Ripple:
    """Lowest and highest level of the sum of the ways between two frequencies.

    Args:
        ways: one or more.
        from_hz: lower end, Hz.
        to_hz: upper end, Hz.
    Returns: levels in dB (-80 at least) and their frequencies in Hz, at the `log_frequencies` between the ends.
    Source: `crossovers.sum_response`.
    Valid: as `crossovers.way_response`, 0 < from < to.
    """
    levels = [(20 * math.log10(max(FLOOR, abs(sum_response(ways, f)))), f) for f in log_frequencies(from_hz, to_hz)]
    lowest, highest = min(levels), max(levels)
    return Ripple(lowest[0], lowest[1], highest[0], highest[1])
