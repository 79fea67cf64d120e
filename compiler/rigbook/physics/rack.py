"""The 19-inch rack: height of its units, width of its panel, places of its holes."""

from __future__ import annotations

from typing import Final

from rigbook.physics._numeric import require

RACK_UNIT_M: Final = 0.04445
"""Height of one unit, 1.75 inch: IEC 60297-3-100; EIA-310."""

PANEL_WIDTH_M: Final = 0.4826
"""Width of a panel, 19 inch: IEC 60297-3-100; EIA-310."""

HOLE_PITCH_M: Final = (0.015875, 0.015875, 0.0127)
"""Distances between hole centres within a unit and on to the next, bottom to top: IEC 60297; EIA-310 (universal)."""

HOLES_ACROSS_M: Final = 0.4651
"""Distance of the hole centres across: EIA-310."""


def rack_height(units: int) -> float:
    """Height of a number of rack units.

    Args:
        units: number of units.
    Returns: m.
    Source: IEC 60297-3-100; EIA-310: 44.45 mm each.
    Valid: zero or more.
    """
    require("number of rack units", units, "", 0)
    return units * RACK_UNIT_M


def hole_heights(unit: int) -> tuple[float, float, float]:
    """Heights of the three holes of a rack unit.

    Args:
        unit: the unit, counted from 1 at the bottom.
    Returns: m above the lower edge of unit 1, lowest first.
    Source: EIA-310 (universal spacing): half of the 12.7 mm pitch lies on either side of a unit's edge.
    Valid: 1 to 100.
    """
    require("rack unit", unit, "", 1, 100)
    lowest = rack_height(unit - 1) + HOLE_PITCH_M[2] / 2
    return lowest, lowest + HOLE_PITCH_M[0], lowest + HOLE_PITCH_M[0] + HOLE_PITCH_M[1]
