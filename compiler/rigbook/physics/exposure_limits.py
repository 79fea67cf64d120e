"""Published exposure values. Which of them binds a show is for local law to say."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from rigbook.physics.noise_exposure import WORKING_DAY_S
from rigbook.records import frozen


@frozen
class ExposureLimit:
    """One published value.

    `level_dba` over `time_s` reaches it; `exchange_db` is the rise that halves the time (none where the document
    gives a level for one period only); `peak_pa` is the peak sound pressure, C-weighted, where there is one.
    """

    level_dba: float
    time_s: float
    exchange_db: float | None
    peak_pa: float | None
    source: str


_EU: Final = "Directive 2003/10/EC, article 3"
_BY_ENERGY_DB: Final = 10 * math.log10(2)
"""The directive's daily level is an energy (ISO 1999: L + 10 lg(T/8 h)), so half the time is 3.01 dB, not 3 dB: over 30
dB that is 2 % of the time, and only so do time and daily level agree.
"""

EXPOSURE_LIMITS: Final[Mapping[str, ExposureLimit]] = MappingProxyType(
    {
        "Canada federal": ExposureLimit(
            87, WORKING_DAY_S, 3, None, "National Joint Council (Canada), schedule of maximum noise exposure"
        ),
        "EU limit value": ExposureLimit(87, WORKING_DAY_S, _BY_ENERGY_DB, 200, _EU),
        "EU lower action value": ExposureLimit(80, WORKING_DAY_S, _BY_ENERGY_DB, 112, _EU),
        "EU upper action value": ExposureLimit(85, WORKING_DAY_S, _BY_ENERGY_DB, 140, _EU),
        "NIOSH recommended": ExposureLimit(85, WORKING_DAY_S, 3, None, "NIOSH publication 98-126 (1998), 1.1.1"),
        "OSHA permissible": ExposureLimit(90, WORKING_DAY_S, 5, None, "29 CFR 1910.95, table G-16"),
        "WHO venues and events": ExposureLimit(
            100, 15 * 60, None, None, "World Health Organization 2022, global standard for venues and events, feature 1"
        ),
    }
)


def exposure_limit(name: str) -> ExposureLimit:
    """Look up a published exposure value.

    Args:
        name: a key of `EXPOSURE_LIMITS`.
    Returns: the value with its time, exchange rate, peak pressure and source.
    Source: in each record.
    Valid: the names of the table; another raises `KeyError` with its name.
    Errata: the EU values are pascals; 135, 137 and 140 dB(C) are derived from them by rounding.
    """
    return EXPOSURE_LIMITS[name]
