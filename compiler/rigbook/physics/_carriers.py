"""Carriers as whole hertz, so that equal products compare as equal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TypeAlias

from rigbook.physics._numeric import require

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Integers: TypeAlias = npt.NDArray[np.int64]


def whole_hertz(carriers_hz: Sequence[float]) -> Integers:
    """Carriers rounded to whole hertz, in the order given; raises for equal ones and outside 1 Hz to 1 THz."""
    import numpy as np

    for frequency_hz in carriers_hz:
        require("carrier", frequency_hz, "Hz", 1, 1e12)
    carriers = np.rint(np.asarray(carriers_hz, dtype=np.float64)).astype(np.int64)
    require("number of carriers that repeat another", carriers.size - np.unique(carriers).size, "", 0, 0)
    return carriers
