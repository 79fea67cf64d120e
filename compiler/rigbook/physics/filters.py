"""Low-cuts and high-cuts: the complex response of one filter, 6 to 48 dB/oct.

A high-cut is the prototype 1/D(s) with s = j·f/fc; a low-cut is its mirror, s replaced by 1/s. A float goes through
Python's own complex numbers, an array through its own arithmetic, so numpy is never imported here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, TypeAlias, cast, overload

from rigbook.physics._numeric import require
from rigbook.physics.filter_prototypes import Family, denominator
from rigbook.records import frozen

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from rigbook.physics._numeric import Array

    ComplexArray: TypeAlias = npt.NDArray[np.complex128]


@frozen
class Cut:
    """One filter of a signal path."""

    side: Literal["low-cut", "high-cut"]
    """A low-cut is a high-pass filter, a high-cut a low-pass filter."""
    family: Family
    order: int
    corner_hz: float


@overload
def cut_response(cut: Cut, frequency_hz: float) -> complex: ...
@overload
def cut_response(cut: Cut, frequency_hz: Array) -> ComplexArray: ...
def cut_response(cut: Cut, frequency_hz: float | Array) -> complex | ComplexArray:
    """Complex response of one filter.

    Args:
        cut: the filter.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: ratio of output to input, of the shape of `frequency_hz`.
    Source: as `filter_prototypes.denominator`; the high-pass is the low-pass with s replaced by 1/s.
    Valid: analogue filters (a digital one bends near half its sample rate); frequency zero or more, corner above zero.
    """
    s, coefficients = _prepare(cut, frequency_hz)
    if cut.side == "high-cut":
        return 1 / _polynomial(coefficients, s)
    return s**cut.order / _polynomial(coefficients[::-1], s)


@overload
def cut_derivative(cut: Cut, frequency_hz: float) -> complex: ...
@overload
def cut_derivative(cut: Cut, frequency_hz: Array) -> ComplexArray: ...
def cut_derivative(cut: Cut, frequency_hz: float | Array) -> complex | ComplexArray:
    """Derivative of the complex response by angular frequency, from which group delay follows.

    Args:
        cut: the filter.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: d(response)/dω in s, of the shape of `frequency_hz`.
    Source: the quotient rule on `cut_response`.
    Valid: as `cut_response`.
    """
    s, coefficients = _prepare(cut, frequency_hz)
    per_omega = 1j / (2 * math.pi * cut.corner_hz)
    if cut.side == "high-cut":
        return -per_omega * _polynomial(_slope(coefficients), s) / _polynomial(coefficients, s) ** 2
    n, mirrored = cut.order, coefficients[::-1]
    below = _polynomial(mirrored, s)
    return per_omega * s ** (n - 1) * (n * below - s * _polynomial(_slope(mirrored), s)) / below**2


def frequency_at_level(cut: Cut, level_db: float) -> float:
    """Frequency at which a filter has fallen to a level.

    Args:
        cut: the filter.
        level_db: level of the response, dB, below zero.
    Returns: Hz.
    Source: `cut_response` solved by halving; every filter here falls steadily.
    Valid: -120 to -0.1 dB.
    """
    require("level", level_db, "dB", -120, -0.1)
    unit = Cut("high-cut", cut.family, cut.order, 1.0)
    low, high = -24.0, 24.0
    for _ in range(60):
        octaves = (low + high) / 2
        if 20 * math.log10(abs(cut_response(unit, 2.0**octaves))) > level_db:
            low = octaves
        else:
            high = octaves
    return float(cut.corner_hz * 2.0 ** (low if cut.side == "high-cut" else -low))


def _prepare(cut: Cut, frequency_hz: float | Array) -> tuple[complex | ComplexArray, tuple[float, ...]]:
    require("corner frequency", cut.corner_hz, "Hz", 0, above=True)
    require("frequency", frequency_hz, "Hz", 0)
    s = cast("complex | ComplexArray", 1j * frequency_hz / cut.corner_hz)
    return s, denominator(cut.family, cut.order)


def _polynomial(coefficients: Sequence[float], s: complex | ComplexArray) -> complex | ComplexArray:
    value: complex | ComplexArray = 0 * s
    for coefficient in reversed(coefficients):
        value = value * s + coefficient
    return value


def _slope(coefficients: Sequence[float]) -> tuple[float, ...]:
    return tuple(k * c for k, c in enumerate(coefficients))[1:]
