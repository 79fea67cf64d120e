"""Directivity: factor and index from coverage angles, a piston's beam, and coverage where a box is too small."""

from __future__ import annotations

import math
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.off_axis import ALL_ROUND_DEG

PISTON_MINUS_6_DB: Final = 2.215089
"""x at which 2 J1(x) / x = 1/2: the -6 dB direction of a rigid piston in a baffle (Beranek & Mellow, Acoustics)."""

BEAMWIDTH_DEG_HZ_M: Final = 25_400.0
"""D. B. Keele, 1975: 10^6 for degrees, hertz and inches (AES preprint 1038, from memory)."""


def directivity_factor_rectangular(horizontal_deg: float, vertical_deg: float) -> float:
    """Directivity factor of a box that fills a rectangular beam evenly.

    Args:
        horizontal_deg: horizontal coverage angle (-6 dB to -6 dB) in degrees, a float.
        vertical_deg: vertical coverage angle in degrees, a float.
    Returns: directivity factor Q, 1 for all round.
    Source: C. T. Molloy, J. Acoust. Soc. Am. 20, 1948, 387-405 (from memory): 180 / asin(sin(H/2) sin(V/2)), asin in
        degrees; the same as 4 pi over the solid angle of a rectangular pyramid. All round in one plane: a belt of
        height V, 1 / sin(V/2), from the solid angle between two latitudes; in both: 1.
    Valid: above 0 and up to 180 degrees, or 360 for a plane that is even all round.
    """
    narrow = sorted(angle for angle in (horizontal_deg, vertical_deg) if angle != ALL_ROUND_DEG)
    for angle in narrow:
        require("coverage", angle, "°", 0, 180, above=True)
    if len(narrow) < 2:
        return 1 / math.sin(math.radians(narrow[0] / 2)) if narrow else 1.0
    sines = math.sin(math.radians(horizontal_deg / 2)) * math.sin(math.radians(vertical_deg / 2))
    return math.pi / math.asin(sines)


def directivity_factor_cone(coverage_deg: float) -> float:
    """Directivity factor of a box that fills a cone evenly.

    Args:
        coverage_deg: coverage angle (-6 dB to -6 dB) in degrees, a float.
    Returns: directivity factor Q, 1 for all round.
    Source: solid angle of a cone: 2 / (1 - cos(theta / 2)).
    Valid: above 0 and up to 360 degrees.
    """
    require("coverage", coverage_deg, "°", 0, 360, above=True)
    return 2 / (1 - math.cos(math.radians(coverage_deg / 2)))


def directivity_index(directivity_factor: float) -> float:
    """Directivity index of a directivity factor.

    Args:
        directivity_factor: directivity factor Q, a float.
    Returns: index in dB.
    Source: definition, 10 lg Q.
    Valid: above 0.
    """
    require("directivity factor", directivity_factor, "", 0, above=True)
    return 10 * math.log10(directivity_factor)


def piston_response(frequency_hz: float, radius_m: float, angle_deg: float, speed_m_s: float = 343.2) -> float:
    """Level of a rigid piston in a baffle off its axis, against its axis.

    Args:
        frequency_hz: frequency in Hz, a float.
        radius_m: radius of the piston (half the effective diameter of a cone) in m, a float.
        angle_deg: angle from the axis in degrees, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: level in dB, 0 on the axis, minus infinity in a null.
    Source: Beranek & Mellow, Acoustics, piston in a baffle: 20 lg |2 J1(x) / x|, x = k a sin(theta).
    Valid: -90 to 90 degrees, k a up to 20 (where the series used is good to 1e-8); far field.
    """
    require("angle", angle_deg, "°", -90, 90)
    ka = _ka(frequency_hz, radius_m, speed_m_s)
    require("k a", ka, "", 0, 20)
    size = abs(_jinc(ka * math.sin(math.radians(angle_deg))))
    return 20 * math.log10(size) if size else -math.inf


def piston_coverage_angle(frequency_hz: float, radius_m: float, speed_m_s: float = 343.2) -> float:
    """Coverage angle, between its -6 dB directions, of a rigid piston in a baffle.

    Args:
        frequency_hz: frequency in Hz, a float.
        radius_m: radius of the piston in m, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: full angle in degrees.
    Source: Beranek & Mellow, Acoustics: 2 asin(2.2151 / (k a)).
    Valid: k a from 2.2151; below, no direction in front of the baffle is 6 dB down.
    """
    ka = _ka(frequency_hz, radius_m, speed_m_s)
    require("k a", ka, "", PISTON_MINUS_6_DB)
    return 2 * math.degrees(math.asin(PISTON_MINUS_6_DB / ka))


def coverage_in_band(nominal_deg: float, frequency_hz: float, mouth_m: float) -> float:
    """Coverage angle at a frequency, where a horn too small for it lets the beam widen.

    Args:
        nominal_deg: nominal coverage angle in one plane in degrees, a float.
        frequency_hz: frequency in Hz, a float.
        mouth_m: size of the horn's mouth in the same plane in m, a float; of an unknown box its outer size.
    Returns: full angle in degrees: the nominal one, or 25400 / (f x) where that is wider, at most 360 (all round).
    Source: D. B. Keele, What's so sacred about exponential horns?, AES preprint 1038, 1975 (from memory): a horn
        holds its angle down to f = 10^6 / (theta x), x in inches.
    Valid: above 0, nominal angle up to 360 degrees. An estimate; measured angles by band are better.
    """
    require("nominal coverage", nominal_deg, "°", 0, 360, above=True)
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("mouth", mouth_m, "m", 0, above=True)
    return min(max(nominal_deg, BEAMWIDTH_DEG_HZ_M / (frequency_hz * mouth_m)), 360.0)


def _ka(frequency_hz: float, radius_m: float, speed_m_s: float) -> float:
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("radius", radius_m, "m", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return 2 * math.pi * frequency_hz * radius_m / speed_m_s


def _jinc(x: float) -> float:
    """2 J1(x) / x by its power series (Abramowitz & Stegun 9.1.10)."""
    term = total = 1.0
    for k in range(1, 60):
        term *= -(x * x / 4) / (k * (k + 1))
        total += term
    return total
