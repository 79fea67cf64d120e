"""Preferred frequencies, exact mid-bands and edges of octave and third-octave bands."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require
from rigbook.physics.errors import OutOfRange

_R10 = (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0)
_LOWEST_HZ, _HIGHEST_HZ = 1.0, 20_000.0

OCTAVE_BANDS_HZ = (63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0)
"""The eight octave bands of ISO 9613-2:1996, table 2."""


def preferred_frequencies(fraction: int, lowest_hz: float, highest_hz: float) -> tuple[float, ...]:
    """Nominal mid-band frequencies of a set of bands.

    Args:
        fraction: 1 for octave bands, 3 for third-octave bands.
        lowest_hz: lowest nominal frequency wanted, in Hz, a float.
        highest_hz: highest nominal frequency wanted, in Hz, a float.
    Returns: Frequencies in Hz, rising, both ends included where they are nominal frequencies.
    Source: ISO 266:1997, table 1 (the R10 series); IEC 61260-1:2014, annex E.
    Valid: 1 Hz to 20 kHz.
    """
    _require_fraction(fraction)
    require("lowest frequency", lowest_hz, "Hz", _LOWEST_HZ, _HIGHEST_HZ)
    require("highest frequency", highest_hz, "Hz", _LOWEST_HZ, _HIGHEST_HZ)
    step = 1 if fraction == 3 else 3
    thirds = range(-30, 14)
    return tuple(f for k in thirds if k % step == 0 and lowest_hz <= (f := _nominal(k)) <= highest_hz)


def exact_mid_band(nominal_hz: float) -> float:
    """Exact mid-band frequency of the band with a nominal frequency.

    Args:
        nominal_hz: a preferred frequency in Hz, such as 31.5 or 8000, a float.
    Returns: Frequency in Hz (8000 gives 7943.28).
    Source: IEC 61260-1:2014, formulae (1) and (2), base ten: f_m = 1000 * 10^(k/10).
    Valid: Nominal frequencies of ISO 266 from 1 Hz to 20 kHz; any other frequency raises `OutOfRange`.
    """
    return float(1000 * 10 ** (_index(nominal_hz) / 10))


def band_edges(nominal_hz: float, fraction: int) -> tuple[float, float]:
    """Lower and upper edge of a band.

    Args:
        nominal_hz: nominal mid-band frequency in Hz, a float.
        fraction: 1 for octave bands, 3 for third-octave bands.
    Returns: Lower and upper edge in Hz.
    Source: IEC 61260-1:2014, formulae (4) and (5): f_m G^(-+1/(2b)) with G = 10^0.3.
    Valid: As `exact_mid_band`.
    """
    _require_fraction(fraction)
    middle = exact_mid_band(nominal_hz)
    half_band = 10 ** (0.3 / (2 * fraction))
    return middle / half_band, middle * half_band


def _nominal(k: int) -> float:
    decade, place = divmod(k, 10)
    return round(_R10[place] * 10.0 ** (decade + 3), 6)


def _index(nominal_hz: float) -> int:
    require("frequency", nominal_hz, "Hz", _LOWEST_HZ, _HIGHEST_HZ)
    k = round(10 * math.log10(nominal_hz / 1000))
    if not math.isclose(_nominal(k), nominal_hz, rel_tol=1e-6):
        raise OutOfRange("band, nearest nominal frequency", nominal_hz, "Hz", (_nominal(k), _nominal(k)))
    return k


def _require_fraction(fraction: int) -> None:
    if fraction not in (1, 3):
        raise OutOfRange("bands in an octave", fraction, "", (1, 3))
