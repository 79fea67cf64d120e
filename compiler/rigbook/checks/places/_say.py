"""Words and grouping shared by the checks of places."""

from __future__ import annotations

from collections.abc import Iterable

from rigbook.compute.places import Spot
from rigbook.compute.results import results
from rigbook.graph.rig import Rig
from rigbook.language.values.sizes import Size
from rigbook.plan.model import Channel
from rigbook.text.phrase import quoted

Pair = tuple[Channel, Spot, str]
"""A channel with a placed microphone, where that stands, and a box."""


SPARE_M = 0.01


def outside(spot: Spot, size: Size) -> bool:
    """True of a spot behind or beside a room of this size."""
    return spot.y > size.depth + SPARE_M or abs(spot.x) > size.width + SPARE_M


def mix_is_outside(rig: Rig) -> bool:
    """True where the mix position lies outside the room: what is compared with it says nothing until it is mended."""
    places = results(rig).places
    size = places.room.get("size") if places.room else None
    return isinstance(size, Size) and places.mix is not None and outside(places.mix, size)


def listed(names: Iterable[str]) -> str:
    """Names in backticks: `a`, `b` and `c`."""
    return quoted(dict.fromkeys(names))


def grouped(pairs: list[Pair]) -> list[list[Pair]]:
    """Pairs by box where a box is at fault (more microphones than boxes), else by the place of the microphone."""
    boxes = {box for _, _, box in pairs}
    spots = {spot for _, spot, _ in pairs}
    by_box = len(boxes) < len(spots)
    out: dict[object, list[Pair]] = {}
    for pair in pairs:
        out.setdefault(pair[2] if by_box else pair[1], []).append(pair)
    return list(out.values())
