"""Precedence: how the ear takes a second arrival, and the delay that keeps the stage first."""

from __future__ import annotations

from typing import Final, Literal

from rigbook.physics._numeric import require
from rigbook.physics.travel import travel_time
from rigbook.records import frozen


@frozen
class PrecedenceWindow:
    """Edges of the regions of a second arrival, in seconds and decibels.

    Source: H. Haas 1951, as drawn in Everest, Master Handbook of Acoustics, 4th ed., fig. 3-19. Speech, one echo,
    a pair of loudspeakers; music bears longer delays. Edges of a gradual change.
    """

    fusion_from_s: float = 0.005
    fusion_to_s: float = 0.035
    echo_from_s: float = 0.050
    late_may_exceed_db: float = 10.0


HAAS: Final = PrecedenceWindow()

Arrival = Literal["shifts", "fuses", "blurs", "echo"]


def second_arrival(delay_s: float) -> Arrival:
    """How a second arrival of about the same level is heard.

    Args:
        delay_s: delay of the second arrival behind the first in s, a float.
    Returns: `shifts` (the image moves between the two), `fuses` (one sound, heard from where the first came), `blurs`
        (between fusion and echo), `echo` (heard apart).
    Source: H. Haas 1951, as drawn in Everest, Master Handbook of Acoustics, 4th ed., fig. 3-19: 5, 35 and 50 ms.
    Valid: from 0 s.
    """
    require("delay", delay_s, "s", 0)
    if delay_s < HAAS.fusion_from_s:
        return "shifts"
    if delay_s <= HAAS.fusion_to_s:
        return "fuses"
    return "blurs" if delay_s < HAAS.echo_from_s else "echo"


def late_level_allowed(delay_s: float) -> float:
    """Level by which a second arrival may exceed the first and still not be heard as an echo.

    Args:
        delay_s: delay of the second arrival behind the first in s, a float.
    Returns: level difference in dB.
    Source: H. Haas 1951, as drawn in Everest, Master Handbook of Acoustics, 4th ed., fig. 3-19.
    Valid: 5 to 35 ms, the region of fusion.
    """
    require("delay", delay_s, "s", HAAS.fusion_from_s, HAAS.fusion_to_s)
    return HAAS.late_may_exceed_db


def fill_delay(main_m: float, fill_m: float, speed_m_s: float, offset_s: float = 0.010) -> float:
    """Delay for a fill or delay loudspeaker, so that the main one is heard first.

    Args:
        main_m: distance from the main loudspeaker to the listener in m, a float.
        fill_m: distance from the fill to the same listener in m, a float.
        speed_m_s: speed of sound in m/s, a float.
        offset_s: time by which the fill comes later in s; 10 to 20 ms is common practice.
    Returns: delay in s; below 0 the fill is too far away to be delayed.
    Source: geometry, (d_main - d_fill) / c + offset; the offset from the precedence effect (Haas 1951).
    Valid: distances and offset from 0.
    """
    require("offset", offset_s, "s", 0)
    return travel_time(main_m, speed_m_s) - travel_time(fill_m, speed_m_s) + offset_s
