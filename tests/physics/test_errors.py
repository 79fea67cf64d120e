from __future__ import annotations

import math
import pickle

import pytest

from rigbook.physics.errors import OutOfRange


@pytest.mark.parametrize(
    ("value", "limits", "sentence"),
    [
        (75.0, (-20.0, 50.0), "temperature 75 °C is outside -20 to 50 °C, where this formula holds"),
        (-3.0, (0.0, None), "temperature -3 °C is below 0 °C, where this formula holds"),
        (0.0, (0.0, None), "temperature 0 °C is not above 0 °C, where this formula holds"),
        (9.0, (None, 5.0), "temperature 9 °C is above 5 °C, where this formula holds"),
        (5.0, (None, 5.0), "temperature 5 °C is not below 5 °C, where this formula holds"),
    ],
)
def test_one_sentence(value: float, limits: tuple[float | None, float | None], sentence: str) -> None:
    error = OutOfRange("temperature", value, "°C", limits)
    assert str(error) == sentence
    assert (error.name, error.value, error.unit, error.range) == ("temperature", value, "°C", limits)


def test_a_value_that_is_no_number() -> None:
    assert "not a number" in str(OutOfRange("level", math.nan, "dB", (None, None)))


def test_it_is_a_value_error_and_travels_between_processes() -> None:
    error = OutOfRange("distance", 0.0, "m", (0.0, None))
    assert isinstance(error, ValueError)
    assert str(pickle.loads(pickle.dumps(error))) == str(error)
