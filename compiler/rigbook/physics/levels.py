"""Sound pressure level and its fall with distance."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final, overload

from rigbook.physics._numeric import log10, require

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

REFERENCE_PA: Final = 20e-6
"""Reference sound pressure in air: ISO 1683:2015."""


@overload
def distance_loss(distance_m: float, reference_m: float = ...) -> float: ...  # type: ignore[overload-overlap]
@overload
def distance_loss(distance_m: Values, reference_m: Values = ...) -> Array: ...
def distance_loss(distance_m: Values, reference_m: Values = 1.0) -> Values:
    """Loss of a point source from one distance to another, in a free field.

    Args:
        distance_m: distance from the source in m, float or array; both broadcast.
        reference_m: distance at which the level is known in m.
    Returns: loss in dB, negative nearer than the reference.
    Source: inverse square law, 20 lg(d / d0); ISO 9613-2:1996, 7.1.
    Valid: distances above 0 m; far field, thus some times the size of the box away.
    """
    require("distance", distance_m, "m", 0, above=True)
    require("reference distance", reference_m, "m", 0, above=True)
    return 20 * log10(distance_m / reference_m)


@overload
def level_at_distance(  # type: ignore[overload-overlap]
    level_db: float, distance_m: float, reference_m: float = ...
) -> float: ...
@overload
def level_at_distance(level_db: Values, distance_m: Values, reference_m: Values = ...) -> Array: ...
def level_at_distance(level_db: Values, distance_m: Values, reference_m: Values = 1.0) -> Values:
    """Level of a point source at a distance, from its level at another, in a free field.

    Args:
        level_db: level at the reference distance in dB, float or array; all broadcast.
        distance_m: distance from the source in m.
        reference_m: distance at which the level is known in m.
    Returns: level in dB.
    Source: inverse square law, L2 = L1 - 20 lg(d2 / d1).
    Valid: as `distance_loss`.
    """
    return level_db - distance_loss(distance_m, reference_m)


@overload
def line_source_loss(distance_m: float, reference_m: float = ...) -> float: ...  # type: ignore[overload-overlap]
@overload
def line_source_loss(distance_m: Values, reference_m: Values = ...) -> Array: ...
def line_source_loss(distance_m: Values, reference_m: Values = 1.0) -> Values:
    """Loss of a line source from one distance to another, in a free field.

    Args:
        distance_m: distance from the line in m, float or array; both broadcast.
        reference_m: distance at which the level is known in m.
    Returns: loss in dB, negative nearer than the reference.
    Source: cylindrical spreading, 10 lg(d / d0).
    Valid: distances above 0 m, near against the length of the line; `line_source_limit` says how near.
    """
    return distance_loss(distance_m, reference_m) / 2


def line_source_limit(length_m: float, frequency_hz: float, speed_m_s: float) -> float:
    """Distance up to which a line of loudspeakers falls as a line source; beyond it falls as a point source.

    Args:
        length_m: length of the line in m, a float.
        frequency_hz: frequency in Hz, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: distance in m.
    Source: border of the Fresnel and Fraunhofer regions, l^2 / (2 lambda) = l^2 f / (2 c) (from memory; M. S. Ureda,
        J. Audio Eng. Soc. 52, 2004, 467-495).
    Valid: a straight line longer than a wavelength; the change is gradual.
    """
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    require("length of the line", length_m, "m", speed_m_s / frequency_hz)
    return length_m**2 * frequency_hz / (2 * speed_m_s)


def geometric_divergence(distance_m: float) -> float:
    """Loss from sound power level to sound pressure level of a point source in a free field.

    Args:
        distance_m: distance from the source in m, a float.
    Returns: loss in dB.
    Source: ISO 9613-2:1996, formula (7): 20 lg(d / 1 m) + 11.
    Valid: above 0 m.
    Errata: the 11 dB are rounded; 10 lg(4 pi) is 10.99.
    """
    return distance_loss(distance_m) + 11


def sound_pressure_level(pressure_pa: float) -> float:
    """Sound pressure level of a sound pressure.

    Args:
        pressure_pa: rms sound pressure in Pa (for a peak level the peak pressure), a float.
    Returns: level in dB re 20 µPa.
    Source: ISO 1683:2015; 20 lg(p / 20 µPa).
    Valid: above 0 Pa.
    """
    require("sound pressure", pressure_pa, "Pa", 0, above=True)
    return 20 * math.log10(pressure_pa / REFERENCE_PA)
