"""Audience areas as points: where ears are, row by row from the stage."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from rigbook.compute.delays import EAR_M, STANDING_M
from rigbook.compute.places import Places, Spot
from rigbook.language.record import Record
from rigbook.physics.aim import distance_between
from rigbook.records import frozen

LEAST_M2 = 1e-4
"""An outline smaller than a hand is a line or a mistake; a single seat or a measuring point is none."""


@frozen
class Area:
    """An audience area: its outline at floor level and the height of the ears above it."""

    name: str
    corners: tuple[Spot, ...]
    ear_m: float
    record: Record

    @property
    def size_m2(self) -> float:
        """Area seen from above, m²."""
        c = self.corners
        turned = zip(c, (*c[1:], c[0]), strict=True)
        return abs(sum(a.x * b.y - b.x * a.y for a, b in turned)) / 2

    @property
    def middle(self) -> Spot:
        """Ears in its middle."""
        n = len(self.corners)
        x, y = sum(c.x for c in self.corners) / n, sum(c.y for c in self.corners) / n
        return Spot(x, y, self.floor(x, y) + self.ear_m)

    def floor(self, x: float, y: float) -> float:
        """Height of the floor at a place: between front and rear in proportion to the distance from the front."""
        low, high = min(self.corners, key=lambda c: c.y), max(self.corners, key=lambda c: c.y)
        if high.y == low.y:
            return low.z
        return low.z + (high.z - low.z) * min(max((y - low.y) / (high.y - low.y), 0.0), 1.0)

    def rows(self, points: int) -> tuple[tuple[Spot, ...], ...]:
        """Rows of ears from the stage backwards, about so many points in all, the same distance apart both ways.

        The first and last row, and the ends of each row, lie a quarter of that distance within the outline.
        """
        step = math.sqrt(max(self.size_m2, 0.01) / max(points, 1))
        front, rear = min(c.y for c in self.corners), max(c.y for c in self.corners)
        found = (self._row(y, step) for y in _spread(front, rear, step))
        return tuple(row for row in found if row)

    def _row(self, y: float, step: float) -> tuple[Spot, ...]:
        row = []
        for left, right in crossings(self.corners, y):
            row += [Spot(x, y, self.floor(x, y) + self.ear_m) for x in _spread(left, right, step)]
        return tuple(row)


def _spread(low: float, high: float, step: float) -> Iterator[float]:
    margin = min(step / 4, (high - low) / 2)
    count = max(1, math.ceil((high - low) / step))
    if count == 1:
        yield (low + high) / 2
        return
    for i in range(count):
        yield low + margin + (high - low - 2 * margin) * i / (count - 1)


def crossings(corners: tuple[Spot, ...], y: float) -> Iterator[tuple[float, float]]:
    """Where a line across the room, `y` m out, lies within an outline: pairs of x in m, from house left."""
    found = []
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (a.y <= y) != (b.y <= y):
            found.append(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
    found.sort()
    yield from zip(found[::2], found[1::2], strict=False)


def nearest(every: Sequence[Area], spot: Spot) -> Area:
    """The area whose middle is nearest to a place; one or more areas."""
    return min(every, key=lambda area: distance_between(spot, area.middle))


def areas(places: Places) -> tuple[Area, ...]:
    """Every audience area of a room that has an extent, in plan order."""
    room = places.room
    out = []
    for entry in room.get("audience", ()) if room else ():
        if isinstance(entry.value, Record):
            area = _area(entry.name, entry.value, places)
            if area is not None and area.size_m2 > LEAST_M2:
                out.append(area)
    return tuple(out)


def _area(name: str, record: Record, places: Places) -> Area | None:
    outline = [spot for p in record.get("outline", ()) if (spot := places.spot(p))]
    start, end = places.spot(record.get("from")), places.spot(record.get("to"))
    if len(outline) < 3 and start and end:
        outline = [start, Spot(end.x, start.y, start.z), end, Spot(start.x, end.y, end.z)]
    if len(outline) < 3:
        return None
    typed = record.get("ear-height")
    ear = float(typed.value) if typed is not None else (STANDING_M if record.get("standing") else EAR_M)
    return Area(name, tuple(outline), ear, record)
