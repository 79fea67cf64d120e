"""Crossovers: the ways with their filters, gain, polarity and delay, and how they add at one listener."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, TypeAlias, cast, overload

from rigbook.physics._numeric import log10, require
from rigbook.physics.filters import Cut, cut_derivative, cut_response, frequency_at_level
from rigbook.records import frozen

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from rigbook.physics._numeric import Array, Values

    ComplexArray: TypeAlias = npt.NDArray[np.complex128]


@frozen
class Way:
    """One way of a crossover: all that happens to the signal between the common input and the listener."""

    cuts: tuple[Cut, ...] = ()
    gain_db: float = 0.0
    inverted: bool = False
    """True for reversed polarity."""
    delay_s: float = 0.0
    """All delay, that of a processor and that of the path; against a common reference, so it may be negative."""


@overload
def way_response(way: Way, frequency_hz: float) -> complex: ...
@overload
def way_response(way: Way, frequency_hz: Array) -> ComplexArray: ...
def way_response(way: Way, frequency_hz: float | Array) -> complex | ComplexArray:
    """Complex response of one way.

    Args:
        way: the way.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: ratio, of the shape of `frequency_hz`.
    Source: circuit theory: product of the filters, 10^(gain/20), -1 where inverted, exp(-j·2π·f·t).
    Valid: as `filters.cut_response`; loudspeakers themselves are taken as flat.
    """
    response = _constant(way) * _turn(way.delay_s, frequency_hz)
    for cut in way.cuts:
        response = response * cut_response(cut, frequency_hz)
    return response


@overload
def sum_response(ways: Sequence[Way], frequency_hz: float) -> complex: ...
@overload
def sum_response(ways: Sequence[Way], frequency_hz: Array) -> ComplexArray: ...
def sum_response(ways: Sequence[Way], frequency_hz: float | Array) -> complex | ComplexArray:
    """Complex sum of the ways.

    Args:
        ways: one or more.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: ratio, of the shape of `frequency_hz`.
    Source: superposition.
    Valid: as `way_response`; for the direct sound at one place.
    """
    require("number of ways", len(ways), "", 1)
    first, *others = (way_response(way, frequency_hz) for way in ways)
    return sum(others, first)


@overload
def response_level(response: complex) -> float: ...
@overload
def response_level(response: ComplexArray) -> Array: ...
def response_level(response: complex | ComplexArray) -> Values:
    """Level of a complex response.

    Args:
        response: ratio; a complex number or an array of any shape.
    Returns: dB, of the same shape; minus infinity where the ways cancel.
    Source: definition, 20·lg|H|.
    Valid: any.
    """
    return 20 * log10(cast("Values", abs(response)))


def phase_between(lower: Way, upper: Way, frequency_hz: float) -> float:
    """Phase by which the upper way leads the lower one.

    Args:
        lower: the lower way.
        upper: the upper way.
        frequency_hz: frequency, Hz.
    Returns: degrees, above -180 to 180.
    Source: argument of the ratio of both responses.
    Valid: as `way_response`, above 0 Hz.
    """
    require("frequency", frequency_hz, "Hz", 0, above=True)
    return math.degrees(cmath.phase(way_response(upper, frequency_hz) / way_response(lower, frequency_hz)))


def designed_phase(family: Literal["butterworth", "linkwitz-riley"], order: int) -> float:
    """Phase between the two ways of a matched crossover, the same at all frequencies.

    Args:
        family: kind of both filters.
        order: order of both filters.
    Returns: degrees by which the high-pass leads, not reduced by whole turns.
    Source: S. Linkwitz, Active Crossover Networks for Noncoincident Drivers, JAES 24(1), 1976: order times 90°.
    Valid: order 1 to 8, same family, order and corner in both ways. Bessel filters have no such constant.
    """
    require("filter order", order, "", 1, 8)
    return 90.0 * order


@overload
def group_delay(ways: Sequence[Way], frequency_hz: float) -> float: ...
@overload
def group_delay(ways: Sequence[Way], frequency_hz: Array) -> Array: ...
def group_delay(ways: Sequence[Way], frequency_hz: Values) -> Values:
    """Group delay of the sum of the ways.

    Args:
        ways: one or more.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: s, of the shape of `frequency_hz`; not a number where the sum cancels wholly.
    Source: definition, -dφ/dω = -Im(H'/H), with the exact derivative of each way.
    Valid: as `way_response`; meaningless near a null.
    """
    total = sum_response(ways, frequency_hz)
    change = sum(_way_derivative(way, frequency_hz) for way in ways)
    return -_ratio(change, total).imag


@overload
def sum_loss(ways: Sequence[Way], frequency_hz: float) -> float: ...
@overload
def sum_loss(ways: Sequence[Way], frequency_hz: Array) -> Array: ...
def sum_loss(ways: Sequence[Way], frequency_hz: Values) -> Values:
    """What the sum lacks against the same ways all in phase.

    Args:
        ways: one or more.
        frequency_hz: frequency, Hz; a float or an array of any shape.
    Returns: dB, of the shape of `frequency_hz`: 0 in phase, -3.01 for two equal ways 90° apart, minus infinity
        where they cancel, not a number where nothing passes. A gain common to all changes nothing.
    Source: triangle inequality, |ΣH| / Σ|H|.
    Valid: as `way_response`.
    """
    in_phase = sum(cast("Values", abs(way_response(way, frequency_hz))) for way in ways)
    return response_level(_ratio(sum_response(ways, frequency_hz), in_phase))


def overlap_octaves(high_cut: Cut, low_cut: Cut, level_db: float = -20 * math.log10(2)) -> float:
    """Overlap of two neighbouring ways: how far the lower reaches beyond the start of the upper.

    Args:
        high_cut: the filter that ends the lower way.
        low_cut: the filter that begins the upper way.
        level_db: level of both filters at which the ends are taken, dB.
    Returns: octaves; below zero it is a gap.
    Source: definition (lg2 of the ratio); -6 dB because a Linkwitz-Riley pair meets there.
    Valid: -120 to -0.1 dB.
    """
    return math.log2(frequency_at_level(high_cut, level_db) / frequency_at_level(low_cut, level_db))


def _constant(way: Way) -> float:
    require("gain", way.gain_db, "dB", -1000, 1000)
    require("delay", way.delay_s, "s", -1000, 1000)
    return float((-1 if way.inverted else 1) * 10 ** (way.gain_db / 20))


@overload
def _turn(delay_s: float, frequency_hz: float) -> complex: ...
@overload
def _turn(delay_s: float, frequency_hz: Array) -> ComplexArray: ...
def _turn(delay_s: float, frequency_hz: float | Array) -> complex | ComplexArray:
    if isinstance(frequency_hz, (int, float)):
        return cmath.exp(-2j * math.pi * frequency_hz * delay_s)
    import numpy as np

    return cast("ComplexArray", np.exp(-2j * np.pi * frequency_hz * delay_s))


def _ratio(above: complex | ComplexArray, below: complex | Values | ComplexArray) -> complex | ComplexArray:
    """The quotient, not a number where there is nothing below, for floats as for arrays."""
    if isinstance(below, (int, float, complex)):
        return above / below if below else complex(math.nan, math.nan)
    import numpy as np

    with np.errstate(divide="ignore", invalid="ignore"):
        return cast("ComplexArray", np.where(below == 0, complex(math.nan, math.nan), above / below))


def _way_derivative(way: Way, frequency_hz: Values) -> complex | ComplexArray:
    """dH/dω of a way: the product rule over its filters and its delay."""
    turn = _constant(way) * _turn(way.delay_s, frequency_hz)
    responses = [cut_response(cut, frequency_hz) for cut in way.cuts]
    result = -1j * way.delay_s * way_response(way, frequency_hz)
    for i, cut in enumerate(way.cuts):
        product = turn * cut_derivative(cut, frequency_hz)
        for response in responses[:i] + responses[i + 1 :]:
            product = product * response
        result = result + product
    return result
