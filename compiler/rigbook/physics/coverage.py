"""Coverage on the ground: widths, angles and edges by trigonometry."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require


def coverage_width(coverage_deg: float, distance_m: float) -> float:
    """Width covered at a distance, on a plane square to the axis.

    Args:
        coverage_deg: coverage angle (-6 dB to -6 dB) in degrees, a float.
        distance_m: distance along the axis in m, a float.
    Returns: width in m.
    Source: trigonometry, 2 d tan(theta / 2).
    Valid: angle above 0 and below 180 degrees, distance from 0 m.
    """
    require("coverage", coverage_deg, "°", 0, 179.9, above=True)
    require("distance", distance_m, "m", 0)
    return 2 * distance_m * math.tan(math.radians(coverage_deg / 2))


def coverage_angle(width_m: float, distance_m: float) -> float:
    """Coverage angle needed for a width at a distance.

    Args:
        width_m: width square to the axis in m, a float.
        distance_m: distance along the axis in m, a float.
    Returns: full angle in degrees.
    Source: trigonometry, 2 atan(w / (2 d)).
    Valid: width from 0 m, distance above 0 m.
    """
    require("width", width_m, "m", 0)
    require("distance", distance_m, "m", 0, above=True)
    return 2 * math.degrees(math.atan(width_m / (2 * distance_m)))


def down_tilt(height_m: float, ear_height_m: float, distance_m: float) -> float:
    """Tilt that aims a box at an ear.

    Args:
        height_m: height of the box in m, a float.
        ear_height_m: height of the ear in m, a float.
        distance_m: distance along the ground in m, a float.
    Returns: tilt in degrees, positive downwards.
    Source: trigonometry, atan((h - e) / d).
    Valid: distance above 0 m.
    """
    require("distance", distance_m, "m", 0, above=True)
    require("height above the ear", height_m - ear_height_m, "m")
    return math.degrees(math.atan2(height_m - ear_height_m, distance_m))


def coverage_edges(
    height_m: float, ear_height_m: float, down_tilt_deg: float, vertical_deg: float
) -> tuple[float | None, float | None]:
    """Where the vertical coverage of a box above the audience meets the plane of the ears.

    Args:
        height_m: height of the box in m, a float.
        ear_height_m: height of the plane of the ears in m, a float.
        down_tilt_deg: tilt of the axis in degrees, positive downwards, a float.
        vertical_deg: vertical coverage angle in degrees, a float.
    Returns: near and far edge as distances along the ground in m; negative behind the box. None for an edge that looks
        up or level: no near edge, nothing is covered; no far edge, the coverage has no end.
    Source: trigonometry, (h - e) / tan(tilt +- V/2).
    Valid: box above the ears, tilt -90 to 90 degrees, coverage above 0 and up to 180 degrees.
    """
    drop_m = height_m - ear_height_m
    require("height above the ear", drop_m, "m", 0, above=True)
    require("tilt", down_tilt_deg, "°", -90, 90)
    require("vertical coverage", vertical_deg, "°", 0, 180, above=True)
    half = vertical_deg / 2
    return _meets(drop_m, down_tilt_deg + half), _meets(drop_m, down_tilt_deg - half)


def _meets(drop_m: float, below_level_deg: float) -> float | None:
    if not 0 < below_level_deg < 180:
        return None
    return drop_m / math.tan(math.radians(below_level_deg))
