"""On which side of the house a thing stands."""

from __future__ import annotations

import re
from collections.abc import Iterable
from types import MappingProxyType

from rigbook.language.values.positions import Position
from rigbook.plan.model import Plan, Unit

MIDDLE_M = 0.5
"""Nearer to the middle line than this, in metres, a thing stands in the centre (common practice)."""
OTHER = MappingProxyType({"left": "right", "right": "left"})


def side_of(plan: Plan, unit: Unit) -> str:
    """`left`, `right` or `centre` of the house: as the plan says, by where it stands, or by its name; else empty.

    A name is believed only where it does not speak of the stage, whose left is the right of the house.
    """
    said = unit.record.get("side")
    if said:
        return str(said)
    at = _point(plan, unit.position)
    if at is not None:
        return "centre" if abs(at.x) < MIDDLE_M else "left" if at.x < 0 else "right"
    words = re.split(r"[-_ ]", unit.name.lower())
    named = {"left", "right", "centre"} & {{"l": "left", "r": "right"}.get(w, w) for w in words}
    return named.pop() if len(named) == 1 and "stage" not in words else ""


def common_side(plan: Plan, units: Iterable[Unit]) -> str:
    """The side on which all of them stand; empty where they stand on several."""
    sides = {side_of(plan, u) for u in units}
    return sides.pop() if len(sides) == 1 else ""


def _point(plan: Plan, at: Position | None) -> Position | None:
    for _ in range(4):
        if at is None or not at.place:
            return at
        unit = plan.units.get(at.place)
        at = plan.places.get(at.place) or (unit.position if unit else None)
    return None
