"""Copper conductors: resistance by area or gauge, its change with temperature, and the loop of a cable."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from rigbook.physics._numeric import require
from rigbook.physics.errors import OutOfRange

CLASS_5_OHM_PER_KM: Final[Mapping[float, float]] = MappingProxyType(
    {
        0.5: 39.0,
        0.75: 26.0,
        1.0: 19.5,
        1.5: 13.3,
        2.5: 7.98,
        4.0: 4.95,
        6.0: 3.30,
        10.0: 1.91,
        16.0: 1.21,
        25.0: 0.780,
        35.0: 0.554,
        50.0: 0.386,
        70.0: 0.272,
        95.0: 0.206,
        120.0: 0.161,
        150.0: 0.129,
        185.0: 0.106,
        240.0: 0.0801,
        300.0: 0.0641,
        400.0: 0.0486,
        500.0: 0.0384,
        630.0: 0.0287,
    }
)
"""Largest resistance of one flexible core by nominal area in mm², plain annealed copper at 20 °C.

Source: IEC 60228:2004, table 3 (class 5). The rows above 10 mm² are from memory.
"""

COPPER_OHM_MM2_PER_M: Final = 0.017241
"""Resistivity of annealed copper at 20 °C: IEC 60028:1925, 100 % IACS (1/58 Ω·mm²/m)."""

COPPER_PER_KELVIN: Final = 0.00393
"""Temperature coefficient of annealed copper at 20 °C: IEC 60028:1925; NBS Handbook 100 (1966)."""

THINNEST_AWG: Final = 40
THICKEST_AWG: Final = -3
"""0000 counts as -3."""


def standard_area(area_mm2: float) -> bool:
    """Say whether a nominal area is one of the standard's.

    Args:
        area_mm2: nominal area of one core, mm².
    Returns: true for an area printed in the table.
    Source: IEC 60228:2004, table 3.
    Valid: any number.
    """
    return area_mm2 in CLASS_5_OHM_PER_KM


def flexible_resistance(area_mm2: float) -> float:
    """Largest resistance of one metre of one flexible core at 20 °C.

    Args:
        area_mm2: nominal area of one core, mm².
    Returns: Ω/m.
    Source: IEC 60228:2004, table 3 (class 5, plain annealed copper). Between two printed areas the value is
        interpolated on logarithmic scales (ours; the standard gives none).
    Valid: 0.5 to 630 mm².
    Errata: this is the largest value allowed; a real core may have some per cent less.
    """
    areas = tuple(CLASS_5_OHM_PER_KM)
    require("conductor area", area_mm2, "mm²", areas[0], areas[-1])
    if standard_area(area_mm2):
        return CLASS_5_OHM_PER_KM[area_mm2] / 1000
    above_it = next(a for a in areas if a > area_mm2)
    below_it = areas[areas.index(above_it) - 1]
    share = math.log(area_mm2 / below_it) / math.log(above_it / below_it)
    low, high = CLASS_5_OHM_PER_KM[below_it], CLASS_5_OHM_PER_KM[above_it]
    return float(low * (high / low) ** share / 1000)


def awg_diameter(awg: int) -> float:
    """Bare diameter of a solid wire by its gauge.

    Args:
        awg: American wire gauge (AWG), a whole number; 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0.
    Returns: m.
    Source: ASTM B258, d = 0.127 mm · 92^((36-n)/39).
    Valid: -3 to 40.
    """
    require("wire gauge", awg, "AWG", THICKEST_AWG, THINNEST_AWG)
    return float(0.127e-3 * 92 ** ((36 - awg) / 39))


def awg_area(awg: int) -> float:
    """Copper area of a solid wire by its gauge.

    Args:
        awg: American wire gauge (AWG), counted as in `awg_diameter`.
    Returns: mm².
    Source: ASTM B258 (area of a circle of the gauge's diameter).
    Valid: -3 to 40.
    """
    return math.pi / 4 * (awg_diameter(awg) * 1000) ** 2


def awg_resistance(awg: int) -> float:
    """Resistance of one metre of a solid wire at 20 °C, by its gauge.

    Args:
        awg: American wire gauge (AWG), counted as in `awg_diameter`.
    Returns: Ω/m.
    Source: ASTM B258 with annealed copper of 100 % IACS; NBS Handbook 100, Copper Wire Tables (1966).
    Valid: -3 to 40.
    Errata: stranded wire of the same gauge has some per cent more (lay of the strands).
    """
    return COPPER_OHM_MM2_PER_M / awg_area(awg)


def copper_factor(temperature_c: float) -> float:
    """Resistance of copper at a temperature, relative to 20 °C.

    Args:
        temperature_c: temperature of the conductor, °C.
    Returns: ratio.
    Source: IEC 60028:1925, 1 + 0.00393·(t - 20); NBS Handbook 100 (1966).
    Valid: -40 to 120 °C (a straight line; range by common practice).
    """
    require("conductor temperature", temperature_c, "°C", -40, 120)
    return 1 + COPPER_PER_KELVIN * (temperature_c - 20)


def factor_to_20c(temperature_c: float) -> float:
    """Factor that corrects a resistance measured at a temperature to 20 °C.

    Args:
        temperature_c: temperature of the conductor when it was measured, °C.
    Returns: ratio.
    Source: IEC 60228:2004, annex B, k = 250/(230 + t).
    Valid: 0 to 50 °C (range of the measurement).
    Errata: differs from 1/`copper_factor` by up to 0.25 %; the two come from two standards.
    """
    require("conductor temperature", temperature_c, "°C", 0, 50)
    return 250 / (230 + temperature_c)


def loop_resistance(ohm_per_m: float, length_m: float, temperature_c: float = 20.0, cores_each_way: int = 1) -> float:
    """Resistance of a cable there and back.

    Args:
        ohm_per_m: resistance of one core at 20 °C, Ω/m.
        length_m: length of the cable, m.
        temperature_c: temperature of the copper, °C.
        cores_each_way: number of equal cores joined in parallel, each way.
    Returns: Ω.
    Source: circuit theory, R = 2·L·R'/n.
    Valid: positive resistance, no negative length, temperature as in `copper_factor`.
    """
    require("conductor resistance", ohm_per_m, "Ω/m", 0, above=True)
    require("cable length", length_m, "m", 0)
    if cores_each_way < 1:
        raise OutOfRange("number of cores each way", cores_each_way, "", (1, None))
    return 2 * length_m * ohm_per_m * copper_factor(temperature_c) / cores_each_way
