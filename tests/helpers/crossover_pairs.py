"""Crossovers for tests, from the short words of the check values."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from rigbook.physics.crossovers import Way
from rigbook.physics.filter_prototypes import Family
from rigbook.physics.filters import Cut

FAMILIES: Mapping[str, Family] = MappingProxyType({"BW": "butterworth", "LR": "linkwitz-riley", "Bessel": "bessel"})
KINDS: tuple[tuple[Family, int], ...] = (
    *(("butterworth", order) for order in range(1, 9)),
    *(("linkwitz-riley", order) for order in (2, 4, 6, 8)),
    *(("bessel", order) for order in range(1, 9)),
)
"""Every filter there is, as (family, order)."""


def cut(side: Literal["low-cut", "high-cut"], family: str, order: int, corner_hz: float = 1.0) -> Cut:
    """One filter; the family as in the check values or in full."""
    full: Family = FAMILIES.get(family, family)  # type: ignore[arg-type]
    return Cut(side, full, order, corner_hz)


def pair(
    family: str, order: int, corner_hz: float = 1.0, polarity: str = "normal", late_s: float = 0.0, gain_db: float = 0.0
) -> tuple[Way, Way]:
    """Lower and upper way of a matched crossover; polarity, lateness and gain are the upper way's."""
    return (
        Way((cut("high-cut", family, order, corner_hz),)),
        Way((cut("low-cut", family, order, corner_hz),), gain_db, polarity == "inverted", late_s),
    )
