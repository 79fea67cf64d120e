"""Wire gauge numbers (AWG) to conductor areas."""

from __future__ import annotations

import math
import re

COARSEST, FINEST = -3, 40
"""4/0 and 40."""

_TYPED = re.compile(r"(?:AWG\s*)?([0-9]{1,2}|[1-9]/0)(?:\s*AWG)?", re.IGNORECASE)


def gauge_number(text: str) -> tuple[str, int] | None:
    """The number as typed and as counted (1/0 is 0, 4/0 is -3); None of a text that is no gauge."""
    m = _TYPED.fullmatch(text)
    if m is None or "awg" not in text.lower():
        return None
    typed = m.group(1)
    return typed, 1 - int(typed[:-2]) if typed.endswith("/0") else int(typed)


def gauge_area_mm2(gauge: int) -> float:
    """Nominal conductor area in mm2 of a gauge number as counted.

    Source: ASTM B258-18, section 4 (the rule as published there): diameters run from 0.46 in at 4/0 to 0.005 in at
    36 in 39 equal ratios, d = 0.005 in x 92^((36 - n) / 39). Valid: 4/0 to 40.
    """
    diameter_mm = float(0.127 * 92 ** ((36 - gauge) / 39))
    return math.pi / 4 * diameter_mm * diameter_mm
