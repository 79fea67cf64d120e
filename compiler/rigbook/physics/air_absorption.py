"""Air absorption: what the air itself takes from a tone or an octave band on its way."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, overload

from rigbook.physics._numeric import exp, require
from rigbook.physics.bands import exact_mid_band

if TYPE_CHECKING:
    from rigbook.physics._numeric import Array, Values

_REFERENCE_K = 293.15
_TRIPLE_POINT_K = 273.16
_REFERENCE_PA = 101_325.0


@overload
def attenuation_coefficient(  # type: ignore[overload-overlap]
    frequency_hz: float,
    temperature_c: float = ...,
    relative_humidity_pct: float = ...,
    pressure_pa: float = ...,
) -> float: ...
@overload
def attenuation_coefficient(
    frequency_hz: Values,
    temperature_c: Values = ...,
    relative_humidity_pct: Values = ...,
    pressure_pa: Values = ...,
) -> Array: ...
def attenuation_coefficient(
    frequency_hz: Values,
    temperature_c: Values = 20.0,
    relative_humidity_pct: Values = 50.0,
    pressure_pa: Values = _REFERENCE_PA,
) -> Values:
    """Attenuation of a pure tone by the air, for each metre.

    Args:
        frequency_hz: frequency in Hz; for a band its exact mid-band frequency. Float or array, as the others;
            arrays broadcast.
        temperature_c: air temperature in °C.
        relative_humidity_pct: relative humidity in %.
        pressure_pa: static pressure in Pa.
    Returns: Attenuation in dB/m, in the broadcast shape.
    Source: ISO 9613-1:1993, formulae (3) to (5), (B.1) to (B.3).
    Valid: -20 to 50 °C, pressure below 200 kPa, frequency by pressure 4e-4 to 10 Hz/Pa (41 Hz and up at sea level),
        molar concentration of water vapour from 0.005 %. Accuracy 10 % from 0.05 to 5 % of vapour, else 20 %
        (clause 7, figures from memory). Below 41 Hz the loss is under 0.05 dB in 100 m: take none.
    Errata: The printed tables hold at exact mid-bands: 8000 Hz for 7943 Hz is 1.3 % too much. Some libraries leave the
        pressure out of the humidity term and are wrong away from sea level (158 for 104 dB/km at 80 kPa).
    """
    require("temperature", temperature_c, "°C", -20, 50)
    require("relative humidity", relative_humidity_pct, "%", 0, 100)
    require("air pressure", pressure_pa, "Pa", 0, 200_000, above=True)
    require("frequency by pressure", frequency_hz / pressure_pa, "Hz/Pa", 4e-4, 10)
    kelvin = temperature_c + 273.15
    pressure = pressure_pa / _REFERENCE_PA
    warmth = kelvin / _REFERENCE_K
    vapour_pct = relative_humidity_pct * _saturation(kelvin) / pressure
    require("water vapour", vapour_pct, "%", 0.005)
    oxygen_hz = pressure * (24 + 4.04e4 * vapour_pct * (0.02 + vapour_pct) / (0.391 + vapour_pct))
    nitrogen_hz = pressure * warmth**-0.5 * (9 + 280 * vapour_pct * exp(-4.170 * (warmth ** (-1 / 3) - 1)))
    square = frequency_hz**2
    classical = 1.84e-11 / pressure * warmth**0.5
    oxygen = 0.01275 * exp(-2239.1 / kelvin) / (oxygen_hz + square / oxygen_hz)
    nitrogen = 0.1068 * exp(-3352.0 / kelvin) / (nitrogen_hz + square / nitrogen_hz)
    return 8.686 * square * (classical + warmth**-2.5 * (oxygen + nitrogen))


def octave_band_coefficient(
    nominal_hz: float,
    temperature_c: float = 20.0,
    relative_humidity_pct: float = 50.0,
    pressure_pa: float = _REFERENCE_PA,
) -> float:
    """Attenuation of an octave band by the air, for each metre, taken at its exact mid-band.

    Args:
        nominal_hz: nominal frequency of the band in Hz (63 to 8000), a float, as the others.
        temperature_c: air temperature in °C.
        relative_humidity_pct: relative humidity in %.
        pressure_pa: static pressure in Pa.
    Returns: Attenuation in dB/m.
    Source: ISO 9613-2:1996, 7.2 and table 2; ISO 9613-1:1993, 8.2.1 (exact mid-band for a band).
    Valid: As `attenuation_coefficient`; the mid-band stands for the band up to about 15 dB of loss (ISO 9613-1, 8.2.1,
        from memory).
    Errata: Table 2 prints 4.1 dB/km for 15 °C, 80 %, 1 kHz; the formula gives 4.15.
    """
    return attenuation_coefficient(exact_mid_band(nominal_hz), temperature_c, relative_humidity_pct, pressure_pa)


@overload
def absorption_loss(distance_m: float, coefficient_db_m: float) -> float: ...  # type: ignore[overload-overlap]
@overload
def absorption_loss(distance_m: Values, coefficient_db_m: Values) -> Array: ...
def absorption_loss(distance_m: Values, coefficient_db_m: Values) -> Values:
    """Loss by air absorption over a distance.

    Args:
        distance_m: length of the path in m, float or array.
        coefficient_db_m: attenuation in dB/m from one of the functions above, float or array; both broadcast.
    Returns: Loss in dB, positive.
    Source: ISO 9613-1:1993, formula (2); ISO 9613-2:1996, formula (8).
    Valid: Distance and coefficient from 0.
    """
    require("distance", distance_m, "m", 0)
    require("air attenuation", coefficient_db_m, "dB/m", 0)
    return distance_m * coefficient_db_m


def attenuation_exponent(coefficient_db_m: float) -> float:
    """Power attenuation coefficient m of room acoustics from decibels for each metre.

    Args:
        coefficient_db_m: attenuation in dB/m, a float.
    Returns: Coefficient in 1/m, by which energy falls as exp(-m d).
    Source: ISO 354:2003, 8.1.2.1 note: m = alpha / (10 lg e).
    Valid: From 0 dB/m.
    """
    require("air attenuation", coefficient_db_m, "dB/m", 0)
    return coefficient_db_m / (10 * math.log10(math.e))


def _saturation(kelvin: Values) -> Values:
    """Saturation pressure of water vapour over the reference pressure, ISO 9613-1 (B.2), (B.3)."""
    result: Values = 10 ** (-6.8346 * (_TRIPLE_POINT_K / kelvin) ** 1.261 + 4.6151)
    return result
