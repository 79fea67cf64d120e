"""Sound on its way: travel time and distance, wavelength, phase, samples."""

from __future__ import annotations

from typing import TYPE_CHECKING, overload

from rigbook.physics._numeric import require

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values


@overload
def travel_time(distance_m: float, speed_m_s: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def travel_time(distance_m: Values, speed_m_s: float) -> Array: ...
def travel_time(distance_m: Values, speed_m_s: float) -> Values:
    """Time sound takes over a distance.

    Args:
        distance_m: length of the path in m, float or array.
        speed_m_s: speed of sound in m/s, a float.
    Returns: Time in s.
    Source: Definition, t = d / c.
    Valid: Distance from 0 m, speed above 0 m/s.
    """
    require("distance", distance_m, "m", 0)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return distance_m / speed_m_s


def travel_distance(delay_s: float, speed_m_s: float) -> float:
    """Distance (or path difference) that sound covers in a time.

    Args:
        delay_s: time in s, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: Distance in m.
    Source: Definition, d = c t.
    Valid: Time from 0 s, speed above 0 m/s.
    """
    require("delay", delay_s, "s", 0)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return speed_m_s * delay_s


def wavelength(frequency_hz: float, speed_m_s: float) -> float:
    """Wavelength of a tone.

    Args:
        frequency_hz: frequency in Hz, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: Wavelength in m.
    Source: Definition, lambda = c / f.
    Valid: Frequency and speed above 0.
    """
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return speed_m_s / frequency_hz


@overload
def phase_shift(frequency_hz: float, delay_s: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def phase_shift(frequency_hz: Values, delay_s: Values) -> Array: ...
def phase_shift(frequency_hz: Values, delay_s: Values) -> Values:
    """Phase by which a delay turns a tone.

    Args:
        frequency_hz: frequency in Hz, float or array; both broadcast.
        delay_s: delay in s, float or array.
    Returns: Phase in degrees, from 0 to below 360.
    Source: Definition, phi = 360 f t, wrapped.
    Valid: Frequency above 0 Hz, delay from 0 s.
    """
    require("frequency", frequency_hz, "Hz", 0, above=True)
    require("delay", delay_s, "s", 0)
    return 360.0 * frequency_hz * delay_s % 360.0


def delay_in_samples(delay_s: float, sample_rate_hz: float) -> float:
    """Delay as a number of samples, not rounded.

    Args:
        delay_s: delay in s, a float.
        sample_rate_hz: sample rate in Hz, a float.
    Returns: Samples, a float; a device that only takes whole samples rounds it.
    Source: Definition, n = f_s t.
    Valid: Delay from 0 s, sample rate above 0 Hz.
    """
    require("delay", delay_s, "s", 0)
    require("sample rate", sample_rate_hz, "Hz", 0, above=True)
    return delay_s * sample_rate_hz
