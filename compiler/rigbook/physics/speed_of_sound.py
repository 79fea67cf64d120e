"""Speed of sound in air: from temperature alone, with humidity and pressure, and as an ideal gas."""

from __future__ import annotations

import math

from rigbook.physics._numeric import require

ZERO_CELSIUS_K = 273.15
GAS_CONSTANT = 8.314462618
"""J/(mol K), CODATA 2018."""
MOLAR_MASS_DRY_AIR = 0.02897
"""kg/mol, Bies, Hansen & Howard, table C.2."""
RATIO_OF_SPECIFIC_HEATS = 1.400


def speed_of_sound(temperature_c: float) -> float:
    """Speed of sound in air from its temperature.

    Args:
        temperature_c: air temperature in °C, a float.
    Returns: Speed in m/s.
    Source: ISO 9613-1:1993, annex A, formula (A.5): c = 343.2 sqrt(T / 293.15 K).
    Valid: -50 to 100 °C: the range of the standard is -20 to 50 °C, the root law of an ideal gas holds beyond it
        (`speed_of_sound_ideal`). Humidity adds up to 0.7 % (`speed_of_sound_humid`).
    """
    require("temperature", temperature_c, "°C", -50, 100)
    return 343.2 * math.sqrt((temperature_c + ZERO_CELSIUS_K) / 293.15)


def speed_of_sound_ideal(temperature_c: float) -> float:
    """Speed of sound in dry air taken as an ideal gas.

    Args:
        temperature_c: air temperature in °C, a float.
    Returns: Speed in m/s.
    Source: c = sqrt(gamma R T / M) with gamma 1.400 and M 0.02897 kg/mol from Bies, Hansen & Howard, Engineering Noise
        Control, 5th ed., table C.2; R from CODATA.
    Valid: -50 to 100 °C, where gamma stays within 0.5 % (from memory).
    """
    require("temperature", temperature_c, "°C", -50, 100)
    kelvin = temperature_c + ZERO_CELSIUS_K
    return math.sqrt(RATIO_OF_SPECIFIC_HEATS * GAS_CONSTANT * kelvin / MOLAR_MASS_DRY_AIR)


def speed_of_sound_humid(
    temperature_c: float,
    relative_humidity_pct: float = 50.0,
    pressure_pa: float = 101_325.0,
    co2_fraction: float = 400e-6,
) -> float:
    """Speed of sound in air from temperature, humidity, pressure and carbon dioxide.

    Args:
        temperature_c: air temperature in °C, a float.
        relative_humidity_pct: relative humidity in %, a float.
        pressure_pa: static pressure in Pa, a float.
        co2_fraction: ratio of amounts (mole fraction) of carbon dioxide (0.0004 is 400 ppm), a float.
    Returns: Speed in m/s.
    Source: O. Cramer, The variation of the specific heat ratio and the speed of sound in air with temperature,
        pressure, humidity, and CO2 concentration, J. Acoust. Soc. Am. 93(5), 1993, 2510-2516: the polynomial and its
        table of coefficients, with the saturation pressure and enhancement factor of Giacomo 1982 that it uses.
    Valid: 0 to 30 °C, 75 to 102 kPa, mole fraction of water up to 0.06, of carbon dioxide up to 0.01 (the paper).
    """
    require("temperature", temperature_c, "°C", 0, 30)
    require("relative humidity", relative_humidity_pct, "%", 0, 100)
    require("air pressure", pressure_pa, "Pa", 75_000, 102_000)
    require("carbon dioxide", co2_fraction, "", 0, 0.01)
    t, p, xc = temperature_c, pressure_pa, co2_fraction
    xw = _water_fraction(t, relative_humidity_pct / 100, p)
    require("mole fraction of water", xw, "", 0, 0.06)
    return (
        331.5024 + 0.603055 * t - 0.000528 * t**2
        + (51.471935 + 0.1495874 * t - 0.000782 * t**2) * xw
        + (-1.82e-7 + 3.73e-8 * t - 2.93e-10 * t**2) * p
        + (-85.20931 - 0.228525 * t + 5.91e-5 * t**2) * xc
        - 2.835149 * xw**2 - 2.15e-13 * p**2 + 29.179762 * xc**2 + 0.000486 * xw * p * xc
    )  # fmt: skip


def _water_fraction(temperature_c: float, humidity: float, pressure_pa: float) -> float:
    kelvin = temperature_c + ZERO_CELSIUS_K
    enhancement = 1.00062 + 3.14e-8 * pressure_pa + 5.6e-7 * temperature_c**2
    saturation = math.exp(1.2811805e-5 * kelvin**2 - 1.9509874e-2 * kelvin + 34.04926034 - 6.3536311e3 / kelvin)
    return humidity * enhancement * saturation / pressure_pa
