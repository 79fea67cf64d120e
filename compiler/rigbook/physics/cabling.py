"""Signal cables: reference lengths of the standards, pins, the corner of a long cable, and time along it."""

from __future__ import annotations

import math
from typing import Final

from rigbook.physics._numeric import require

NETWORK_CHANNEL_M: Final = 100.0
"""Reference channel of balanced network cable, category 5e and up, cords included: ANSI/TIA-568; ISO/IEC 11801."""

NETWORK_PERMANENT_LINK_M: Final = 90.0
"""Fixed part of that channel: ANSI/TIA-568."""

NETWORK_CORDS_M: Final = 10.0
"""Cords of that channel together: ANSI/TIA-568."""

AES3_OHM: Final = 110.0
"""Characteristic impedance of balanced AES3 cable: AES3-4-2009."""

AES3_M: Final = 100.0
"""Balanced AES3 cable at frame rates up to 50 kHz without equalisation: IEC 60958-4-4:2016."""

XLR_SCREEN_PIN: Final = 1
"""IEC 60268-12; AES14-1992."""

XLR_POSITIVE_PIN: Final = 2
"""The pin that goes positive with positive sound pressure: IEC 60268-12; AES14-1992 (clause from memory)."""

LIGHT_M_PER_S: Final = 299_792_458.0
"""Speed of light, exact (SI; CODATA)."""


def cable_corner(source_ohm: float, farad_per_m: float, length_m: float) -> float:
    """Frequency at which source impedance and cable capacitance lose 3 dB.

    Args:
        source_ohm: source impedance, Ω.
        farad_per_m: capacitance of the cable, F/m (100 pF/m is 1e-10).
        length_m: length, m.
    Returns: Hz.
    Source: circuit theory (first-order low-pass), 1/(2π·Zs·C·L).
    Valid: all above zero; high input impedance, cable short against the wavelength.
    """
    require("source impedance", source_ohm, "Ω", 0, above=True)
    require("cable capacitance", farad_per_m, "F/m", 0, above=True)
    require("cable length", length_m, "m", 0, above=True)
    return 1 / (2 * math.pi * source_ohm * farad_per_m * length_m)


def treble_loss(source_ohm: float, farad_per_m: float, length_m: float, frequency_hz: float) -> float:
    """Level that source impedance and cable capacitance lose at a frequency.

    Args:
        source_ohm: source impedance, Ω.
        farad_per_m: capacitance of the cable, F/m.
        length_m: length, m.
        frequency_hz: frequency, Hz.
    Returns: dB, zero or more.
    Source: circuit theory (first-order low-pass), 10·lg(1 + (f/fc)²).
    Valid: as `cable_corner`; frequency zero or more.
    """
    require("frequency", frequency_hz, "Hz", 0)
    return 10 * math.log10(1 + (frequency_hz / cable_corner(source_ohm, farad_per_m, length_m)) ** 2)


def cable_delay(length_m: float, velocity_factor: float) -> float:
    """Time of a signal from one end of a cable to the other.

    Args:
        length_m: length, m.
        velocity_factor: speed of the signal over the speed of light.
    Returns: s.
    Source: definition, L/(c·vf); c of CODATA.
    Valid: length zero or more, velocity factor above 0 to 1.
    """
    require("cable length", length_m, "m", 0)
    require("velocity factor", velocity_factor, "", 0, 1, above=True)
    return length_m / (LIGHT_M_PER_S * velocity_factor)
