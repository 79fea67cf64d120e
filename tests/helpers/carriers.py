"""Intermodulation by brute force over whole hertz, to hold the fast ways against; and carriers to try them on."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, permutations

from hypothesis import strategies as st

KHZ = 1000

on_a_raster = st.lists(st.integers(20_000, 20_400), min_size=1, max_size=9, unique=True).map(
    lambda steps: [25.0 * KHZ * step for step in steps]
)
"""Up to nine carriers from 500 to 510 MHz in steps of 25 kHz."""


def all_hits(carriers: Sequence[float], guard_hz: float) -> set[tuple[str, tuple[int, ...], int]]:
    """(product, sources, victim) of every product nearer than the guard to a carrier that is not its source."""
    everyone = range(len(carriers))
    found: set[tuple[str, tuple[int, ...], int]] = set()
    for a, b, victim in permutations(everyone, 3):
        for product, frequency in (
            ("2a-b", 2 * carriers[a] - carriers[b]),
            ("3a-2b", 3 * carriers[a] - 2 * carriers[b]),
        ):
            if abs(frequency - carriers[victim]) < max(guard_hz, 1):
                found.add((product, (a, b), victim))
    for a, b in combinations(everyone, 2):
        for c in everyone:
            for victim in everyone:
                off = abs(carriers[a] + carriers[b] - carriers[c] - carriers[victim])
                if len({a, b, c, victim}) == 4 and off < max(guard_hz, 1):
                    found.add(("a+b-c", (a, b, c), victim))
    return found


def closest_pair(carriers: Sequence[float]) -> float:
    """Smallest distance of two carriers."""
    return min((abs(a - b) for a, b in combinations(carriers, 2)), default=float("inf"))
