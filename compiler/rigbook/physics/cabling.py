"""Signal cables: what the standards give as a reference, pins, the corner of a long cable, and time along it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from rigbook.physics._numeric import require

Run = Literal["network channel", "network permanent link", "network cords", "aes3"]

REFERENCE_LENGTHS_M: Final[Mapping[Run, float]] = MappingProxyType(
    {"network channel": 100.0, "network permanent link": 90.0, "network cords": 10.0, "aes3": 100.0}
)
XLR_PINS: Final[Mapping[str, int]] = MappingProxyType({"screen": 1, "positive": 2, "negative": 3})

LIGHT_M_PER_S: Final = 299_792_458.0
"""Speed of light, exact (SI; CODATA)."""


def reference_length(run: Run) -> float:
    """Length that a standard's reference model gives to a kind of cable run.

    Args:
        run: a whole network channel of balanced cable (category 5e and up), its fixed part, its cords together, or
            balanced AES3 at frame rates up to 50 kHz without equalisation.
    Returns: m.
    Source: ANSI/TIA-568 (channel 100 m, permanent link 90 m, cords 10 m); ISO/IEC 11801 (reference channel);
        IEC 60958-4-4:2016 (AES3, opening pages).
    Valid: the four kinds named. ISO/IEC 11801 limits by attenuation, so this is a reference and not a law of nature.
    """
    return REFERENCE_LENGTHS_M[run]


def aes3_impedance() -> float:
    """Characteristic impedance of balanced AES3 cable.

    Returns: Ω.
    Source: AES3-4-2009; G. Ballou (ed.), Handbook for Sound Engineers, ch. 39, p. 1470.
    Valid: balanced lines; the coaxial kind has 75 Ω.
    """
    return 110.0


def xlr_pin(leg: Literal["screen", "positive", "negative"]) -> int:
    """Pin of a 3-pole XLR connector.

    Args:
        leg: the screen, the leg that goes positive with positive sound pressure, or the other leg.
    Returns: pin number.
    Source: IEC 60268-12; AES14-1992 (clause from memory).
    Valid: balanced analogue signals.
    """
    return XLR_PINS[leg]


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
        velocity_factor: ratio of the speed of the signal to the speed of light.
    Returns: s.
    Source: definition, L/(c·vf); c of CODATA.
    Valid: length zero or more, velocity factor above 0 to 1.
    """
    require("cable length", length_m, "m", 0)
    require("velocity factor", velocity_factor, "", 0, 1, above=True)
    return length_m / (LIGHT_M_PER_S * velocity_factor)
