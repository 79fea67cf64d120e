"""The range in which an amount can be meant: `120 kHz` is a frequency, and no high-pass filter."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Any

from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.dimension import DIMENSIONS
from rigbook.units.parse import parse
from rigbook.units.quantity import Quantity, number

TIMES = (10, 100, 1000)
"""Slips of the decimal point that are looked for."""


@frozen
class Within:
    """The least and the greatest amount that a key can mean, both with their unit, and why."""

    least: str
    most: str
    why: str

    @property
    def words(self) -> str:
        """`5 Hz to 20 kHz`."""
        return phrase("%(a)s to %(b)s", a=self.least, b=self.most)

    def outside(self, value: Any, example: str) -> tuple[str, str] | None:
        """Of the first amount in a value that lies outside: the amount as typed, and what to write.

        `example` is how the key is usually written: of what can be meant, the nearest to it is offered.
        """
        for amount in _amounts(value):
            # a table of power by load also holds the loads
            same = isinstance(parse(self.least, amount.dimension), Quantity)
            if same and not self._holds(amount.value, amount.dimension):
                return str(amount), self._remedy(amount, example)
        return None

    def _ends(self, dimension: str) -> tuple[float, float]:
        low, high = parse(self.least, dimension), parse(self.most, dimension)
        assert isinstance(low, Quantity) and isinstance(high, Quantity), "the table of ranges holds amounts"
        return low.value, high.value

    def _holds(self, value: float, dimension: str) -> bool:
        low, high = self._ends(dimension)
        # of two spellings of one amount, the last digit of a binary fraction may differ
        return low <= value <= high or math.isclose(value, low) or math.isclose(value, high)

    def _remedy(self, typed: Quantity, example: str) -> str:
        """The same number with another unit or with its point moved, the nearest to what is usual."""
        units = DIMENSIONS[typed.dimension].units
        own = next((u for u in units if u.symbol == typed.unit), None)
        start = float(typed.amount) if typed.amount else 0.0
        if own is None or start <= 0:
            return phrase("write an amount from %(range)s", range=self.words)
        # an inch for a foot is no slip of the finger; a thousand for one is
        offers = [(start, u) for u in units if u.symbol.endswith(own.symbol[-1]) and u != own]
        offers += [(moved, own) for times in TIMES for moved in (start / times, start * times)]
        fitting = [(n, u) for n, u in offers if self._holds(u.to_base(n), typed.dimension)]
        if not fitting:
            return phrase("write an amount from %(range)s", range=self.words)
        usual = _usual(example, typed.dimension) or own.to_base(start)
        amount, unit = min(fitting, key=lambda offer: abs(math.log(max(offer[1].to_base(offer[0]), 1e-12) / usual)))
        said = typed.amount if amount == start else number(amount, 4)
        return phrase("write `%(line)s`, if that is meant", line=f"{said} {unit.symbol}")


def _usual(example: str, dimension: str) -> float:
    """The first amount of this kind in an example, without its sign; 0 where there is none."""
    for m in re.finditer(r"[\d.]+ [^\s,:}\]]+", example):
        got = parse(m.group(), dimension)
        if isinstance(got, Quantity):
            return got.value
    return 0.0


def _amounts(value: Any) -> Iterator[Quantity]:
    """The amounts in a value: its own, those of a range, a list or a table, the frequency of a filter."""
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from _amounts(part)
    else:
        for name in ("frequency", "length"):
            if isinstance(got := getattr(value, name, None), Quantity):
                yield got
