"""The table of units: against published factors, and against another library."""

from __future__ import annotations

import pytest

from rigbook.units.dimension import DIMENSIONS, RACK_UNIT_M, SPELLINGS, Unit

ALL = [(d.name, u) for d in DIMENSIONS.values() for u in d.units]


def unit(symbol: str, name: str) -> Unit:
    return next(u for u in DIMENSIONS[name].units if u.symbol == symbol)


@pytest.mark.parametrize(
    ("symbol", "name", "amount", "base", "source"),
    [
        ("ft", "length", 1, 0.3048, "NIST SP 811 (2008), B.8: foot, exact"),
        ("in", "length", 1, 0.0254, "NIST SP 811 (2008), B.8: inch, exact"),
        ("lb", "mass", 1, 0.45359237, "NIST SP 811 (2008), B.8: pound avoirdupois, exact"),
        ("min", "time", 1, 60, "SI Brochure, 9th edition, table 8"),
        ("h", "time", 1, 3600, "SI Brochure, 9th edition, table 8"),
        ("degF", "temperature", 32, 0, "NIST SP 811 (2008), B.8: degree Fahrenheit, (t - 32) / 1.8"),
        ("degF", "temperature", 212, 100, "NIST SP 811 (2008), B.8: degree Fahrenheit, (t - 32) / 1.8"),
        ("K", "temperature", 273.15, 0, "SI Brochure, 9th edition, 2.3.1: t/°C = T/K - 273.15"),
        ("mm", "length", 1, 1e-3, "SI Brochure, 9th edition, table 7: milli"),
        ("us", "time", 1, 1e-6, "SI Brochure, 9th edition, table 7: micro"),
        ("MHz", "frequency", 1, 1e6, "SI Brochure, 9th edition, table 7: mega"),
        ("mm2", "area", 1, 1e-6, "SI Brochure, 9th edition, table 7: milli, squared"),
    ],
)
def test_published_factors(symbol: str, name: str, amount: float, base: float, source: str) -> None:
    assert unit(symbol, name).to_base(amount) == pytest.approx(base, rel=1e-15, abs=1e-12), source


def test_rack_unit() -> None:
    """Source: IEC 60297-3-100: U = 44.45 mm, which is 1.75 in."""
    assert pytest.approx(unit("in", "length").to_base(1.75), rel=1e-15) == RACK_UNIT_M


PINT = {
    "ohm": "ohm", "kohm": "kiloohm", "mohm": "milliohm", "VA": "volt * ampere", "kVA": "kilovolt * ampere",
    "us": "microsecond", "uV": "microvolt", "mm2": "millimeter ** 2", "m2": "meter ** 2", "m3": "meter ** 3",
    "deg": "degree", "%": "percent", "mV/Pa": "millivolt / pascal", "V/Pa": "volt / pascal", "U": None, "AWG": None,
    "degC": "degC", "degF": "degF", "K": "kelvin", "g": "gram", "h": "hour", "min": "minute", "in": "inch",
    "A": "ampere",
    "dB": None, "dB SPL": None, "dB(A)": None, "dB(C)": None, "dBu": None, "dBV": None, "dBFS": None, "dB/oct": None,
}  # fmt: skip
PINT_BASE = {"%": "dimensionless", "mV/Pa": "millivolt / pascal"}
ORACLE = [(name, u) for name, u in ALL if PINT.get(u.symbol, u.symbol)]


@pytest.mark.parametrize(("name", "one"), ORACLE, ids=[u.symbol for _, u in ORACLE])
def test_against_another_library(name: str, one: Unit) -> None:
    """Oracle: pint's own registry of units."""
    pint = pytest.importorskip("pint")
    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    base = DIMENSIONS[name].units[0].symbol
    target = PINT_BASE.get(base, PINT.get(base) or base)
    for amount in (1.0, 12.5, 250.0):
        theirs = registry.Quantity(amount, PINT.get(one.symbol) or one.symbol).to(target).magnitude
        assert one.to_base(amount) == pytest.approx(theirs, rel=1e-12, abs=1e-12)


def test_all_others_are_counted_out() -> None:
    """Levels and counts, of which pint knows none or another one, are named one by one and not left out silently."""
    assert {u.symbol for _, u in ALL} - {u.symbol for _, u in ORACLE} == {
        "dB", "dB SPL", "dB(A)", "dB(C)", "dBu", "dBV", "dBFS", "dB/oct", "U", "AWG",
    }  # fmt: skip


@pytest.mark.parametrize(("name", "one"), ALL, ids=[f"{n} {u.symbol}" for n, u in ALL])
def test_there_and_back(name: str, one: Unit) -> None:
    for amount in (0.001, 1.0, 37.5, 1e6):
        assert one.from_base(one.to_base(amount)) == pytest.approx(amount, rel=1e-12)


def test_the_table_is_whole() -> None:
    for kind in DIMENSIONS.values():
        symbols = [u.symbol for u in kind.units]
        assert kind.units[0].to_base(1) == 1 or kind.name == "percent"
        assert set(kind.offer) <= set(symbols)
        assert {symbol for _, symbol in kind.steps} <= set(symbols)
        assert [size for size, _ in kind.steps] == sorted(size for size, _ in kind.steps)
        spelled = [word for u in kind.units for word in (u.symbol, *u.also)]
        assert len(spelled) == len(set(spelled))
        assert all(any(name == kind.name for _, name in SPELLINGS[word]) for word in spelled)
