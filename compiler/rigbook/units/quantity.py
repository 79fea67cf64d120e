"""A number with its unit, and how it is written back."""

from __future__ import annotations

import math

from rigbook.records import frozen
from rigbook.units.dimension import DIMENSIONS, SPELLINGS

MINUS = "\u2212"
"""The minus sign of pages; a terminal gets the hyphen."""


class Amount(str):
    """A number with its unit as printed in English: `−2.5 dB`. A page in another language writes its parts anew."""

    amount: str
    """The number with a point, and with a hyphen for minus."""
    unit: str
    """The symbol as printed; empty for a bare number."""

    def __new__(cls, amount: str, unit: str = "") -> Amount:
        """The text as a string, with its parts."""
        # SI Brochure, 9th edition, 5.4.3: a space before every unit but degree, minute and second of angle
        gap = "" if unit in ("°", "") else " "
        made = super().__new__(cls, f"{amount.replace('-', MINUS)}{gap}{unit}")
        made.amount, made.unit = amount, unit
        return made


@frozen
class Quantity:
    """An amount as typed, and its value in the base unit.

    Base units: m, kg, Hz, s, ohm, W, V, A, dB, dBu, dBFS, m2 (conductor area), deg, degC, a fraction for %,
    dB/oct, mV/Pa, U, m3.
    """

    value: float
    unit: str
    """The unit that was typed, in its plain spelling (`mm2` for `mm²`)."""
    dimension: str
    text: str
    """As typed, without the spaces around it."""
    amount: str = ""
    """The number as typed, with a hyphen for minus."""

    def __str__(self) -> str:
        return f"{self.amount} {self.unit}" if self.amount else self.text

    def page(self) -> str:
        """As printed on a page: `−6 dB`, `2.5 mm²`."""
        return _on_page(self.amount, self.unit) if self.amount else self.text


def pretty(unit: str) -> str:
    """A unit's symbol as printed on pages."""
    found = SPELLINGS.get(unit)
    return found[0][0].pretty if found else unit


def format_si(value: float, dimension: str, digits: int = 3, *, decimals: int | None = None, page: bool = False) -> str:
    """A computed value, given in the base unit, in the unit that suits its size: a length of `0.018` is `18 mm`.

    Args:
        value: in the base unit.
        dimension: a key of `DIMENSIONS`.
        digits: significant digits; zeros at the end of decimals go.
        decimals: with it, so many decimals instead (levels are compared by eye: `97.0 dB`).
        page: write `−6 dB` and `mm²` as pages do, else `-6 dB` and `mm2`.
    """
    kind = DIMENSIONS[dimension]
    # rounded first, so that 999.97 Hz becomes 1 kHz and not 1000 Hz
    rounded = value if decimals is not None else float(f"{value:.{digits - 1}e}")
    fitting = [symbol for size, symbol in kind.steps if abs(rounded) >= size]
    symbol = fitting[-1] if rounded else kind.offer[0]
    unit = next(u for u in kind.units if u.symbol == symbol)
    amount = number(unit.from_base(value), digits) if decimals is None else _fixed(unit.from_base(value), decimals)
    return _on_page(amount, symbol) if page else f"{amount} {symbol}"


def number(value: float, digits: int = 3) -> str:
    """A number to so many significant digits, never with an exponent, without zeros at the end of decimals."""
    rounded = float(f"{value:.{digits - 1}e}")
    if not rounded:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(rounded))))
    text = f"{rounded:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _fixed(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if not float(text) else text


def _on_page(amount: str, unit: str) -> Amount:
    return Amount(amount, pretty(unit))
