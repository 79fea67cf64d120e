"""A computed number with all that is needed to believe it; or the reason why there is none."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from rigbook.physics.errors import OutOfRange
from rigbook.records import frozen
from rigbook.text.phrase import phrase
from rigbook.units.quantity import Amount

Input: TypeAlias = tuple[str, float | str, str]
"""What went into a figure: its name, its value (a number, or a word such as a filter's kind), its unit."""


@frozen
class Figure:
    """A computed number in the unit in which it is printed.

    `formula` says in a few words how it was found; `inputs` what went in; `assumptions` what the plan did not say.
    `places` is the number of decimal places that it is printed with: no more than it is worth.
    """

    value: float
    unit: str
    formula: str
    inputs: tuple[Input, ...] = ()
    assumptions: tuple[str, ...] = ()
    places: int = 1

    @property
    def amount(self) -> str:
        """The number as printed, with a hyphen for minus."""
        text = f"{self.value:.{self.places}f}"
        return text[1:] if text.startswith("-") and not text.strip("-0.") else text

    @property
    def text(self) -> str:
        """Number and unit as printed on a page."""
        return Amount(self.amount, self.unit)

    def __str__(self) -> str:
        return f"{self.amount} {self.unit}".strip()


@frozen
class Missing:
    """No figure, and why: what the plan does not say, or where the formula does not hold."""

    why: str

    @property
    def text(self) -> str:
        """As printed on a page."""
        return phrase("not known")

    def __str__(self) -> str:
        return self.why


Result: TypeAlias = Figure | Missing


def worked(make: Callable[[], Figure]) -> Result:
    """The figure, or `Missing` with the reason where an input lies outside the range of its formula."""
    try:
        return make()
    except OutOfRange as wrong:
        from rigbook.compute.refusals import refusal  # few plans need it

        return Missing(refusal(wrong))


def value_of(result: Result | None) -> float | None:
    """The number of a figure; None where there is none."""
    return result.value if isinstance(result, Figure) else None
