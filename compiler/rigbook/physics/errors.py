"""The one error of this room: a value outside the range in which a formula holds."""

from __future__ import annotations


class OutOfRange(ValueError):
    """A value lies outside the range in which a formula holds.

    The message is one sentence that stands alone, for example
    ``temperature 75 °C is outside -20 to 50 °C, where this formula holds``.

    Args:
        name: the quantity in words or as the parameter is called (``"temperature"``).
        value: the value that was given; of an array, the worst one.
        unit: its unit as printed (``"°C"``), or ``""`` for a bare number.
        range: lower and upper limit in the same unit; ``None`` where there is no limit on that side.

    Attributes:
        name, value, unit, range: as given.
    """

    def __init__(
        self,
        name: str,
        value: float,
        unit: str,
        range: tuple[float | None, float | None],  # noqa: A002  the word the trade and the caller use
    ) -> None:
        self.name = name
        self.value = value
        self.unit = unit
        self.range = range
        super().__init__(_sentence(name, value, unit, range))

    def __reduce__(self) -> tuple[type[OutOfRange], tuple[object, ...]]:
        return type(self), (self.name, self.value, self.unit, self.range)


def _sentence(name: str, value: float, unit: str, limits: tuple[float | None, float | None]) -> str:
    low, high = limits
    suffix = f" {unit}" if unit else ""
    if low is not None and high is not None:
        where = f"outside {low:g} to {high:g}{suffix}"
    elif low is not None:
        where = f"below {low:g}{suffix}" if value < low else f"not above {low:g}{suffix}"
    elif high is not None:
        where = f"above {high:g}{suffix}" if value > high else f"not below {high:g}{suffix}"
    else:
        where = "not a number"
    return f"{name} {value:g}{suffix} is {where}, where this formula holds"
