"""Boxes on a sheet, and the board on which labels lie beside their marks: what each place around a mark costs.

What does not change while labels come and go (the places around a mark, how far each is, whether a mark lies there)
is worked out once; what may lie near is looked up by squares of the sheet. So a sheet of a hundred labels takes
hundreds of looks, not millions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Final, NamedTuple

from rigbook.records import field, frozen

RINGS: Final = (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0, 66.0, 84.0, 108.0, 140.0, 180.0, 240.0, 340.0, 480.0)
"""Distances from the mark that are tried, in px."""
TURNS: Final = 32
"""Directions that are tried."""
CROSSED: Final = 70.0
"""How much farther a label may go so that the line to its mark passes over nothing, in px."""
ASTRAY: Final = 60.0
"""How much farther it may go so that no other mark lies nearer to it than its own, in px."""
ROOM: Final = 3.0
"""Least distance between two labels, in px."""
NO_KEY: Final = -1
"""Key of what belongs to no label."""
DIRECTIONS: Final = tuple(
    (math.cos(i * math.tau / TURNS), math.sin(i * math.tau / TURNS))
    for i in sorted(range(TURNS), key=lambda i: (abs(math.sin(i * math.tau / TURNS)), i))
)
"""To the right, to the left, then below and above."""
SQUARE: Final = 64.0
"""Side of a square of the sheet, in px: about a label."""


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


def tries(wish: Wish, sheet: Rect) -> Iterator[Rect]:
    """Places around the mark, near ones first; within a ring to the right, to the left, then below and above."""
    m = wish.mark
    middle, level = (m.left + m.right) / 2, (m.top + m.bottom) / 2
    wide, high = wish.width, wish.height
    across, along = (m.right - m.left) / 2, (m.bottom - m.top) / 2
    last_left, last_top = sheet.right - wide, sheet.bottom - high
    if last_left < sheet.left or last_top < sheet.top:
        return
    for ring in RINGS:
        reach_x, reach_y = across + ring + wide / 2, along + ring + high / 2
        for x, y in DIRECTIONS:
            # the box touches an ellipse around the mark with the side or corner that faces it
            left = min(max(middle + x * reach_x - wide / 2, sheet.left), last_left)
            top = min(max(level + y * reach_y - high / 2, sheet.top), last_top)
            yield Rect(left, top, left + wide, top + high)


@frozen
class Squares:
    """Boxes by the squares of the sheet that they touch."""

    found: dict[tuple[int, int], list[tuple[int, Rect]]] = field(default_factory=dict)

    def put(self, key: int, box: Rect) -> None:
        """Add a box under a key."""
        for square in _squares(box, 0.0):
            self.found.setdefault(square, []).append((key, box))

    def take(self, key: int, box: Rect) -> None:
        """Take a box away again."""
        for square in _squares(box, 0.0):
            self.found[square].remove((key, box))

    def near(self, box: Rect, room: float) -> Iterator[tuple[int, Rect]]:
        """Boxes that may come closer than `room`, some of them more than once."""
        for square in _squares(box, room):
            yield from self.found.get(square, ())

    def meets(self, box: Rect, room: float, key: int) -> bool:
        """True where some box but those under a key overlaps, or comes closer than `room`."""
        left, top, right, bottom = box.left, box.top, box.right + room, box.bottom + room
        for square in _squares(box, room):
            for own, other in self.found.get(square, ()):
                if (
                    left < other.right + room
                    and other.left < right
                    and top < other.bottom + room
                    and other.top < bottom
                    and own != key
                ):
                    return True
        return False


def _squares(box: Rect, room: float) -> Iterator[tuple[int, int]]:
    first, last = int((box.left - room) // SQUARE), int((box.right + room) // SQUARE)
    top, bottom = int((box.top - room) // SQUARE), int((box.bottom + room) // SQUARE)
    if first == last and top == bottom:
        return iter(((first, top),))
    return ((x, y) for x in range(first, last + 1) for y in range(top, bottom + 1))


class Spot(NamedTuple):
    """A place around a mark, and what can be said of it whatever labels lie there."""

    label: Rect
    way: float
    """From the mark, in px."""


class Price(NamedTuple):
    """What a place costs besides its way, but for the labels that its line may cross."""

    astray: float
    crossed: bool
    """The line passes over a mark or a name."""
    line: tuple[Rect, ...]
    """The line, where labels may lie on it."""


@frozen
class Board:
    """Labels beside their marks."""

    wishes: Mapping[int, Wish]
    taken: tuple[Rect, ...]
    sheet: Rect
    placed: dict[int, Rect] = field(default_factory=dict)
    _spots: dict[int, tuple[Spot, ...]] = field(default_factory=dict)
    _open: dict[tuple[int, int], bool] = field(default_factory=dict)
    _cost: dict[tuple[int, int], Price] = field(default_factory=dict)
    _labels: Squares = field(default_factory=Squares)
    _lines: Squares = field(default_factory=Squares)

    @cached_property
    def _kept(self) -> Squares:
        """Where no label may lie."""
        out = Squares()
        for box in self.taken:
            out.put(NO_KEY, box)
        return out

    @cached_property
    def _marks(self) -> Squares:
        """Marks by the key of their label."""
        out = Squares()
        for wish in self.wishes.values():
            out.put(wish.key, wish.mark)
        return out

    def put(self, wish: Wish, label: Rect | None) -> None:
        """Lay a label, or take it up where there is none to lay."""
        self.take(wish)
        if label is not None:
            self.placed[wish.key] = label
            self._labels.put(wish.key, label)
            for bit in strip(label, wish.mark):
                self._lines.put(wish.key, bit)

    def take(self, wish: Wish) -> Rect | None:
        """Take a label up; gives where it lay."""
        label = self.placed.pop(wish.key, None)
        if label is not None:
            self._labels.take(wish.key, label)
            for bit in strip(label, wish.mark):
                self._lines.take(wish.key, bit)
        return label

    def best(self, wish: Wish) -> tuple[Rect | None, float]:
        """The free place that costs least beside the labels that lie there, and what it costs."""
        best: Rect | None = None
        least = math.inf
        key = wish.key
        for number, (label, way) in enumerate(self._around(wish)):
            if way >= least - 0.5 or not self._is_open(wish, number, label):
                continue
            if self._labels.meets(label, ROOM, key) or self._lines.meets(label, 0.0, key):
                continue
            cost = self._costs(wish, number, label, way)
            if cost < least - 0.5:
                best, least = label, cost
        return best, least

    def _around(self, wish: Wish) -> tuple[Spot, ...]:
        found = self._spots.get(wish.key)
        if found is None:
            spots = (Spot(label, far(label, wish.mark)) for label in tries(wish, self.sheet))
            found = self._spots[wish.key] = tuple(spots)
        return found

    def _is_open(self, wish: Wish, number: int, label: Rect) -> bool:
        """No mark lies there."""
        found = self._open.get((wish.key, number))
        if found is None:
            found = self._open[wish.key, number] = not self._kept.meets(label, ROOM, wish.key)
        return found

    def _costs(self, wish: Wish, number: int, label: Rect, way: float) -> float:
        """How far it is, more where another mark is nearer or the line to its own passes over something."""
        known = self._cost.get((wish.key, number))
        if known is None:
            astray = any(far(label, mark) < way for key, mark in self._marks.near(label, way) if key != wish.key)
            line = tuple(strip(label, wish.mark))
            crossed = self._crosses(self._kept, line, wish)
            known = self._cost[wish.key, number] = Price(ASTRAY if astray else 0.0, crossed, () if crossed else line)
        crossed = known.crossed or self._crosses(self._labels, known.line, wish)
        return way + (CROSSED if crossed else 0.0) + known.astray

    @staticmethod
    def _crosses(squares: Squares, line: tuple[Rect, ...], wish: Wish) -> bool:
        """True where a line passes over a box that is not its own mark."""
        return any(
            bit.meets(other)
            for bit in line
            for key, other in squares.near(bit, 0.0)
            if key != wish.key and other != wish.mark
        )
