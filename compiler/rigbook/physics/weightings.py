"""Frequency weightings A and C, and the weighted level of a spectrum."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, Literal, overload

from rigbook.physics._numeric import log10, require
from rigbook.physics.bands import exact_mid_band
from rigbook.physics.errors import OutOfRange
from rigbook.physics.sums import energy_sum

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

# IEC 61672-1:2013, annex E: the poles follow from four round figures.
_REFERENCE_HZ: Final = 1000.0
_LOW_HZ: Final = 10**1.5
_HIGH_HZ: Final = 10**3.9
_A_HZ: Final = 10**2.45
_D: Final = math.sqrt(0.5)
_B: Final = (_REFERENCE_HZ**2 + (_LOW_HZ * _HIGH_HZ / _REFERENCE_HZ) ** 2 - _D * (_LOW_HZ**2 + _HIGH_HZ**2)) / (1 - _D)
_C: Final = (_LOW_HZ * _HIGH_HZ) ** 2
_F1: Final = math.sqrt((-_B - math.sqrt(_B**2 - 4 * _C)) / 2)
_F2: Final = (3 - math.sqrt(5)) / 2 * _A_HZ
_F3: Final = (3 + math.sqrt(5)) / 2 * _A_HZ
_F4: Final = math.sqrt((-_B + math.sqrt(_B**2 - 4 * _C)) / 2)


@overload
def a_weighting(frequency_hz: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def a_weighting(frequency_hz: Values) -> Array: ...
def a_weighting(frequency_hz: Values) -> Values:
    """Frequency weighting A.

    Args:
        frequency_hz: frequency in Hz; for a band its exact mid-band frequency. Float or array.
    Returns: weighting in dB, 0 at 1 kHz.
    Source: IEC 61672-1:2013, annex E, formulae (E.6), (E.1); table 3 is the same rounded to 0.1 dB.
    Valid: 10 Hz to 20 kHz, the range of table 3.
    Errata: table 3 is printed by nominal frequency and holds at the exact mid-band (`bands.exact_mid_band`).
    """
    require("frequency", frequency_hz, "Hz", 10, 20_000)
    return _a(frequency_hz) - _A_AT_1000


@overload
def c_weighting(frequency_hz: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def c_weighting(frequency_hz: Values) -> Array: ...
def c_weighting(frequency_hz: Values) -> Values:
    """Frequency weighting C.

    Args:
        frequency_hz: frequency in Hz; for a band its exact mid-band frequency. Float or array.
    Returns: weighting in dB, 0 at 1 kHz.
    Source: IEC 61672-1:2013, annex E, formulae (E.1) to (E.5); table 3 is the same rounded to 0.1 dB.
    Valid: 10 Hz to 20 kHz, the range of table 3.
    Errata: as `a_weighting`.
    """
    require("frequency", frequency_hz, "Hz", 10, 20_000)
    return _c(frequency_hz) - _C_AT_1000


@overload
def weighted_level(
    levels_db: Sequence[float], bands_hz: Sequence[float], weighting: Literal["A", "C", "Z"] = ...
) -> float: ...
@overload
def weighted_level(
    levels_db: Sequence[Array], bands_hz: Sequence[float], weighting: Literal["A", "C", "Z"] = ...
) -> Array: ...
def weighted_level(
    levels_db: Sequence[float] | Sequence[Array],
    bands_hz: Sequence[float],
    weighting: Literal["A", "C", "Z"] = "A",
) -> float | Array:
    """Weighted level of a spectrum of octave or third-octave bands.

    Args:
        levels_db: level in each band in dB: floats, or one array (any shape) for each band.
        bands_hz: nominal frequencies of the bands in Hz, in the same order.
        weighting: `A`, `C`, or `Z` for none.
    Returns: level in dB(A), dB(C) or dB: a float, or an array of the shape of one band.
    Source: IEC 61672-1:2013, 3.5 and annex E; energetic sum of the weighted bands, as ISO 4869-2:2018, annex B.
    Valid: nominal frequencies of ISO 266 from 10 Hz to 20 kHz, one level for each.
    """
    if len(levels_db) != len(bands_hz):
        raise OutOfRange("number of levels", len(levels_db), "", (len(bands_hz), len(bands_hz)))
    each: Sequence[Values] = levels_db
    return energy_sum([level + _weight(weighting, band) for level, band in zip(each, bands_hz)])


def _weight(weighting: Literal["A", "C", "Z"], nominal_hz: float) -> float:
    middle = exact_mid_band(nominal_hz)
    if weighting == "Z":
        return 0.0
    return a_weighting(middle) if weighting == "A" else c_weighting(middle)


def _c(f: Values) -> Values:
    return 20 * log10(_F4**2 * f**2 / ((f**2 + _F1**2) * (f**2 + _F4**2)))


def _a(f: Values) -> Values:
    return _c(f) + 10 * log10(f**4 / ((f**2 + _F2**2) * (f**2 + _F3**2)))


_A_AT_1000: Final = _a(_REFERENCE_HZ)
_C_AT_1000: Final = _c(_REFERENCE_HZ)
