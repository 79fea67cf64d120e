"""A number with its unit, and how it is written back."""

from __future__ import annotations

from dataclasses import dataclass

from rigbook.units.dimension import DIMENSIONS, SPELLINGS

MINUS = "\u2212"
"""The minus sign of pages; a terminal gets the hyphen."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """An amount as typed, and its value in the base unit.

    Base units: m, kg, Hz, s, ohm, W, V, A, dB, dBu, dBFS, m2 (conductor area), deg, degC, a fraction for %,
    dB/oct, mV/Pa, U, m3.
    """

    value: float
    unit: str
    """The unit that was typed, in its canonical spelling (`mm2` for `mm\u00b2`)."""
    dimension: str
    text: str
    """As typed, without the blanks around it."""
    amount: str = ""
    """The number as typed, with a plain hyphen for minus."""

    def __str__(self) -> str:
        return f"{self.amount} {self.unit}" if self.amount else self.text

    def page(self) -> str:
        """As printed on a page: `\u22126 dB`, `2.5 mm\u00b2`."""
        return f"{self.amount.replace('-', MINUS)} {pretty(self.unit)}" if self.amount else self.text


def pretty(unit: str) -> str:
    """A unit's symbol as printed on pages."""
    found = SPELLINGS.get(unit)
    return found[0][0].pretty if found else unit


def format_si(value: float, dimension: str, digits: int = 3, *, page: bool = False) -> str:
    """A computed value, given in the base unit, in the unit that suits its size: `0.018` m is `18 mm`.

    `digits` are significant digits; trailing zeros go. `page` writes `\u22126 dB` and `mm\u00b2`, else `-6 dB` and `mm2`.
    """
    kind = DIMENSIONS[dimension]
    symbol = kind.steps[0][1]
    for size, candidate in kind.steps:
        if abs(value) >= size:
            symbol = candidate
    if not value:
        symbol = kind.offer[0]
    unit = next(u for u in kind.units if u.symbol == symbol)
    amount = number(unit.from_base(value), digits)
    return f"{amount.replace('-', MINUS)} {unit.pretty}" if page else f"{amount} {symbol}"


def number(value: float, digits: int = 3) -> str:
    """A number to so many significant digits, never with an exponent, without trailing zeros and without `-0`."""
    rounded = float(f"{value:.{digits - 1}e}")
    text = f"{rounded:.{max(0, digits + 3)}f}".rstrip("0").rstrip(".") if abs(rounded) < 1 else _plain(rounded)
    return "0" if text in ("-0", "") else text


def _plain(value: float) -> str:
    return f"{value:.10f}".rstrip("0").rstrip(".")
