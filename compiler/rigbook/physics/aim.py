"""Aim: where a box points, and at which angles and distance of it a listener is.

Axes as in a plan: x to house right, y out towards the audience, z up. Aim 0 is straight out, positive to house right,
180 upstage; tilt is positive upwards. Points are three floats or an array whose last axis holds x, y, z.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias, overload

from rigbook.physics._numeric import atan2, cos, hypot, require, sin

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Point, Values

    Vector: TypeAlias = tuple[Values, Values, Values]

_TO_DEG = 180 / math.pi


def aim_at(position_m: Sequence[float], target_m: Sequence[float]) -> tuple[float, float]:
    """Aim and tilt that point a box at a place.

    Args:
        position_m: place of the box in m, three floats.
        target_m: place it points at in m, three floats.
    Returns: aim (0 out, positive to house right) and tilt (positive upwards) in degrees.
    Source: vector geometry.
    Valid: two places apart. Straight up or down leaves the aim at 0.
    """
    x, y, z = (float(there) - float(here) for here, there in zip(position_m, target_m))
    require("distance to the target", math.hypot(x, y, z), "m", 0, above=True)
    return math.degrees(math.atan2(x, y)), math.degrees(math.atan2(z, math.hypot(x, y)))


@overload
def distance_between(position_m: Sequence[float], listener_m: Sequence[float]) -> float: ...
@overload
def distance_between(position_m: Sequence[float], listener_m: Array) -> Array: ...
def distance_between(position_m: Sequence[float], listener_m: Point) -> Values:
    """Distance from a box to a listener.

    Args:
        position_m: place of the box in m, three floats.
        listener_m: place of the listener in m, three floats or an array (..., 3).
    Returns: distance in m, a float or an array (...).
    Source: vector geometry.
    Valid: all places.
    """
    x, y, z = _between(position_m, listener_m)
    return hypot(hypot(x, y), z)


@overload
def off_axis_angle(position_m: Sequence[float], target_m: Sequence[float], listener_m: Sequence[float]) -> float: ...
@overload
def off_axis_angle(position_m: Sequence[float], target_m: Sequence[float], listener_m: Array) -> Array: ...
def off_axis_angle(position_m: Sequence[float], target_m: Sequence[float], listener_m: Point) -> Values:
    """Angle between the axis of a box and a listener, in space.

    Args:
        position_m: place of the box in m, three floats.
        target_m: place it points at in m, three floats.
        listener_m: place of the listener in m, three floats or an array (..., 3).
    Returns: angle in degrees, 0 to 180, a float or an array (...).
    Source: vector geometry, acos(a.b / |a||b|), here by components, which keeps small angles exact.
    Valid: target apart from the box.
    """
    aim_deg, tilt_deg = aim_at(position_m, target_m)
    right, up, out = _in_frame(_between(position_m, listener_m), aim_deg, tilt_deg)
    return atan2(hypot(right, up), out) * _TO_DEG


@overload
def listener_angles(
    position_m: Sequence[float],
    aim_deg: float,
    tilt_deg: float,
    listener_m: Sequence[float],
    roll_deg: float = ...,
) -> tuple[float, float]: ...
@overload
def listener_angles(
    position_m: Sequence[float], aim_deg: float, tilt_deg: float, listener_m: Array, roll_deg: float = ...
) -> tuple[Array, Array]: ...
def listener_angles(
    position_m: Sequence[float],
    aim_deg: float,
    tilt_deg: float,
    listener_m: Point,
    roll_deg: float = 0.0,
) -> tuple[Values, Values]:
    """Horizontal and vertical angle of a listener in the frame of an aimed, tilted and turned box.

    Args:
        position_m: place of the box in m, three floats.
        aim_deg: aim in degrees, 0 out, positive to house right.
        tilt_deg: tilt in degrees, positive upwards.
        listener_m: place of the listener in m, three floats or an array (..., 3).
        roll_deg: turn of the box about its own axis in degrees; 90 lays it on its side, so that its horizontal
            coverage stands upright.
    Returns: the angle from the axis split into its horizontal and vertical component in the box's frame, in degrees:
        their root of squares is the angle from the axis (azimuthal equidistant projection, which stays even behind
        the box, where azimuth and elevation do not).
    Source: vector geometry.
    Valid: aim -360 to 360, tilt -90 to 90, roll -360 to 360 degrees.
    """
    require("aim", aim_deg, "°", -360, 360)
    require("tilt", tilt_deg, "°", -90, 90)
    require("turn about the axis", roll_deg, "°", -360, 360)
    right, up, out = _in_frame(_between(position_m, listener_m), aim_deg, tilt_deg)
    from_axis = atan2(hypot(right, up), out) * _TO_DEG
    around = atan2(up, right) - math.radians(roll_deg)
    return from_axis * cos(around), from_axis * sin(around)


def _between(position_m: Sequence[float], listener_m: Point) -> Vector:
    px, py, pz = position_m
    if isinstance(listener_m, Sequence):
        x, y, z = listener_m
        return x - px, y - py, z - pz
    return listener_m[..., 0] - px, listener_m[..., 1] - py, listener_m[..., 2] - pz


def _in_frame(vector: Vector, aim_deg: float, tilt_deg: float) -> Vector:
    """Components of a vector to the right, up and along the axis of a box that stands upright."""
    x, y, z = vector
    a, t = math.radians(aim_deg), math.radians(tilt_deg)
    level = x * math.sin(a) + y * math.cos(a)
    right = x * math.cos(a) - y * math.sin(a)
    return right, z * math.cos(t) - level * math.sin(t), level * math.cos(t) + z * math.sin(t)
