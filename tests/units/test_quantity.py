"""Amounts written back: as typed, on pages, and computed values in a unit that suits them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigbook.units.dimension import DIMENSIONS
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity, format_si, number, pretty


@pytest.mark.parametrize(
    ("text", "dimension", "plain", "page"),
    [
        ("18m", "length", "18 m", "18 m"),
        ("-6 dB", "level", "-6 dB", "−6 dB"),
        ("2.5 mm²", "area", "2.5 mm2", "2.5 mm²"),
        ("8 ohm", "resistance", "8 ohm", "8 Ω"),
        ("20 degC", "temperature", "20 degC", "20 °C"),
        ("15 deg", "angle", "15 deg", "15°"),
        ("250 us", "time", "250 us", "250 µs"),
        ("4/0 AWG", "area", "4/0 AWG", "4/0 AWG"),
        ("50%", "percent", "50 %", "50 %"),
    ],
)
def test_as_typed(text: str, dimension: str, plain: str, page: str) -> None:
    """Source of the spaces: SI Brochure, 9th edition, 5.4.3: one before every unit, `%` too (5.4.7), none before °."""
    got = parse(text, dimension)
    assert isinstance(got, Quantity)
    assert (str(got), got.page()) == (plain, page)


@pytest.mark.parametrize(
    ("value", "dimension", "plain", "page"),
    [
        (0.018, "length", "18 mm", "18 mm"),
        (0.99999, "length", "1 m", "1 m"),
        (18.0, "length", "18 m", "18 m"),
        (0.0, "length", "0 m", "0 m"),
        (2.5e-6, "area", "2.5 mm2", "2.5 mm²"),
        (-6.02, "level", "-6.02 dB", "−6.02 dB"),
        (999.97, "frequency", "1 kHz", "1 kHz"),
        (1800.0, "frequency", "1.8 kHz", "1.8 kHz"),
        (0.00052, "time", "520 us", "520 µs"),
        (0.0117, "time", "11.7 ms", "11.7 ms"),
        (90.0, "time", "90 s", "90 s"),
        (900.0, "time", "15 min", "15 min"),
        (9000.0, "time", "2.5 h", "2.5 h"),
        (1234.5, "power", "1230 W", "1230 W"),
        (123456.0, "power", "123 kW", "123 kW"),
        (8.0, "resistance", "8 ohm", "8 Ω"),
        (0.065, "resistance", "65 mohm", "65 mΩ"),
        (0.5, "percent", "50 %", "50 %"),
        (-12.0, "angle", "-12 deg", "−12°"),
    ],
)
def test_computed_values(value: float, dimension: str, plain: str, page: str) -> None:
    assert format_si(value, dimension) == plain
    assert format_si(value, dimension, page=True) == page


def test_digits_and_decimals() -> None:
    assert format_si(97.249, "level", 4) == "97.25 dB"
    assert format_si(97.0, "level", decimals=1) == "97.0 dB"
    assert format_si(-0.04, "level", decimals=1) == "0.0 dB"
    assert format_si(18.288, "length", decimals=0) == "18 m"


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [(0.0, 3, "0"), (-0.0, 3, "0"), (1e-9, 3, "0.000000001"), (123456.0, 3, "123000"), (1.999, 3, "2"),
     (0.1 + 0.2, 3, "0.3")],
)  # fmt: skip
def test_number(value: float, digits: int, text: str) -> None:
    assert number(value, digits) == text


def test_pretty() -> None:
    assert [pretty(u) for u in ("mm2", "ohm", "uV", "m", "dB(A)", "nothing")] == [
        "mm²",
        "Ω",
        "µV",
        "m",
        "dB(A)",
        "nothing",
    ]


@given(st.sampled_from(sorted(DIMENSIONS)), st.floats(1e-6, 1e9), st.integers(1, 9))
def test_what_is_printed_reads_back(name: str, value: float, digits: int) -> None:
    """To within half of the last digit printed."""
    got = parse(format_si(value, name, digits), name)
    assert isinstance(got, Quantity)
    assert math.isclose(got.value, value, rel_tol=0.51 * 10 ** (1 - digits))
    page = parse(format_si(value, name, digits, page=True), name)
    assert isinstance(page, Quantity)
    assert page.value == got.value
