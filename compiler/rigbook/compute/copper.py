"""Resistance of a cable's cores, by the standard of the size that the plan types: mm² or a wire gauge."""

from __future__ import annotations

from rigbook.physics.conductors import awg_resistance, flexible_resistance
from rigbook.text.phrase import phrase
from rigbook.units.gauge import gauge_number
from rigbook.units.quantity import Quantity

CORES = phrase("largest resistance of class 5 copper cores, one core each way")
WIRE = phrase("solid copper of its gauge, one core each way; strands have a few per cent more")


def core_resistance(area: Quantity) -> float:
    """Resistance of one metre of one core at 20 °C, in Ω/m.

    An area in mm² by IEC 60228:2004, table 3 (class 5); a wire gauge by ASTM B258. The two are not the same copper: an
    area of IEC 60228 is a name for a largest resistance, a gauge is the size of the wire. A gauge read as the next
    area in mm² came out 15 % too high. `OutOfRange` where no standard gives a value.
    """
    gauge = _gauge(area)
    return flexible_resistance(area.value * 1e6) if gauge is None else awg_resistance(gauge)


def said_of(area: Quantity) -> str:
    """The assumption behind it."""
    return CORES if _gauge(area) is None else WIRE


def _gauge(area: Quantity) -> int | None:
    got = gauge_number(area.text)
    return got[1] if got else None
