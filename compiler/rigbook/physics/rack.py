"""The 19-inch rack: size of a panel and places of its holes."""

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
    Returns: m. A real panel is a little lower, so that it goes in.
    Source: IEC 60297-3-100; EIA-310: 44.45 mm each.
    Valid: zero or more.
    """
    require("number of rack units", units, "", 0)
    return units * RACK_UNIT_M


def panel_size(units: int) -> tuple[float, float]:
    """Outline of a panel.

    Args:
        units: number of units.
    Returns: width and height, m.
    Source: IEC 60297-3-100; EIA-310: 482.6 mm by 44.45 mm a unit.
    Valid: one or more.
    """
    require("number of rack units", units, "", 1)
    return PANEL_WIDTH_M, rack_height(units)


def hole_centres(unit: int) -> tuple[tuple[float, float], ...]:
    """Centres of the six holes of a rack unit, seen from the front.

    Args:
        unit: number of the rack unit (U), counted from 1 at the bottom.
    Returns: (x, y) in m from the lower left corner of unit 1's panel: the left three from the bottom up, then the
        right three.
    Source: EIA-310 (universal spacing, 465.1 mm across): half of the 12.7 mm pitch lies on either side of an edge.
    Valid: 1 to 100.
    """
    require("rack unit", unit, "", 1, 100)
    left = (PANEL_WIDTH_M - HOLES_ACROSS_M) / 2
    low = rack_height(unit - 1) + HOLE_PITCH_M[2] / 2
    heights = (low, low + HOLE_PITCH_M[0], low + HOLE_PITCH_M[0] + HOLE_PITCH_M[1])
    return tuple((x, y) for x in (left, left + HOLES_ACROSS_M) for y in heights)
