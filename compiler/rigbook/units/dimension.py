"""The one table of dimensions and units.

Factors: SI Brochure, 9th edition (BIPM 2019), tables 2, 7 and 8; foot, inch and pound from NIST SP 811 (2008),
appendix B.8, all exact. A gauge number (AWG) has no factor; `gauge.py` has its formula. dBV to dBu is
20 lg (1 V / sqrt(0.6 V2)): dBu refers to 1 mW in 600 ohm (IEC 60027-3). VA counts as W, for a plan compares the two.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from rigbook.records import frozen
from rigbook.units.told import told


@frozen
class Unit:
    """One unit. An amount in the base unit is `(amount * times / over) + plus`."""

    symbol: str
    """As printed in a terminal, and as a plan should write it."""
    times: float = 1.0
    over: float = 1.0
    plus: float = 0.0
    also: tuple[str, ...] = ()
    """Other accepted spellings; the first one is used on pages if it is no plain ASCII."""

    @property
    def pretty(self) -> str:
        """As printed on a page."""
        return self.also[0] if self.also and not self.also[0].isascii() else self.symbol

    def to_base(self, amount: float) -> float:
        """The amount in the base unit of its dimension."""
        return amount * self.times / self.over + self.plus

    def from_base(self, value: float) -> float:
        """The reverse of `to_base`."""
        return (value - self.plus) * self.over / self.times


@frozen
class Dimension:
    """A kind of amount, with its units; the first unit is the base."""

    name: str
    phrase: str
    """As said in a sentence: `a length`."""
    units: tuple[Unit, ...]
    offer: tuple[str, ...]
    """Units that a remedy offers."""
    example: str
    """A likely number in those units, for a remedy."""
    steps: tuple[tuple[float, str], ...]
    """For printing a computed value: from this size on (in the base unit), use that unit."""
    least: float = 0.0
    """No smaller value exists."""


_ANY = -math.inf

_TABLE = (
    Dimension(
        "length",
        told("a length"),
        (
            Unit("m"),
            Unit("mm", over=1000),
            Unit("cm", over=100),
            Unit("km", times=1000),
            Unit("ft", times=0.3048),
            Unit("in", times=0.0254),
        ),
        ("m", "ft"),
        "18",
        ((0, "mm"), (1, "m"), (1000, "km")),
    ),
    Dimension(
        "mass",
        told("a weight"),
        (Unit("kg"), Unit("g", over=1000), Unit("lb", times=0.45359237, also=("lbs",))),
        ("kg", "lb"),
        "20",
        ((0, "g"), (1, "kg")),
    ),
    Dimension(
        "frequency",
        told("a frequency"),
        (Unit("Hz"), Unit("kHz", times=1000), Unit("MHz", times=1e6), Unit("GHz", times=1e9)),
        ("Hz", "kHz"),
        "100",
        ((0, "Hz"), (1000, "kHz"), (1e6, "MHz"), (1e9, "GHz")),
    ),
    Dimension(
        "time",
        told("a time"),
        (
            Unit("s"),
            Unit("ms", over=1000),
            Unit("us", over=1e6, also=("\u00b5s", "\u03bcs")),
            Unit("min", times=60),
            Unit("h", times=3600),
        ),
        ("ms", "s"),
        "20",
        ((0, "us"), (0.001, "ms"), (1, "s"), (120, "min"), (7200, "h")),
    ),
    Dimension(
        "resistance",
        told("a resistance"),
        (
            Unit("ohm", also=("Ω", "\u2126", "ohms")),
            Unit("kohm", times=1000, also=("kΩ", "k\u2126", "kohms")),
            Unit("mohm", over=1000, also=("mΩ", "m\u2126")),
        ),
        ("ohm",),
        "8",
        ((0, "mohm"), (0.1, "ohm"), (1000, "kohm")),
    ),
    Dimension(
        "power",
        told("a power"),
        (Unit("W"), Unit("mW", over=1000), Unit("kW", times=1000), Unit("VA"), Unit("kVA", times=1000)),
        ("W",),
        "400",
        ((0, "mW"), (1, "W"), (10_000, "kW")),
    ),
    Dimension(
        "voltage",
        told("a voltage"),
        (Unit("V"), Unit("mV", over=1000), Unit("uV", over=1e6, also=("\u00b5V", "\u03bcV")), Unit("kV", times=1000)),
        ("V", "mV"),
        "230",
        ((0, "uV"), (0.001, "mV"), (1, "V"), (10_000, "kV")),
    ),
    Dimension(
        "current",
        told("a current"),
        (Unit("A"), Unit("mA", over=1000)),
        ("A",),
        "16",
        ((0, "mA"), (1, "A")),
    ),
    Dimension("level", told("a level in dB"), (Unit("dB"),), ("dB",), "-6", ((0, "dB"),), _ANY),
    Dimension(
        "sound level",
        told("a sound level"),
        (
            Unit("dB"),
            Unit("dB SPL", also=("dBSPL",)),
            Unit("dB(A)", also=("dBA", "dB A", "dB (A)")),
            Unit("dB(C)", also=("dBC", "dB C", "dB (C)")),
        ),
        ("dB SPL", "dB(A)"),
        "97",
        ((0, "dB"),),
        _ANY,
    ),
    Dimension(
        "voltage level",
        told("a voltage level"),
        (Unit("dBu"), Unit("dBV", plus=20 * math.log10(1 / math.sqrt(0.6)))),
        ("dBu", "dBV"),
        "+4",
        ((0, "dBu"),),
        _ANY,
    ),
    Dimension("digital level", told("a digital level"), (Unit("dBFS"),), ("dBFS",), "-18", ((0, "dBFS"),), _ANY),
    Dimension(
        "area",
        told("a conductor area"),
        (Unit("m2", also=("m²",)), Unit("mm2", over=1e6, also=("mm²", "mm^2", "sqmm")), Unit("AWG", also=("awg",))),
        ("mm2", "AWG"),
        "2.5",
        ((0, "mm2"), (0.01, "m2")),
    ),
    Dimension(
        "angle",
        told("an angle"),
        (Unit("deg", also=("°", "degrees", "degree")),),
        ("deg",),
        "15",
        ((0, "deg"),),
        _ANY,
    ),
    Dimension(
        "temperature",
        told("a temperature"),
        (
            Unit("degC", also=("°C", "\u2103", "C")),
            Unit("degF", over=1.8, plus=-32 / 1.8, also=("°F", "\u2109", "F")),
            Unit("K", plus=-273.15),
        ),
        ("degC", "degF"),
        "20",
        ((0, "degC"),),
        -273.15,
    ),
    Dimension("percent", told("a percentage"), (Unit("%", over=100, also=("percent",)),), ("%",), "50", ((0, "%"),)),
    Dimension(
        "slope",
        told("a filter slope"),
        (Unit("dB/oct", also=("dB/octave", "dB per octave")),),
        ("dB/oct",),
        "24",
        ((0, "dB/oct"),),
    ),
    Dimension(
        "sensitivity",
        told("a microphone sensitivity"),
        (Unit("mV/Pa"), Unit("V/Pa", times=1000)),
        ("mV/Pa",),
        "2.5",
        ((0, "mV/Pa"),),
    ),
    Dimension("rack units", told("a height in rack units"), (Unit("U", also=("RU",)),), ("U",), "2", ((0, "U"),)),
    Dimension("volume", told("a volume"), (Unit("m3", also=("m³", "m^3")),), ("m3",), "1700", ((0, "m3"),)),
)

DIMENSIONS: Mapping[str, Dimension] = MappingProxyType({d.name: d for d in _TABLE})
"""Every dimension by its name."""

RACK_UNIT_M = 0.04445
"""Height of one rack unit in metres (IEC 60297-3-100)."""


def _spellings() -> dict[str, tuple[tuple[Unit, str], ...]]:
    out: dict[str, tuple[tuple[Unit, str], ...]] = {}
    for dimension in _TABLE:
        for unit in dimension.units:
            for word in (unit.symbol, *unit.also):
                out[word] = (*out.get(word, ()), (unit, dimension.name))
    return out


SPELLINGS: Mapping[str, tuple[tuple[Unit, str], ...]] = MappingProxyType(_spellings())
"""Every accepted spelling: the units it may mean, each with the name of its dimension."""
