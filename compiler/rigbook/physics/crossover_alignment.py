"""Whether a change of polarity or delay would fill the hole between two ways."""

from __future__ import annotations

import cmath
import math
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.crossover_region import FLOOR, log_frequencies
from rigbook.physics.crossovers import Way, way_response
from rigbook.records import frozen, replace

WORTH_DB: Final = 0.5
"""What a change must bring to be advised in place of a simpler one (ours)."""

DELAYS_EACH_WAY: Final = 48
"""Delays tried on either side before refining: steps of 7.5° at the crossover when the limit is one period."""


@frozen
class Alignment:
    """What would bring two ways together best."""

    invert: bool
    """True where one of the two should change its polarity."""
    delay_s: float
    """Delay to add to the upper way; below zero, to add to the lower way instead."""
    hole_db: float
    """Lowest level around the crossover after the change, with both ways at the same gain."""
    hole_now_db: float
    """The same before the change."""


def best_alignment(lower: Way, upper: Way, crossover_hz: float, longest_delay_s: float | None = None) -> Alignment:
    """Polarity and delay that leave the smallest hole within an octave on both sides of a crossover.

    Args:
        lower: the lower way as it is.
        upper: the upper way as it is.
        crossover_hz: where the two meet, Hz.
        longest_delay_s: longest delay to consider on either way, s; 0 asks about polarity alone; by default one
            period of the crossover frequency.
    Returns: the simplest of no change, other polarity, and delay, whose hole (below 0 dB) is less than 0.5 dB deeper
        than the best's. Of equal delays (0.01 dB) the shorter is taken, then the polarity as it is.
    Source: ours: the lowest level of the complex sum, gains set equal, over 97 delays and both polarities, refined.
    Valid: as `crossovers.way_response`; the phase of the loudspeakers themselves is not known and not included.
    """
    require("crossover frequency", crossover_hz, "Hz", 0, above=True)
    limit_s = 1 / crossover_hz if longest_delay_s is None else longest_delay_s
    require("longest delay", limit_s, "s", 0)
    pair = _Pair(lower, upper, crossover_hz)
    now_db = pair.hole(False, 0.0)
    delayed = [_best_delay(pair, invert, limit_s) for invert in (False, True)]
    best = min(delayed, key=lambda a: (-round(a[2], 2), abs(a[1]), a[0]))
    simplest_first = ((False, 0.0, now_db), (True, 0.0, pair.hole(True, 0.0)), best)
    enough_db = min(best[2], 0) - WORTH_DB  # above 0 dB there is no hole to fill
    invert, delay_s, hole_db = next(choice for choice in simplest_first if choice[2] > enough_db)
    return Alignment(invert, delay_s, hole_db, now_db)


class _Pair:
    """Two ways at equal gain, worked out once at each frequency of the region."""

    def __init__(self, lower: Way, upper: Way, crossover_hz: float) -> None:
        low, high = replace(lower, gain_db=0.0), replace(upper, gain_db=0.0)
        self._parts = [
            (-2j * math.pi * f, way_response(low, f), way_response(high, f))
            for f in log_frequencies(crossover_hz / 2, crossover_hz * 2)
        ]

    def hole(self, invert: bool, delay_s: float) -> float:
        """Lowest level of the sum in dB, with the upper way changed."""
        sign = -1 if invert else 1
        lowest = min(abs(low + sign * high * cmath.exp(turn * delay_s)) for turn, low, high in self._parts)
        return 20 * math.log10(max(FLOOR, lowest))


def _best_delay(pair: _Pair, invert: bool, limit_s: float) -> tuple[bool, float, float]:
    step_s = limit_s / DELAYS_EACH_WAY
    tried = [i * step_s for i in range(-DELAYS_EACH_WAY, DELAYS_EACH_WAY + 1)] if limit_s else [0.0]
    holes = {delay_s: pair.hole(invert, delay_s) for delay_s in tried}
    best_s = min(holes, key=lambda d: (-round(holes[d], 2), abs(d)))
    best_db = holes[best_s]
    while step_s > limit_s / 10_000:
        step_s /= 2
        for delay_s in (best_s - step_s, best_s + step_s):
            if abs(delay_s) <= limit_s and (hole_db := pair.hole(invert, delay_s)) > best_db:
                best_s, best_db = delay_s, hole_db
    return invert, best_s, best_db
