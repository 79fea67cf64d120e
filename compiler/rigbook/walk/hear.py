"""What a listener would say: from what arrives at a box with a fault, beside what arrives as planned.

Nothing here knows of faults. Levels are worked out in 1/3-octave bands for pink noise, through the filters on the way
and the range of the box, then compared in three regions. The thresholds are common practice: most people notice
3 dB, and what is 20 dB below the rest of the sound is masked by it.
"""

from __future__ import annotations

from cmath import exp, pi
from functools import lru_cache
from math import log10
from typing import Final

from rigbook.walk.cones import State
from rigbook.walk.sounding import Range
from rigbook.walk.wires import HUM, Cut

BANDS: Final = tuple(1000 * 2 ** (i / 3) for i in range(-14, 11))
"""Centres of the 1/3-octave bands from 40 Hz to 10 kHz."""
REGIONS: Final = (("low", 0, 6), ("mid", 6, 18), ("high", 18, 25))
"""Up to 125 Hz, up to 2 kHz, above; as slices of the bands."""
NOTICED_DB: Final = 3.0
ALIKE_DB: Final = 1.5
"""Regions that change by no more than this unlike each other change together."""
MASKED_DB: Final = 20.0
SILENT_DB: Final = -40.0
"""Below the level of the test itself: lost in the noise of a room."""
SHIFT_S: Final = 0.001
"""Boxes whose sound is this much apart from the plan pull the sound to the earlier one (common practice)."""

SILENT, SOUNDS, QUIET, LOUD, THIN, BOOMY, DULL, BRIGHT = (
    "silent",
    "sounds",
    "quiet",
    "loud",
    "thin",
    "boomy",
    "dull",
    "bright",
)
HUMS = "hums"
HOLLOW, FIRST_A, FIRST_B = "hollow", "first-a", "first-b"


def judge(now: State, plan: State, box: Range, coarse: bool) -> str:
    """What is wrong with the sound of a box, in one word; empty where nothing is to be noticed."""
    if now == plan:
        return ""
    level, before = _level(now, box), _level(plan, box)
    if before < SILENT_DB:
        return SOUNDS if level >= SILENT_DB else ""
    if level < SILENT_DB:
        return SILENT
    if any(HUM in cuts for *_, cuts in now):
        return HUMS
    return _difference(now, plan, box, coarse)


def _difference(now: State, plan: State, box: Range, coarse: bool) -> str:
    level, before = _level(now, box), _level(plan, box)
    if coarse:
        change = level - before
        return QUIET if change <= -2 * NOTICED_DB else LOUD if change >= 2 * NOTICED_DB else ""
    new, old = regions(now, box), regions(plan, box)
    found = [
        (name, a - b)
        for (name, _, _), a, b in zip(REGIONS, new, old)
        if a > level - MASKED_DB or b > before - MASKED_DB
    ]
    spread = [d for _, d in found]
    if max(spread) - min(spread) <= ALIKE_DB:
        change = level - before
        return QUIET if change <= -NOTICED_DB else LOUD if change >= NOTICED_DB else ""
    name, most = max(found, key=lambda f: abs(f[1]))
    if abs(most) < NOTICED_DB:
        return ""
    if name == "low":
        return THIN if most < 0 else BOOMY
    return DULL if most < 0 else BRIGHT


@lru_cache(maxsize=4096)
def regions(state: State, box: Range) -> tuple[float, ...]:
    """Level of pink noise in the three regions, in dB against one band at full level."""
    powers = _powers(state, box)
    return tuple(10 * log10(sum(powers[a:b]) + 1e-12) for _, a, b in REGIONS)


@lru_cache(maxsize=4096)
def _level(state: State, box: Range) -> float:
    """Level over all bands, in dB against all the bands that the box plays at full level."""
    full = sum(_box(f, box) for f in BANDS)
    return 10 * log10(sum(_powers(state, box)) / full + 1e-12)


def _powers(state: State, box: Range) -> list[float]:
    out = []
    for f in BANDS:
        amount: complex = 0
        for gain, flip, delay, cuts in state:
            size = 10 ** (gain / 20) * (-1 if flip else 1)
            for cut in cuts:
                size *= magnitude(cut, f)
            amount += size * exp(-2j * pi * f * delay) if len(state) > 1 else size
        out.append(abs(amount) ** 2 * _box(f, box))
    return out


@lru_cache(maxsize=8192)
def magnitude(cut: Cut, f: float) -> float:
    """Magnitude of a filter at a frequency in Hz: Butterworth, or two of half the order in line (Linkwitz-Riley).

    A Bessel filter is taken as Butterworth of its order: what is heard of a missing filter does not hang on it.
    Source: |H|^2 = 1 / (1 + x^2n), the definition of the Butterworth filter.
    """
    if cut == HUM:
        return 1.0
    x = cut.hz / f if cut.side == "low" else f / cut.hz
    if cut.doubled:
        return 1 / (1 + x**cut.order)
    return float((1 + x ** (2 * cut.order)) ** -0.5)


def _box(f: float, box: Range) -> float:
    """Power that a box makes of a band: 24 dB/oct below its range, 12 dB/oct above it (common practice)."""
    below = (box.low / f) ** 8 if f < box.low else 1.0
    above = (f / box.high) ** 4 if f > box.high else 1.0
    return 1 / (below * above)


def judge_pair(now: tuple[State, State], plan: tuple[State, State], low_hz: float) -> str:
    """What is wrong between two boxes: they cancel, or the sound has moved to one of them; empty where nothing is.

    `low_hz` is where two boxes meet that only share low frequencies; 0 where they share the whole range. The ear
    does not place low sounds, so there only a shift of a quarter period or more is heard, as a hole.
    """
    if not all(now) or not all(plan):
        return ""
    (turned, apart), (turned_plan, apart_plan) = _relation(*now), _relation(*plan)
    shift = apart - apart_plan
    if low_hz:
        phase = abs(shift) * low_hz % 1
        hole = (turned != turned_plan) != (0.25 <= phase <= 0.75)
        return HOLLOW if hole else ""
    if turned != turned_plan:
        return HOLLOW
    return "" if abs(shift) < SHIFT_S else FIRST_A if shift < 0 else FIRST_B


def _relation(a: State, b: State) -> tuple[bool, float]:
    """Whether two boxes differ in polarity, and how much later a is than b, by the loudest part of each."""
    one, other = max(a), max(b)
    return one[1] != other[1], one[2] - other[2]
