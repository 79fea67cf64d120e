from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_values import Row, cases, check
from helpers.oracles import oracle
from rigbook.physics.errors import OutOfRange
from rigbook.physics.speed_of_sound import speed_of_sound, speed_of_sound_humid, speed_of_sound_ideal

CALLS = {
    "01-c-iso": lambda i: speed_of_sound(i["t_C"]),
    "01-c-humid": lambda i: speed_of_sound_humid(i["t_C"], 100 * i["rh"], i["p_Pa"], i["co2_ppm"] / 1e6),
    "01-c-ideal": lambda i: speed_of_sound_ideal(i["t_C"]),
}


@cases("speed_of_sound")
def test_published(row: Row) -> None:
    check(row, CALLS)


@given(st.floats(-20, 49), st.floats(0.01, 1))
def test_warmer_is_faster(temperature: float, step: float) -> None:
    assert speed_of_sound(temperature + step) > speed_of_sound(temperature)


@given(st.floats(0, 30), st.floats(0, 100))
def test_humidity_moves_it_as_little_as_the_docstring_says(temperature: float, humidity: float) -> None:
    assert speed_of_sound_humid(temperature, humidity) == pytest.approx(speed_of_sound(temperature), rel=0.0072)


@given(st.floats(-20, 50))
def test_the_ideal_gas_agrees(temperature: float) -> None:
    assert speed_of_sound_ideal(temperature) == pytest.approx(speed_of_sound(temperature), rel=1e-4)


@given(st.floats(0, 30), st.floats(0, 1), st.floats(75e3, 102e3))
def test_humid_air_against_pyfar(temperature: float, humidity: float, pressure: float) -> None:
    pyfar = oracle("pyfar")
    theirs = pyfar.constants.speed_of_sound_cramer(temperature, humidity, 400, pressure)
    assert speed_of_sound_humid(temperature, 100 * humidity, pressure) == pytest.approx(float(theirs), abs=0.005)


@pytest.mark.parametrize("temperature", [-50.1, 100.1, float("nan")])
def test_outside_the_range(temperature: float) -> None:
    with pytest.raises(OutOfRange, match="temperature"):
        speed_of_sound(temperature)


@pytest.mark.parametrize(
    ("arguments", "name"),
    [((31,), "temperature"), ((20, 101), "humidity"), ((20, 50, 70e3), "pressure"), ((20, 50, 1e5, 0.02), "dioxide")],
)
def test_humid_air_outside_the_range(arguments: tuple[float, ...], name: str) -> None:
    with pytest.raises(OutOfRange, match=name):
        speed_of_sound_humid(*arguments)
