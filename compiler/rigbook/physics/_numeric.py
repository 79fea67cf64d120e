"""The handful of functions that work on a float and on an array alike, and the range guard.

A float goes through `math`, anything else through numpy, which is imported only then: a plan without a level map
never pays for numpy.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from rigbook.physics.errors import OutOfRange

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Array: TypeAlias = npt.NDArray[np.float64]
    Values: TypeAlias = float | Array
    Point: TypeAlias = Sequence[float] | Array


def log10(values: Values) -> Values:
    """Decimal logarithm; minus infinity at zero, for floats as for arrays."""
    if isinstance(values, (int, float)):
        return math.log10(values) if values else -math.inf
    import numpy as np

    with np.errstate(divide="ignore"):
        return np.log10(values)


def exp(values: Values) -> Values:
    """Exponential."""
    if isinstance(values, (int, float)):
        return math.exp(values)
    import numpy as np

    return np.exp(values)


def sin(radians: Values) -> Values:
    """Sine."""
    if isinstance(radians, (int, float)):
        return math.sin(radians)
    import numpy as np

    return np.sin(radians)


def cos(radians: Values) -> Values:
    """Cosine."""
    if isinstance(radians, (int, float)):
        return math.cos(radians)
    import numpy as np

    return np.cos(radians)


def hypot(a: Values, b: Values) -> Values:
    """Length of the vector (a, b)."""
    if isinstance(a, (int, float)) and isinstance(b, (int, float)):
        return math.hypot(a, b)
    import numpy as np

    return np.hypot(a, b)


def atan2(y: Values, x: Values) -> Values:
    """Angle of the vector (x, y) in radians."""
    if isinstance(y, (int, float)) and isinstance(x, (int, float)):
        return math.atan2(y, x)
    import numpy as np

    return np.arctan2(y, x)


def at_most(values: Values, limit: float) -> Values:
    """The values, none above the limit."""
    if isinstance(values, (int, float)):
        return min(values, limit)
    import numpy as np

    return np.minimum(values, limit)


def require(
    name: str,
    values: Values,
    unit: str,
    low: float | None = None,
    high: float | None = None,
    *,
    above: bool = False,
) -> None:
    """Raise `OutOfRange` unless every value is finite and lies from `low` to `high` (`above`: strictly above `low`)."""
    worst: tuple[float, ...]
    if isinstance(values, (int, float)):
        over = low is None or (values > low if above else values >= low)
        if over and (high is None or values <= high) and math.isfinite(values):
            return
        worst = (float(values),)
    else:
        import numpy as np

        if not np.size(values):
            return
        worst = (float(np.min(values)), float(np.max(values)))
    for value in worst:
        too_low = low is not None and (value <= low if above else value < low)
        too_high = high is not None and value > high
        if too_low or too_high or not math.isfinite(value):
            raise OutOfRange(name, value, unit, (low, high))
