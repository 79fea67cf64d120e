"""Amounts as people type them, and every wrong one with its message."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigbook.units.dimension import DIMENSIONS
from rigbook.units.parse import Problem, parse, parse_list, parse_range
from rigbook.units.quantity import Quantity


def value(text: str, dimension: str) -> float:
    got = parse(text, dimension)
    assert isinstance(got, Quantity), got
    return got.value


@pytest.mark.parametrize(
    ("text", "dimension", "base"),
    [
        ("18 m", "length", 18),
        ("18m", "length", 18),
        ("  18   m ", "length", 18),
        ("450 mm", "length", 0.45),
        ("2.5 cm", "length", 0.025),
        ("60 ft", "length", 18.288),
        ("19 in", "length", 0.4826),
        ("20 lb", "mass", 9.0718474),
        ("800 g", "mass", 0.8),
        ("606.5 MHz", "frequency", 606.5e6),
        ("18 kHz", "frequency", 18_000),
        ("12 ms", "time", 0.012),
        ("250 µs", "time", 0.000_25),
        ("250 μs", "time", 0.000_25),
        ("15 min", "time", 900),
        ("2.5 h", "time", 9000),
        ("8 ohm", "resistance", 8),
        ("8 Ω", "resistance", 8),
        ("10 kΩ", "resistance", 10_000),
        ("1.2 kVA", "power", 1200),
        ("10 mW", "power", 0.01),
        ("1.4 V", "voltage", 1.4),
        ("16 A", "current", 16),
        ("-6 dB", "level", -6),
        ("−6 dB", "level", -6),
        ("+4 dBu", "voltage level", 4),
        ("97 dB(A)", "sound level", 97),
        ("97 dBA", "sound level", 97),
        ("128 dB SPL", "sound level", 128),
        ("-18 dBFS", "digital level", -18),
        ("2.5 mm2", "area", 2.5e-6),
        ("2.5 mm²", "area", 2.5e-6),
        ("90 deg", "angle", 90),
        ("-5°", "angle", -5),
        ("20 °C", "temperature", 20),
        ("68 degF", "temperature", 20),
        ("50 %", "percent", 0.5),
        ("24 dB/oct", "slope", 24),
        ("2.5 mV/Pa", "sensitivity", 2.5),
        ("2 U", "rack units", 2),
        ("1700 m3", "volume", 1700),
        ("012 m", "length", 12),
        (".5 m", "length", 0.5),
    ],
)
def test_amounts(text: str, dimension: str, base: float) -> None:
    assert value(text, dimension) == pytest.approx(base, rel=1e-15)


def test_dbv_is_dbu_from_one_volt() -> None:
    """Source: common practice: 0 dBV = 1 V is +2.218 dBu, as dBu refers to sqrt(0.6) V = 0.7746 V."""
    assert value("0 dBV", "voltage level") == pytest.approx(2.218, abs=0.0005)


def test_what_was_typed_is_kept() -> None:
    got = parse(" −6.50dB ", "level")
    assert got == Quantity(-6.5, "dB", "level", "−6.50dB", "-6.50")
    assert str(got) == "-6.50 dB"


WRONG = [
    ("18", "length", "`18` has no unit", "write `18 m` or `18 ft`", "18"),
    ("18 Hz", "length", "`18 Hz` is a frequency, a length belongs here",
     "write `18 m` or `18 ft` if the number is right", "18 Hz"),
    ("97 dB(A)", "level", "`97 dB(A)` is a sound level, a level in dB belongs here",
     "write `97 dB` if the number is right", "97 dB(A)"),
    ("24 dB", "slope", "`24 dB` is a level in dB, a filter slope belongs here",
     "write `24 dB/oct` if the number is right", "24 dB"),
    ("12 AWG", "length", "`12 AWG` is a conductor area, a length belongs here",
     "write `12 m` or `12 ft` if the number is right", "12 AWG"),
    ("100 hz", "frequency", "`hz` is no unit for a frequency", "write `100 Hz`", "hz"),
    ("3 secs", "time", "`secs` is no unit for a time", "write `3 s`", "secs"),
    ("10 metres", "length", "`metres` is no unit for a length", "write `10 m`", "metres"),
    ("6'", "length", "`'` is no unit for a length", "write `6 ft`", "'"),
    ("7 x", "angle", "`x` is no unit for an angle", "write `deg`", "x"),
    ("7 foo", "mass", "`foo` is no unit for a weight", "write the unit as one of `kg`, `g`, `lb`", "foo"),
    ("2,5 mm2", "area", "`2,5 mm2` has a comma in its number", "write `2.5 mm2`", "2,5 mm2"),
    ("1,800 W", "power", "`1,800 W` has a comma in its number", "write `1.800 W` or `1800 W`", "1,800 W"),
    ("1 800 W", "power", "`1 800 W` has a gap in its number", "write `1800 W`", "1 800 W"),
    ("5' 10\"", "length", "`5' 10\"` is written in feet and inches", "write `5.833 ft`", "5' 10\""),
    ("1/2\"", "length", "`1/2\"` is written as a fraction", "write `0.5 in`", "1/2\""),
    ("3/4 in", "length", "`3/4 in` is written as a fraction", "write `0.75 in`", "3/4 in"),
    ("1e3 W", "power", "`1e3 W` is written with an exponent", "write the number in full, such as `1800 W`", "1e3 W"),
    ("1.2.3 m", "length", "`1.2.3 m` has two points in its number", "write one number, such as `2.5 m`", "1.2.3 m"),
    ("", "length", "the amount is missing", "write a length such as `18 m` or `18 ft`", ""),
    ("m", "length", "`m` does not begin with a number", "write a length such as `18 m` or `18 ft`", "m"),
    ("inf m", "length", "`inf m` does not begin with a number", "write a length such as `18 m` or `18 ft`", "inf m"),
    ("nan", "level", "`nan` does not begin with a number", "write a level in dB such as `-6 dB`", "nan"),
    ("١٨ m", "length", "`١٨ m` does not begin with a number", "write a length such as `18 m` or `18 ft`", "١٨ m"),
    ("-6 m", "length", "`-6 m` is below zero, which a length never is", "leave the minus out", "-6 m"),
    ("-300 degC", "temperature", "`-300 degC` lies below -273.15 degC, where nothing does",
     "check the number", "-300 degC"),
    ("9" * 400 + " m", "length", "`" + "9" * 39 + "…` is more than can be meant",
     "write a smaller amount", "9" * 400 + " m"),
    ("2.5 AWG", "area", "`2.5 AWG` is no wire gauge", "write one from `4/0 AWG` to `40 AWG`", "2.5 AWG"),
    ("2.5", "area", "`2.5` has no unit", "write `2.5 mm2` or `12 AWG`", "2.5"),
    ("5/0 AWG", "area", "`5/0 AWG` is no wire gauge", "write one from `4/0 AWG` to `40 AWG`", "5/0 AWG"),
    ("2 HE", "rack units", "`HE` is no unit for a height in rack units", "write `2 U`", "HE"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "dimension", "message", "remedy", "part"), WRONG, ids=[w[0][:9] for w in WRONG])
def test_wrong_amounts(text: str, dimension: str, message: str, remedy: str, part: str) -> None:
    got = parse(f"  {text} ", dimension)
    assert isinstance(got, Problem)
    assert (got.message, got.remedy) == (message, remedy)
    assert f"  {text} "[got.start : got.start + got.length] == part


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("60 Hz - 18 kHz", 60, 18_000),
        ("60 Hz to 18 kHz", 60, 18_000),
        ("60 Hz – 18 kHz", 60, 18_000),
        ("60Hz–18kHz", 60, 18_000),
        ("60Hz-18kHz", 60, 18_000),
        ("60-120 Hz", 60, 120),
        ("60 - 120 Hz", 60, 120),
        ("60 Hz - 60 Hz", 60, 60),
    ],
)
def test_ranges(text: str, low: float, high: float) -> None:
    got = parse_range(text, "frequency")
    assert not isinstance(got, Problem)
    assert tuple(q.value for q in got) == (low, high)


def test_ranges_below_zero() -> None:
    for text in ("-60 dB - -10 dB", "-60 dB to -10 dB", "−60 dB – −10 dB"):
        got = parse_range(text, "level")
        assert not isinstance(got, Problem)
        assert [q.value for q in got] == [-60, -10]


@pytest.mark.parametrize(
    ("text", "message", "remedy", "part"),
    [
        ("18 kHz - 60 Hz", "`18 kHz` is more than `60 Hz`", "write `60 Hz - 18 kHz`", "18 kHz - 60 Hz"),
        ("60 Hz", "`60 Hz` is not a range of two amounts",
         "write the lower and the upper amount: `1 Hz - 20 Hz`", "60 Hz"),
        ("60 Hz - 18 kz", "`kz` is no unit for a frequency",
         "write the unit as one of `Hz`, `kHz`, `MHz`, `GHz`", "kz"),
        ("60 m - 18 kHz", "`60 m` is a length, a frequency belongs here",
         "write `60 Hz` or `60 kHz` if the number is right", "60 m"),
        ("60 - 18", "`18` has no unit", "write `18 Hz` or `18 kHz`", "18"),
    ],
)  # fmt: skip
def test_wrong_ranges(text: str, message: str, remedy: str, part: str) -> None:
    got = parse_range(text, "frequency")
    assert isinstance(got, Problem)
    assert (got.message, got.remedy) == (message, remedy)
    assert text[got.start : got.start + got.length] == part


def test_lists() -> None:
    got = parse_list("8 ohm, 4 ohm,2 ohm", "resistance")
    assert not isinstance(got, Problem)
    assert [q.value for q in got] == [8, 4, 2]
    wrong = parse_list("8 ohm, 4", "resistance")
    assert wrong == Problem("`4` has no unit", "write `4 ohm`", 7, 1)


NAMES = st.sampled_from(sorted(DIMENSIONS))
NUMBERS = st.decimals(0, 999, allow_nan=False, allow_infinity=False, places=3)


@given(NAMES, st.data())
def test_what_is_written_back_reads_the_same(name: str, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from([u for u in DIMENSIONS[name].units if u.symbol != "AWG"]))
    amount = data.draw(NUMBERS)
    got = parse(f"{amount:f}{data.draw(st.sampled_from(['', ' ']))}{unit.symbol}", name)
    assert isinstance(got, Quantity)
    assert parse(str(got), name) == Quantity(got.value, got.unit, name, str(got), got.amount)
    on_page = parse(got.page(), name)
    assert isinstance(on_page, Quantity)
    assert (on_page.value, on_page.unit) == (got.value, got.unit)


@settings(max_examples=400)
@given(st.text(max_size=20) | st.from_regex(r"[-+0-9.,' /e]{0,8} ?(m|mm2|dB|AWG|\"|'|Ω|°|%)?", fullmatch=True), NAMES)
def test_any_text_gives_an_amount_or_a_problem(text: str, name: str) -> None:
    for got in (parse(text, name), parse_range(text, name), parse_list(text, name)):
        if isinstance(got, Problem):
            assert got.message
            assert got.remedy
            assert 0 <= got.start <= got.start + got.length <= len(text)


@pytest.mark.parametrize("name", sorted(DIMENSIONS))
def test_every_remedy_can_be_read(name: str) -> None:
    """What a message tells to write is itself an amount of that kind."""
    for text in ("", "7", "7 foo", "7,5 foo", "x"):
        got = parse(text, name)
        assert isinstance(got, Problem)
        for shown in re.findall(r"`([-+0-9][^`]*)`", got.remedy):
            assert isinstance(parse(shown, name), Quantity), shown
