from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.air_absorption import (
    absorption_loss,
    attenuation_coefficient,
    attenuation_exponent,
    octave_band_coefficient,
)
from rigbook.physics.bands import OCTAVE_BANDS_HZ
from rigbook.physics.errors import OutOfRange


def per_km(i, frequency: float) -> float:
    return 1000 * attenuation_coefficient(frequency, i["t_C"], i["rh_pct"], 1000 * i["p_kPa"])


CALLS = {
    "02-iso9613-1": lambda i: per_km(i, i["f_exact_Hz"]),
    "02-iso9613-2": lambda i: [
        1000 * octave_band_coefficient(band, i["t_C"], i["rh_pct"], 1000 * i["p_kPa"]) for band in i["bands_Hz"]
    ],
    "02-pressure": lambda i: per_km(i, i["f_Hz"]),
    "02-loss": lambda i: absorption_loss(i["d_m"], per_km(i, i["f_Hz"]) / 1000),
    "02-exponent": lambda i: attenuation_exponent(i["alpha_dB_m"]),
}

frequencies = st.floats(50, 10_000)
temperatures = st.floats(-10, 45)
humidities = st.floats(10, 100)


@cases("air_absorption")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(frequencies, temperatures, humidities, st.floats(70e3, 105e3))
def test_against_acoustic_toolbox(frequency: float, temperature: float, humidity: float, pressure: float) -> None:
    standard = oracle("acoustic_toolbox.standards.iso_9613_1_1993")
    kelvin = temperature + 273.15
    vapour = standard.molar_concentration_water_vapour(
        humidity, standard.saturation_pressure(kelvin), pressure / 1000
    )
    theirs = standard.attenuation_coefficient(
        pressure / 1000,
        kelvin,
        101.325,
        293.15,
        frequency=frequency,
        relaxation_frequency_nitrogen=standard.relaxation_frequency_nitrogen(pressure / 1000, kelvin, vapour),
        relaxation_frequency_oxygen=standard.relaxation_frequency_oxygen(pressure / 1000, vapour),
    )
    assert attenuation_coefficient(frequency, temperature, humidity, pressure) == pytest.approx(theirs, rel=1e-4)


@given(frequencies, temperatures, humidities)
def test_against_pyfar_at_sea_level(frequency: float, temperature: float, humidity: float) -> None:
    """pyfar 0.8.1 is right at 101.325 kPa only, see the docstring's errata."""
    pyfar = oracle("pyfar")
    theirs, _, _ = pyfar.constants.air_attenuation(temperature, frequency, humidity / 100)
    assert attenuation_coefficient(frequency, temperature, humidity) == pytest.approx(float(theirs[0]), rel=2e-3)


@given(frequencies, temperatures, humidities)
def test_higher_tones_lose_more(frequency: float, temperature: float, humidity: float) -> None:
    lower = attenuation_coefficient(frequency, temperature, humidity)
    assert attenuation_coefficient(1.1 * frequency, temperature, humidity) > lower > 0


@given(st.floats(0, 500), st.floats(0, 500), st.floats(0, 0.2))
def test_two_throws_lose_what_one_long_throw_loses(first: float, second: float, coefficient: float) -> None:
    apart = absorption_loss(first, coefficient) + absorption_loss(second, coefficient)
    assert absorption_loss(first + second, coefficient) == pytest.approx(apart)


def test_arrays_broadcast_like_floats() -> None:
    distances = np.array([[5.0, 20.0, 80.0]])
    bands = np.array([[octave_band_coefficient(band)] for band in OCTAVE_BANDS_HZ])
    loss = absorption_loss(distances, bands)
    assert loss.shape == (8, 3)
    assert loss[6, 2] == pytest.approx(absorption_loss(80.0, octave_band_coefficient(4000)))
    frequencies_hz = np.array([125.0, 1000.0, 8000.0])
    assert attenuation_coefficient(frequencies_hz) == pytest.approx(
        [attenuation_coefficient(float(f)) for f in frequencies_hz]
    )


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        ((1000, 51), "temperature"),
        ((1000, 20, 101), "humidity"),
        ((1000, 20, 50, 0), "pressure"),
        ((31.5, 20, 50), "frequency"),
        ((1000, 20, 0), "vapour"),
        ((np.array([1000.0, 20.0]),), "frequency"),
    ],
)
def test_outside_the_range(arguments, name: str) -> None:
    with pytest.raises(OutOfRange, match=name):
        attenuation_coefficient(*arguments)
