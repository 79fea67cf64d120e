"""Filters, delay, gain and polarity at one point of the signal."""

from __future__ import annotations

from rigbook.language.record import Record
from rigbook.language.values.filters import Filter
from rigbook.records import frozen
from rigbook.units.quantity import Quantity


@frozen
class Processing:
    """Filters, delay, gain and polarity at one point of the signal."""

    low_cut: Filter | None = None
    high_cut: Filter | None = None
    delay: Quantity | None = None
    gain: Quantity | None = None
    reversed: bool = False
    limiter: Quantity | None = None

    @property
    def empty(self) -> bool:
        """Nothing is set."""
        return self == Processing()


def processing(record: Record) -> Processing:
    """The processing said in a record."""
    return Processing(
        record.get("low-cut"),
        record.get("high-cut"),
        record.get("delay"),
        record.get("gain"),
        record.get("polarity") == "reversed",
        record.get("limiter"),
    )
