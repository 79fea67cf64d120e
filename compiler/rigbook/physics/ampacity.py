"""What copper conductors carry without their insulation getting too warm: printed tables and their factors.

Tables of a standard, not a design: bends, fuses, fault currents, sun and rolled-up cables are left out, and local codes
decide.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from rigbook.physics._numeric import require
from rigbook.physics.errors import OutOfRange

Row = tuple[float, ...]

METHODS: Final = ("A1", "A2", "B1", "B2", "C", "E")
"""Reference methods of IEC 60364-5-52, table B.52.1: A1, A2 conductors or a cable in conduit in an insulating wall;
B1, B2 in conduit or trunking on a wall; C on a surface; E in free air.
"""

AREAS_MM2: Final = (1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0)

TWO_LOADED: Final[Mapping[str, Row]] = MappingProxyType(
    {
        "A1": (14.5, 19.5, 26, 34, 46, 61, 80, 99, 119, 151, 182, 210),
        "A2": (14, 18.5, 25, 32, 43, 57, 75, 92, 110, 139, 167, 192),
        "B1": (17.5, 24, 32, 41, 57, 76, 101, 125, 151, 192, 232, 269),
        "B2": (16.5, 23, 30, 38, 52, 69, 90, 111, 133, 168, 201, 232),
        "C": (19.5, 27, 36, 46, 63, 85, 112, 138, 168, 213, 258, 299),
        "E": (22, 30, 40, 51, 70, 94, 119, 148, 180, 232, 282, 328),
    }
)
THREE_LOADED: Final[Mapping[str, Row]] = MappingProxyType(
    {
        "A1": (13.5, 18, 24, 31, 42, 56, 73, 89, 108, 136, 164, 188),
        "A2": (13, 17.5, 23, 29, 39, 52, 68, 83, 99, 125, 150, 172),
        "B1": (15.5, 21, 28, 36, 50, 68, 89, 110, 134, 171, 207, 239),
        "B2": (15, 20, 27, 34, 46, 62, 80, 99, 118, 149, 179, 206),
        "C": (17.5, 24, 32, 41, 57, 76, 96, 119, 144, 184, 223, 259),
        "E": (18.5, 25, 34, 43, 60, 80, 101, 126, 153, 196, 238, 276),
    }
)
"""A for copper in PVC (70 °C), air at 30 °C: IEC 60364-5-52:2009, tables B.52.2, B.52.4 and B.52.10 (from memory)."""

THIN_MM2: Final = (0.5, 0.75, 1.0, 1.25)
THIN_A: Final = (3.0, 6.0, 10.0, 13.0)
"""Flexible cords: BS 7671, table 4F3A (from memory); however they are laid."""

GAUGE_A: Final[Mapping[int, float]] = MappingProxyType(
    dict(
        zip(
            (18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3),
            (7, 10, 15, 20, 30, 40, 55, 70, 85, 95, 110, 125, 145, 165, 195),
            strict=True,
        )
    )
)
"""A by wire gauge at 60 °C and air at 30 °C: NEC (NFPA 70) 310.16, copper, 60 °C column, as far as 14 AWG; 18 and 16
AWG are flexible cords of three loaded conductors, 400.5(A)(1) column A (all from memory).
"""

TOGETHER: Final[Row] = (1.0, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50)
"""By the number of loaded circuits bunched: IEC 60364-5-52:2009, table B.52.17, item 1 (from memory)."""


def ampacity(area_mm2: float, method: str = "C", loaded: Literal[2, 3] = 2) -> float:
    """Current that a copper cable with PVC insulation carries for long, air at 30 °C, no other beside it.

    Args:
        area_mm2: nominal area of one core, mm²; between two printed areas the lower counts.
        method: kind of installation, one of `METHODS`.
        loaded: number of cores that carry current: 2, or 3 of a three-phase cable.
    Returns: A.
    Source: IEC 60364-5-52:2009, tables B.52.2, B.52.4, B.52.10; below 1.5 mm² BS 7671, table 4F3A (both from memory).
    Valid: 0.5 to 120 mm², the methods named, 2 or 3 cores; another raises `OutOfRange` or `KeyError`.
    Errata: a flexible rubber cable may have a table of its own, a little above or below.
    """
    require("conductor area", area_mm2, "mm²", THIN_MM2[0], AREAS_MM2[-1])
    if loaded not in (2, 3):
        raise OutOfRange("number of loaded cores", loaded, "", (2, 3))
    row = (TWO_LOADED if loaded == 2 else THREE_LOADED)[method]
    areas, amps = (AREAS_MM2, row) if area_mm2 >= AREAS_MM2[0] else (THIN_MM2, THIN_A)
    return float(next(a for area, a in reversed(tuple(zip(areas, amps, strict=True))) if area <= area_mm2))


def gauge_ampacity(awg: int) -> float:
    """Current that copper wire of a gauge carries for long, air at 30 °C, no more than three loaded together.

    Args:
        awg: American wire gauge (AWG), counted as in `conductors.awg_diameter`.
    Returns: A.
    Source: NEC (NFPA 70) 310.16, 60 °C column; 18 and 16 AWG 400.5(A)(1), column A (from memory).
    Valid: 18 to 4/0 (-3), the gauges printed; another counts as the next thinner one.
    Errata: flexible cords with two loaded conductors are allowed more (400.5(A)(1), column B).
    """
    require("wire gauge", awg, "AWG", min(GAUGE_A), max(GAUGE_A))
    return float(next(GAUGE_A[n] for n in sorted(GAUGE_A) if n >= awg))


def air_factor(air_c: float, insulation_c: float = 70.0) -> float:
    """Factor of the current for air that is not at 30 °C.

    Args:
        air_c: temperature of the air, °C.
        insulation_c: temperature that the insulation bears, °C: 70 of PVC, 60 of the gauges' column.
    Returns: ratio; above 1 in cooler air.
    Source: heat is lost in proportion to the difference of temperatures, √((ti - t)/(ti - 30)); rounded it is IEC
        60364-5-52, table B.52.14, and NEC 310.15(B)(1), whose rows it meets within 0.01.
    Valid: -40 °C to 5 degrees below the insulation's temperature.
    """
    require("temperature of the insulation", insulation_c, "°C", 40, 120)
    require("temperature of the air", air_c, "°C", -40, insulation_c - 5)
    return math.sqrt((insulation_c - air_c) / (insulation_c - 30))


def group_factor(cables: int) -> float:
    """Factor of the current for loaded cables that lie in a bunch.

    Args:
        cables: number of loaded cables lying together.
    Returns: ratio.
    Source: IEC 60364-5-52:2009, table B.52.17, item 1: bunched in air, on a surface, enclosed (from memory).
    Valid: 1 to 9; the table goes on with fewer steps.
    """
    require("number of cables", cables, "", 1, len(TOGETHER))
    return TOGETHER[int(cables) - 1]


def worst_phase_drop(ohm_per_m: float, length_m: float, here_a: float, others_a: float, supply_volts: float) -> float:
    """Voltage lost between one phase and neutral of a three-phase cable with unlike loads.

    Args:
        ohm_per_m: resistance of one core at its temperature, the neutral's being the same, Ω/m.
        length_m: length of the cable, m.
        here_a: current in this phase, A rms.
        others_a: sum of the currents in the other two, A rms.
        supply_volts: voltage from line to neutral, V rms.
    Returns: share of the supply voltage, 0 to 1; below 0 where the others lift this phase.
    Source: phasors 120° apart: the neutral carries the sum, of which `here_a` less half of the others is in phase:
        L·R'·(2·Ia - (Ib + Ic)/2). For like loads L·R'·I, for one phase alone 2·L·R'·I, as in IEC 60364-5-52, annex G.
    Valid: loads of one power factor, without harmonics; reactance left out, which common practice accepts up to 35 mm².
    """
    require("conductor resistance", ohm_per_m, "Ω/m", 0, above=True)
    require("cable length", length_m, "m", 0)
    require("current", here_a, "A", 0)
    require("current", others_a, "A", 0)
    require("supply voltage", supply_volts, "V", 0, above=True)
    return length_m * ohm_per_m * (2 * here_a - others_a / 2) / supply_volts
