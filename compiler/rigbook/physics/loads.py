"""What an amplifier sees: loudspeakers in parallel, in series and bridged, and taps on a constant-voltage line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rigbook.physics._numeric import require

LINE_VOLTS: Final = (70.7, 100.0)
"""Usual constant-voltage lines at rated power, V rms (common practice; 100 V in IEC 60268, clause from memory)."""


def parallel_load(impedances_ohm: Sequence[float]) -> float:
    """Load of loudspeakers in parallel.

    Args:
        impedances_ohm: nominal impedances, Ω, one or more.
    Returns: Ω.
    Source: Ohm's law, 1/Z = Σ 1/Zi.
    Valid: each above zero; nominal impedances are added as resistances.
    """
    _all_above_zero(impedances_ohm)
    return 1 / sum(1 / ohm for ohm in impedances_ohm)


def series_load(impedances_ohm: Sequence[float]) -> float:
    """Load of loudspeakers in series.

    Args:
        impedances_ohm: nominal impedances, Ω, one or more.
    Returns: Ω.
    Source: Ohm's law, Z = Σ Zi.
    Valid: each above zero; nominal impedances are added as resistances.
    """
    _all_above_zero(impedances_ohm)
    return float(sum(impedances_ohm))


def bridged_half_load(load_ohm: float) -> float:
    """Load that each channel of a bridged pair sees.

    Args:
        load_ohm: load across the pair, Ω.
    Returns: Ω.
    Source: circuit theory, Z/2 (each channel carries the whole current at half the voltage).
    Valid: above zero.
    """
    require("load impedance", load_ohm, "Ω", 0, above=True)
    return load_ohm / 2


def parallel_powers(volts: float, impedances_ohm: Sequence[float]) -> tuple[float, ...]:
    """Power in each loudspeaker of a parallel set.

    Args:
        volts: voltage across the set, V rms.
        impedances_ohm: nominal impedances, Ω, one or more.
    Returns: W, in the order given.
    Source: Ohm's law, Pi = V²/Zi.
    Valid: voltage zero or more, impedances above zero.
    """
    require("voltage", volts, "V", 0)
    _all_above_zero(impedances_ohm)
    return tuple(volts**2 / ohm for ohm in impedances_ohm)


def series_powers(volts: float, impedances_ohm: Sequence[float]) -> tuple[float, ...]:
    """Power in each loudspeaker of a series set.

    Args:
        volts: voltage across the whole set, V rms.
        impedances_ohm: nominal impedances, Ω, one or more.
    Returns: W, in the order given.
    Source: Ohm's law, Pi = (V/ΣZ)²·Zi.
    Valid: voltage zero or more, impedances above zero.
    """
    require("voltage", volts, "V", 0)
    current_a = volts / series_load(impedances_ohm)
    return tuple(current_a**2 * ohm for ohm in impedances_ohm)


def tap_impedance(line_volts: float, tap_w: float) -> float:
    """Impedance of a transformer tap on a constant-voltage line.

    Args:
        line_volts: voltage of the line at rated power, V rms.
        tap_w: power printed at the tap for that voltage, W.
    Returns: Ω.
    Source: Ohm's law, Z = V²/P; 100 V line of IEC 60268 (clause from memory).
    Valid: both above zero.
    """
    require("line voltage", line_volts, "V", 0, above=True)
    require("tap power", tap_w, "W", 0, above=True)
    return line_volts**2 / tap_w


def tap_power(tap_w: float, tap_volts: float, line_volts: float) -> float:
    """Power that a tap takes on a line of another voltage than it is printed for.

    Args:
        tap_w: power printed at the tap, W.
        tap_volts: line voltage for which it is printed, V rms.
        line_volts: voltage of the line in use, V rms.
    Returns: W.
    Source: Ohm's law, P·(V/V0)²; a 100 V tap on a 70.7 V line takes half its power.
    Valid: line voltage zero or more, all else above zero.
    """
    require("line voltage", line_volts, "V", 0)
    return line_volts**2 / tap_impedance(tap_volts, tap_w)


def _all_above_zero(impedances_ohm: Sequence[float]) -> None:
    require("number of loudspeakers", len(impedances_ohm), "", 1)
    for ohm in impedances_ohm:
        require("impedance", ohm, "Ω", 0, above=True)
