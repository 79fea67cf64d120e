"""Radio planning for 200 transmitters against the naive way: all products of pairs and triples, written out.

Ours finds which products land on which carriers, and then the nearest clean set. The naive side only lists the products
and looks each up; it is written in straight numpy and so is also an oracle for the hits.
"""

from __future__ import annotations

import statistics
import time
from typing import Any

import numpy as np

from rigbook.physics.frequency_search import Transmitter, clean_frequencies
from rigbook.physics.intermodulation_hits import hits

TRANSMITTERS = 200
BAND_HZ = (470e6, 694e6)
GUARD_HZ, SPACING_HZ, STEP_HZ = 50e3, 350e3, 25e3


def carriers(count: int = TRANSMITTERS) -> list[float]:
    """Carriers strewn over a band on a raster of 25 kHz, the same on every machine; no two alike."""
    raster = np.arange(BAND_HZ[0], BAND_HZ[1], STEP_HZ)
    chosen = np.random.default_rng(1).choice(raster, count, replace=False)
    return [float(f) for f in np.sort(chosen)]


def naive(frequencies: list[float]) -> set[tuple[float, int]]:
    """Where products fall within the guard of a carrier that is no source of theirs: product in Hz, carrier's place."""
    f = np.array(frequencies)
    found: set[tuple[float, int]] = set()
    for a in range(f.size):
        for b in range(a, f.size):
            product = f[a] + f[b] - f
            near = np.abs(product[:, None] - f[None, :]) < GUARD_HZ
            near[[a, b], :] = near[:, [a, b]] = False
            np.fill_diagonal(near, False)
            found |= {(float(product[c]), int(d)) for c, d in np.argwhere(near)}
    return found


def ours(frequencies: list[float]) -> tuple[Any, ...]:
    """The hits, and the nearest clean set."""
    found = hits(frequencies, GUARD_HZ, most_each=3)
    wanted = [Transmitter(f, (BAND_HZ,), STEP_HZ) for f in frequencies]
    return found, clean_frequencies(wanted, SPACING_HZ, GUARD_HZ)


def measure(times: int) -> tuple[float, float, float]:
    """Median ms of ours, of the naive way, and the median of their paired ratios."""
    frequencies, rounds = carriers(), []
    for _ in range(times + 1):
        a = time.perf_counter()
        ours(frequencies)
        b = time.perf_counter()
        naive(frequencies)
        rounds.append((b - a, time.perf_counter() - b))
    mine, theirs = zip(*rounds[1:], strict=True)
    return statistics.median(mine) * 1e3, statistics.median(theirs) * 1e3, statistics.median(
        x / y for x, y in rounds[1:])  # fmt: skip
