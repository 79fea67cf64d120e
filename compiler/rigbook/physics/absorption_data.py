"""Absorption of some common surfaces and of persons, by octave band."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

ABSORPTION_BANDS_HZ: Final = (125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0)

ABSORPTION: Final[Mapping[str, tuple[float, ...]]] = MappingProxyType(
    {
        "audience, per person standing, m2": (0.15, 0.37, 0.43, 0.44, 0.44, 0.43),
        "concrete or terrazzo": (0.01, 0.01, 0.01, 0.02, 0.02, 0.02),
        "medium velour curtain, 475 g/m2, draped to half area": (0.07, 0.31, 0.49, 0.75, 0.7, 0.6),
        "stage opening": (0.3, 0.4, 0.5, 0.6, 0.6, 0.5),
        "wood platform with large space beneath": (0.4, 0.3, 0.2, 0.17, 0.15, 0.1),
        "wooden chairs, 100 % occupied": (0.6, 0.74, 0.88, 0.96, 0.93, 0.85),
    }
)
"""By `ABSORPTION_BANDS_HZ`. Bies, Hansen & Howard, Engineering Noise Control, 5th ed., table 6.2."""


def absorption_coefficients(material: str) -> tuple[float, ...]:
    """Absorption coefficients of a surface, or absorption area of one person.

    Args:
        material: a key of `ABSORPTION`.
    Returns: one value for each of `ABSORPTION_BANDS_HZ`; no unit, or m² for each person where the name says so.
    Source: Bies, Hansen & Howard, Engineering Noise Control, 5th ed., table 6.2.
    Valid: the materials of the table; another raises `KeyError` with its name.
    """
    return ABSORPTION[material]
