"""Loudspeaker sensitivity: from volts to watts, and the direct sound it gives."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require
from rigbook.physics.levels import level_at_distance


def sensitivity_per_watt(level_2v83_db: float, impedance_ohm: float) -> float:
    """Sensitivity for 1 W at 1 m, from that for 2.83 V at 1 m.

    Args:
        level_2v83_db: level at 1 m for 2.83 V (2√2 V), dB re 20 µPa.
        impedance_ohm: rated impedance, Ω.
    Returns: dB re 20 µPa at 1 m for 1 W into the rated impedance.
    Source: IEC 60268-5, 20.3 and 20.4: 1 W is U = √(R·1 W), so L + 10·lg(Z/8).
    Valid: impedance above zero.
    """
    require("sensitivity", level_2v83_db, "dB", -1000, 1000)
    require("impedance", impedance_ohm, "Ω", 0, above=True)
    return level_2v83_db + 10 * math.log10(impedance_ohm / 8)


def direct_level(sensitivity_db: float, power_w: float, distance_m: float) -> float:
    """Direct sound of a loudspeaker on its axis.

    Args:
        sensitivity_db: level at 1 m for 1 W, dB re 20 µPa.
        power_w: power into the rated impedance, W.
        distance_m: distance, m.
    Returns: dB re 20 µPa.
    Source: IEC 60268-5 (sensitivity) and the free field: S + 10·lg(P) - 20·lg(d).
    Valid: power and distance above zero; far field, no air absorption, no power compression.
    """
    require("sensitivity", sensitivity_db, "dB", -1000, 1000)
    require("power", power_w, "W", 0, above=True)
    return level_at_distance(sensitivity_db + 10 * math.log10(power_w), distance_m)


def power_for_level(sensitivity_db: float, level_db: float, distance_m: float) -> float:
    """Power that brings a level of direct sound on the axis.

    Args:
        sensitivity_db: level at 1 m for 1 W, dB re 20 µPa.
        level_db: level wanted, dB re 20 µPa.
        distance_m: distance, m.
    Returns: W.
    Source: `direct_level` solved for the power.
    Valid: as `direct_level`.
    """
    return float(10 ** ((level_db - direct_level(sensitivity_db, 1.0, distance_m)) / 10))
