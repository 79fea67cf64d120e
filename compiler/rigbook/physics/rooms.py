"""Rooms: absorption, reverberation time, critical distance and the level in a diffuse field."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from rigbook.physics._numeric import require

_DECAY: Final = 24 * math.log(10)
"""The 55.3 of T = 55.3 V / (c A): a decay of 60 dB (6 ln 10) over the mean free path 4 V / S."""


def absorption_area(surfaces: Iterable[tuple[float, float]]) -> float:
    """Equivalent absorption area of a room's surfaces.

    Args:
        surfaces: pairs of area in m² and absorption coefficient; for persons, how many and m² for each.
    Returns: area in m².
    Source: EN 12354-6:2003, formula (1) (number from memory): A = sum S alpha.
    Valid: areas and coefficients from 0. Coefficients measured by ISO 354 may be somewhat above 1.
    """
    total = 0.0
    for area_m2, coefficient in surfaces:
        require("area", area_m2, "m²", 0)
        require("absorption coefficient", coefficient, "", 0, 1.5)
        total += area_m2 * coefficient
    return total


def air_absorption_area(volume_m3: float, exponent_1_m: float) -> float:
    """Equivalent absorption area of the air in a room.

    Args:
        volume_m3: volume of the room in m³, a float.
        exponent_1_m: power attenuation coefficient of the air in 1/m (`air_absorption.attenuation_exponent`), a float.
    Returns: area in m².
    Source: EN 12354-6:2003, formula (2) (number from memory): A = 4 m V, for an empty room.
    Valid: volume above 0 m³, coefficient from 0.
    """
    require("volume", volume_m3, "m³", 0, above=True)
    require("air attenuation", exponent_1_m, "1/m", 0)
    return 4 * exponent_1_m * volume_m3


def sabine_time(volume_m3: float, absorption_area_m2: float, speed_m_s: float = 343.2) -> float:
    """Reverberation time by Sabine.

    Args:
        volume_m3: volume of the room in m³, a float.
        absorption_area_m2: equivalent absorption area, that of the air included, in m², a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: time for a decay of 60 dB in s.
    Source: W. C. Sabine 1898; T = 24 ln 10 V / (c A), 0.161 V/A (EN 12354-6:2003 writes 55.3/c0 V/A).
    Valid: above 0; a diffuse field, thus a mean coefficient up to about 0.2 (common practice).
    """
    require("volume", volume_m3, "m³", 0, above=True)
    require("absorption area", absorption_area_m2, "m²", 0, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return _DECAY * volume_m3 / (speed_m_s * absorption_area_m2)


def eyring_time(volume_m3: float, surface_m2: float, mean_coefficient: float, speed_m_s: float = 343.2) -> float:
    """Reverberation time by Eyring, for rooms with much absorption.

    Args:
        volume_m3: volume of the room in m³, a float.
        surface_m2: area of all surfaces in m², a float.
        mean_coefficient: mean absorption coefficient, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: time for a decay of 60 dB in s, without air absorption.
    Source: C. F. Eyring 1930; Kuttruff, Room Acoustics: T = 24 ln 10 V / (-c S ln(1 - alpha)).
    Valid: coefficient above 0 and up to 0.99; absorption spread evenly.
    """
    require("volume", volume_m3, "m³", 0, above=True)
    require("surface", surface_m2, "m²", 0, above=True)
    require("mean absorption coefficient", mean_coefficient, "", 0, 0.99, above=True)
    require("speed of sound", speed_m_s, "m/s", 0, above=True)
    return _DECAY * volume_m3 / (-speed_m_s * surface_m2 * math.log1p(-mean_coefficient))


def room_constant(surface_m2: float, mean_coefficient: float) -> float:
    """Room constant, the absorption area that the reverberant field sees.

    Args:
        surface_m2: area of all surfaces in m², a float.
        mean_coefficient: mean absorption coefficient, a float.
    Returns: constant in m².
    Source: Bies, Hansen & Howard, Engineering Noise Control, 5th ed., (6.44): R = S alpha / (1 - alpha).
    Valid: surface above 0 m², coefficient from 0 to 0.99.
    """
    require("surface", surface_m2, "m²", 0, above=True)
    require("mean absorption coefficient", mean_coefficient, "", 0, 0.99)
    return surface_m2 * mean_coefficient / (1 - mean_coefficient)


MOST_CUBES: Final = 2.0
"""Surface of a room over that of a cube of its volume: 40 x 20 x 5 m has 1.8 times as much."""


def critical_distance(directivity_factor: float, absorption_m2: float) -> float:
    """Distance at which the direct and the reverberant level are equal, from absorption.

    Args:
        directivity_factor: directivity factor Q of the source, a float.
        absorption_m2: absorption area S alpha, or the room constant R, in m², a float; say on the page which.
    Returns: distance in m.
    Source: Bies, Hansen & Howard (6.43), sqrt(Q R / (16 pi)); Ballou (ed.), Handbook for Sound Engineers, ch. 34,
        0.141 sqrt(Q S alpha).
    Valid: directivity factor and absorption above 0; a diffuse field.
    Errata: the two sources mean different absorptions; for one room in Ballou they give 31.2 ft and 38.7 ft.
    """
    require("directivity factor", directivity_factor, "", 0, above=True)
    require("absorption", absorption_m2, "m²", 0, above=True)
    return math.sqrt(directivity_factor * absorption_m2 / (16 * math.pi))


def critical_distance_from_time(
    directivity_factor: float, volume_m3: float, reverberation_time_s: float, speed_m_s: float = 343.2
) -> float:
    """Distance at which the direct and the reverberant level are equal, from the reverberation time.

    Args:
        directivity_factor: directivity factor Q of the source, a float.
        volume_m3: volume of the room in m³, a float.
        reverberation_time_s: reverberation time in s, a float.
        speed_m_s: speed of sound in m/s, a float.
    Returns: distance in m.
    Source: Kuttruff, Room Acoustics, (5.44): 0.057 sqrt(Q V / T), with the absorption area of Sabine.
    Valid: all above 0; a diffuse field, so no time so short that the room would absorb more than twice the surface
        of a cube of its volume (a flat hall has twice that of a cube).
    """
    require("reverberation time", reverberation_time_s, "s", 0, above=True)
    require("room volume", volume_m3, "m³", 0, above=True)
    least_s = sabine_time(volume_m3, MOST_CUBES * 6 * volume_m3 ** (2 / 3), speed_m_s)
    require("reverberation time", reverberation_time_s, "s", round(least_s, 4))
    area_m2 = sabine_time(volume_m3, reverberation_time_s, speed_m_s)  # A and T change places in Sabine's formula
    return critical_distance(directivity_factor, area_m2)


def steady_level(power_level_db: float, directivity_factor: float, distance_m: float, room_constant_m2: float) -> float:
    """Level of a steady source in a room, direct and reverberant together.

    Args:
        power_level_db: sound power level in dB re 1 pW, a float.
        directivity_factor: directivity factor Q towards the listener, a float.
        distance_m: distance from the source in m, a float.
        room_constant_m2: room constant in m², a float.
    Returns: level in dB re 20 µPa.
    Source: Bies, Hansen & Howard (6.43): Lw + 10 lg(Q / (4 pi r^2) + 4 / R).
    Valid: all but the level above 0; a diffuse field.
    """
    require("directivity factor", directivity_factor, "", 0, above=True)
    require("distance", distance_m, "m", 0, above=True)
    require("room constant", room_constant_m2, "m²", 0, above=True)
    direct = directivity_factor / (4 * math.pi * distance_m**2)
    return power_level_db + 10 * math.log10(direct + 4 / room_constant_m2)


def direct_to_reverberant(distance_m: float, critical_distance_m: float) -> float:
    """Direct level over the reverberant level.

    Args:
        distance_m: distance from the source in m, a float.
        critical_distance_m: critical distance in m, a float.
    Returns: difference in dB, 0 at the critical distance, negative beyond.
    Source: quotient of the two terms of Bies, Hansen & Howard (6.43): 20 lg(rc / r).
    Valid: distances above 0 m.
    """
    require("distance", distance_m, "m", 0, above=True)
    require("critical distance", critical_distance_m, "m", 0, above=True)
    return 20 * math.log10(critical_distance_m / distance_m)


def schroeder_frequency(reverberation_time_s: float, volume_m3: float) -> float:
    """Frequency below which single room modes stand out and the formulas of this file say little.

    Args:
        reverberation_time_s: reverberation time in s, a float.
        volume_m3: volume of the room in m³, a float.
    Returns: frequency in Hz.
    Source: Kuttruff, Room Acoustics, 6th ed., p. 68: 2000 sqrt(T / V).
    Valid: above 0.
    """
    require("reverberation time", reverberation_time_s, "s", 0, above=True)
    require("volume", volume_m3, "m³", 0, above=True)
    return 2000 * math.sqrt(reverberation_time_s / volume_m3)
