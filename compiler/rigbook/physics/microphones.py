"""Microphone patterns: what a directional microphone takes from the side and from behind."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, overload

from rigbook.physics._numeric import cos, log10, require

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

PATTERNS: Final[Mapping[str, float]] = MappingProxyType(
    {
        "omnidirectional": 1.0,
        "cardioid": 0.5,
        "supercardioid": (math.sqrt(3) - 1) / 2,
        "hypercardioid": 0.25,
        "figure of eight": 0.0,
    }
)
"""The part a that does not depend on direction, in a + (1 - a) cos(theta)."""


@overload
def pattern_response(pattern: str, angle_deg: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def pattern_response(pattern: str, angle_deg: Values) -> Array: ...
def pattern_response(pattern: str, angle_deg: Values) -> Values:
    """Response of an ideal first-order microphone beside its axis.

    Args:
        pattern: a key of `PATTERNS`.
        angle_deg: angle from the axis in degrees, float or array.
    Returns: response in dB, 0 on the axis, minus infinity or very low in a null.
    Source: J. Eargle, The Microphone Book, table of first-order patterns (from memory): 20 lg |a + (1 - a) cos(theta)|.
    Valid: -360 to 360 degrees; another pattern raises `KeyError`. A real microphone seldom keeps more than 15 to 25 dB
        of rejection over its range (common practice): take no deeper null than that.
    """
    require("angle", angle_deg, "°", -360, 360)
    even = PATTERNS[pattern]
    pressure = even + (1 - even) * cos(angle_deg * math.pi / 180)
    return 10 * log10(pressure * pressure)


def null_angle(pattern: str) -> float | None:
    """Angle at which an ideal first-order microphone hears least.

    Args:
        pattern: a key of `PATTERNS`.
    Returns: angle from the axis in degrees, 90 to 180; None for an omnidirectional one.
    Source: as `pattern_response`: acos(-a / (1 - a)).
    Valid: as `pattern_response`.
    """
    even = PATTERNS[pattern]
    return None if even > 0.5 else math.degrees(math.acos(-even / (1 - even)))
