"""Prototypes of the filters the trade uses, with the corner at 1 rad/s: Butterworth, Linkwitz-Riley, Bessel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, Literal

from rigbook.physics._numeric import require
from rigbook.physics.errors import OutOfRange

Family = Literal["butterworth", "linkwitz-riley", "bessel"]
HIGHEST_ORDER: Final = 8
DB_PER_OCTAVE: Final = 6
"""Slope of one order, rounded as the trade does: 20·lg 2 is 6.02 dB."""


def order_of_slope(db_per_octave: int) -> int:
    """Order of a filter from its slope as the trade names it.

    Args:
        db_per_octave: 6, 12, 18, 24, 30, 36, 42 or 48 dB/oct.
    Returns: 1 to 8.
    Source: filter theory: each order falls by 20·lg 2 = 6.02 dB an octave, rounded to 6 by common practice.
    Valid: the eight slopes named.
    """
    order, rest = divmod(db_per_octave, DB_PER_OCTAVE)
    if rest or not 1 <= order <= HIGHEST_ORDER:
        raise OutOfRange("slope", db_per_octave, "dB/oct", (DB_PER_OCTAVE, DB_PER_OCTAVE * HIGHEST_ORDER))
    return order


def denominator(family: Family, order: int) -> tuple[float, ...]:
    """Denominator of an all-pole low-pass with its corner at 1 rad/s.

    Args:
        family: the kind of filter.
        order: its order.
    Returns: coefficients of 1, s, s² ..., (order + 1,); the first is 1.
    Source: Butterworth: any filter text (poles evenly on the unit circle). Linkwitz-Riley: S. Linkwitz, Active
        Crossover Networks for Noncoincident Drivers, JAES 24(1), 1976 (a Butterworth of half the order, squared).
        Bessel: reverse Bessel polynomials, scaled so that the corner is 3.01 dB down.
    Valid: order 1 to 8; Linkwitz-Riley 2, 4, 6 or 8.
    Errata: processors scale Bessel filters in more than one way; some put the corner where the phase matches.
    """
    require("filter order", order, "", 1, HIGHEST_ORDER)
    if family == "linkwitz-riley":
        require("odd part of a Linkwitz-Riley order", order % 2, "", 0, 0)
    return _worked_out(family, order)


@lru_cache(maxsize=64)
def _worked_out(family: Family, order: int) -> tuple[float, ...]:
    if family == "linkwitz-riley":
        half = _butterworth(order // 2)
        return _product(half, half)
    return _butterworth(order) if family == "butterworth" else _bessel(order)


def _butterworth(order: int) -> tuple[float, ...]:
    result: tuple[float, ...] = (1.0, 1.0) if order % 2 else (1.0,)
    for k in range(order // 2):
        result = _product(result, (1.0, 2 * math.sin(math.pi * (2 * k + 1) / (2 * order)), 1.0))
    return result


def _bessel(order: int) -> tuple[float, ...]:
    n, f = order, math.factorial
    reverse = [f(2 * n - k) / (2 ** (n - k) * f(k) * f(n - k)) for k in range(n + 1)]
    unit = [c / reverse[0] for c in reverse]
    low, high = 0.0, 2.0 * n
    for _ in range(60):  # halving: |D(jω)|² rises steadily from 1 and passes 2 at the corner
        omega = (low + high) / 2
        if abs(sum(c * (1j * omega) ** k for k, c in enumerate(unit))) ** 2 < 2:
            low = omega
        else:
            high = omega
    return tuple(c * low**k for k, c in enumerate(unit))


def _product(a: Sequence[float], b: Sequence[float]) -> tuple[float, ...]:
    result = [0.0] * (len(a) + len(b) - 1)
    for i, x in enumerate(a):
        for j, y in enumerate(b):
            result[i + j] += x * y
    return tuple(result)
