"""Carriers as whole hertz, so that equal products compare as equal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from rigbook.physics._numeric import require

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Integers: TypeAlias = npt.NDArray[np.int64]


def plain_hertz(carriers_hz: Sequence[float]) -> list[int]:
    """Carriers rounded to whole hertz, in the order given; raises for equal ones and outside 1 Hz to 1 THz."""
    for frequency_hz in carriers_hz:
        require("carrier", frequency_hz, "Hz", 1, 1e12)
    carriers = [round(frequency_hz) for frequency_hz in carriers_hz]
    require("number of carriers that repeat another", len(carriers) - len(set(carriers)), "", 0, 0)
    return carriers


def whole_hertz(carriers_hz: Sequence[float]) -> Integers:
    """The same as an array."""
    import numpy as np

    return np.asarray(plain_hertz(carriers_hz), dtype=np.int64)
