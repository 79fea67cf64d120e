"""Arrays of equal loudspeakers in the far field: rows, end-fire rows and gradient pairs."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require


def spacing_limit(spacing_m: float, speed_m_s: float, wavelengths: float = 0.5) -> float:
    """Highest frequency at which the spacing of a row stays below a part of the wavelength.

    Args:
        spacing_m: distance between the middles of two neighbours in m, a float.
        speed_m_s: speed of sound in m/s, a float.
        wavelengths: ratio to the wavelength; 1/2 or 2/3 are common practice.
    Returns: frequency in Hz; above it side lobes grow as loud as the main one.
    Source: array theory, f = n c / d; where to stop is common practice.
    Valid: above 0.
    """
    require("spacing", spacing_m, "m", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    require("part of a wavelength", wavelengths, "", 0, above=True)
    return wavelengths * speed_m_s / spacing_m


def row_response(count: int, spacing_m: float, frequency_hz: float, angle_deg: float, speed_m_s: float) -> float:
    """Level of a straight row of equal sources in phase, against its broadside.

    Args:
        count: number of sources (2 for a pair side by side).
        spacing_m: distance between neighbours in m, a float.
        frequency_hz: frequency in Hz, a float.
        angle_deg: angle from broadside in degrees, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: level in dB, 0 at broadside, minus infinity or very low in a null.
    Source: array theory: 20 lg |sin(N psi / 2) / (N sin(psi / 2))|, psi = 2 pi d sin(theta) / lambda.
    Valid: from one source on; far field, thus farther away than some lengths of the row.
    """
    phase = _phase(spacing_m, frequency_hz, speed_m_s) * math.sin(math.radians(angle_deg))
    return _sum_of_steps(count, phase)


def end_fire_delays(count: int, spacing_m: float, speed_m_s: float) -> tuple[float, ...]:
    """Delays of an end-fire row.

    Args:
        count: number of sources.
        spacing_m: distance between neighbours in m, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: delay in s of each source, from the rear one (0) to the one nearest to the audience (the longest).
    Source: array theory: each step is d / c.
    Valid: from one source on, spacing and speed above 0.
    """
    require("number of sources", count, "", 1)
    require("spacing", spacing_m, "m", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return tuple(place * spacing_m / speed_m_s for place in range(count))


def end_fire_response(count: int, spacing_m: float, frequency_hz: float, angle_deg: float, speed_m_s: float) -> float:
    """Level of an end-fire row with the delays of `end_fire_delays`, against its front.

    Args:
        count: number of sources.
        spacing_m: distance between neighbours in m, a float.
        frequency_hz: frequency in Hz, a float.
        angle_deg: angle from the front in degrees, 180 to the rear.
        speed_m_s: speed of sound in m/s, a float.
    Returns: level in dB, 0 in front, minus infinity or very low in a null.
    Source: array theory: as `row_response` with psi = 2 pi d (1 - cos(theta)) / lambda.
    Valid: from one source on; far field.
    """
    phase = _phase(spacing_m, frequency_hz, speed_m_s) * (1 - math.cos(math.radians(angle_deg)))
    return _sum_of_steps(count, phase)


def gradient_response(spacing_m: float, frequency_hz: float, angle_deg: float, speed_m_s: float) -> float:
    """Level of a gradient pair, against one of its sources alone.

    The rear source is inverted and delayed by the spacing, which cancels to the rear at every frequency.

    Args:
        spacing_m: distance between the two in m, a float.
        frequency_hz: frequency in Hz, a float.
        angle_deg: angle from the front in degrees, 180 to the rear.
        speed_m_s: speed of sound in m/s, a float.
    Returns: level in dB, minus infinity in the null to the rear.
    Source: first-order gradient array: 20 lg (2 sin(k d (1 + cos(theta)) / 2)); in front 20 lg(2 sin(2 pi f d / c)).
    Valid: far field; sources equal and small. Its front has a null at f = c / (2 d), so use it well below.
    """
    phase = _phase(spacing_m, frequency_hz, speed_m_s) * (1 + math.cos(math.radians(angle_deg)))
    size = abs(2 * math.sin(phase / 2))
    return 20 * math.log10(size) if size else -math.inf


def _phase(spacing_m: float, frequency_hz: float, speed_m_s: float) -> float:
    """Phase over the spacing in radians, k d."""
    require("spacing", spacing_m, "m", 0, above=True)
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return 2 * math.pi * frequency_hz * spacing_m / speed_m_s


def _sum_of_steps(count: int, phase: float) -> float:
    """Level of `count` equal phasors, each turned by `phase` against the last, over their sum in phase."""
    require("number of sources", count, "", 1)
    below = count * math.sin(phase / 2)
    # At full turns (broadside, grating lobes) the quotient is 0/0 and its limit is one.
    size = 1.0 if abs(below) < 1e-9 else abs(math.sin(count * phase / 2) / below)
    return 20 * math.log10(size) if size else -math.inf
