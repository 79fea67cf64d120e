"""Boxes on a sheet, and the places around a mark where its label may lie: ring by ring, near ones first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final, NamedTuple

from rigbook.records import frozen

RINGS: Final = (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0, 66.0, 84.0, 108.0, 140.0, 180.0, 240.0, 340.0, 480.0)
"""Distances from the mark that are tried, in px."""
TURNS: Final = 32
"""Directions that are tried."""
DIRECTIONS: Final = tuple(
    (math.cos(i * math.tau / TURNS), math.sin(i * math.tau / TURNS))
    for i in sorted(range(TURNS), key=lambda i: (abs(math.sin(i * math.tau / TURNS)), i))
)
"""To the right, to the left, then below and above."""


class Rect(NamedTuple):
    """Left, top, right, bottom, in px."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Rect, room: float = 0.0) -> bool:
        """True where the two overlap, or come closer than `room`."""
        return (
            self.left < other.right + room
            and other.left < self.right + room
            and self.top < other.bottom + room
            and other.top < self.bottom + room
        )


@frozen
class Wish:
    """A label that wants a place: its size, and the mark that it belongs to."""

    key: int
    mark: Rect
    width: float
    height: float


def far(label: Rect, mark: Rect) -> float:
    """Distance between a label and its mark, edge to edge."""
    across = max(label.left - mark.right, mark.left - label.right, 0.0)
    along = max(label.top - mark.bottom, mark.top - label.bottom, 0.0)
    return math.hypot(across, along)


def strip(label: Rect, mark: Rect) -> list[Rect]:
    """The line from a label to its mark as a run of small boxes, the ends left out; none where there is no line."""
    line = leader(label, mark)
    if line is None:
        return []
    x1, y1, x2, y2 = line
    count = max(int(math.hypot(x2 - x1, y2 - y1) / 4), 1)
    points = ((x1 + (x2 - x1) * i / count, y1 + (y2 - y1) * i / count) for i in range(1, count))
    return [Rect(x - 1, y - 1, x + 1, y + 1) for x, y in points]


def leader(label: Rect, mark: Rect) -> tuple[float, float, float, float] | None:
    """A line from the label to its mark; None where they stand close enough to need none."""
    x, y = (mark.left + mark.right) / 2, (mark.top + mark.bottom) / 2
    near_x = min(max(x, label.left), label.right)
    near_y = min(max(y, label.top), label.bottom)
    far = math.hypot(near_x - x, near_y - y)
    reach = math.hypot(mark.right - x, mark.bottom - y)
    if far < reach + 8:
        return None
    scale = (far - reach * 0.7) / far
    return near_x, near_y, near_x + (x - near_x) * scale, near_y + (y - near_y) * scale


def tries(wish: Wish, sheet: Rect) -> Iterator[list[Rect]]:
    """Places around the mark, ring by ring, near ones first; within a ring to the right, to the left, then below and
    above. In each direction a place of a farther ring lies no nearer to the mark.
    """
    m = wish.mark
    middle, level = (m.left + m.right) / 2, (m.top + m.bottom) / 2
    wide, high = wish.width, wish.height
    across, along = (m.right - m.left) / 2, (m.bottom - m.top) / 2
    last_left, last_top = sheet.right - wide, sheet.bottom - high
    if last_left < sheet.left or last_top < sheet.top:
        return
    for ring in RINGS:
        reach_x, reach_y = across + ring + wide / 2, along + ring + high / 2
        places = []
        for x, y in DIRECTIONS:
            # the box touches an ellipse around the mark with the side or corner that faces it
            left = min(max(middle + x * reach_x - wide / 2, sheet.left), last_left)
            top = min(max(level + y * reach_y - high / 2, sheet.top), last_top)
            places.append(Rect(left, top, left + wide, top + high))
        yield places


class Spot(NamedTuple):
    """A place around a mark, and what can be said of it whatever labels lie there."""

    number: int
    label: Rect
    way: float
    """From the mark, in px."""


class Ring:
    """The places of one ring around a mark."""

    __slots__ = ("nearest", "open", "spots")

    def __init__(self, spots: list[Spot]) -> None:
        self.nearest = min(s.way for s in spots)
        """The way of the nearest; those of later rings are no nearer."""
        self.spots = spots
        """Those on which no mark is known to lie."""
        self.open: set[int] = set()
        """Numbers of those on which none lies."""


class Rings:
    """The rings around a mark, each worked out when it is first asked for: most labels find room in the first."""

    def __init__(self, wish: Wish, sheet: Rect) -> None:
        self._mark = wish.mark
        self._more = tries(wish, sheet)
        self._made: list[Ring] = []

    def __iter__(self) -> Iterator[Ring]:
        yield from self._made
        for places in self._more:
            first = len(self._made) * TURNS
            self._made.append(Ring([Spot(n, place, far(place, self._mark)) for n, place in enumerate(places, first)]))
            yield self._made[-1]
