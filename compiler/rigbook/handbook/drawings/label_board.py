"""The board on which labels lie beside their marks: what each place around a mark costs.

What does not change while labels come and go (the places around a mark, how far each is, whether a mark lies there)
is worked out once; what may lie near is looked up by squares of the sheet. So a sheet of a hundred labels takes
hundreds of looks, not millions.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Final, NamedTuple

from rigbook.handbook.drawings.label_places import Rect, Rings, Wish, far, strip
from rigbook.records import field, frozen

CROSSED: Final = 70.0
"""How much farther a label may go so that the line to its mark passes over nothing, in px."""
ASTRAY: Final = 60.0
"""How much farther it may go so that no other mark lies nearer to it than its own, in px."""
ROOM: Final = 3.0
"""Least distance between two labels, in px."""
NO_KEY: Final = -1
"""Key of what belongs to no label."""
SQUARE: Final = 64.0
"""Side of a square of the sheet, in px: about a label."""


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

    def meets(self, box: Rect, room: float, key: int, mark: Rect | None = None) -> bool:
        """True where some box but those under a key, and but a mark, overlaps, or comes closer than `room`."""
        left, top, right, bottom = box.left - room, box.top - room, box.right + room, box.bottom + room
        # in place, not by `near`: a sheet of a thousand labels asks a million times
        for x in range(int(left // SQUARE), int(right // SQUARE) + 1):
            for y in range(int(top // SQUARE), int(bottom // SQUARE) + 1):
                for own, other in self.found.get((x, y), ()):
                    if (
                        box.left < other.right + room
                        and other.left < right
                        and box.top < other.bottom + room
                        and other.top < bottom
                        and own != key
                        and other != mark
                    ):
                        return True
        return False


def _squares(box: Rect, room: float) -> Iterator[tuple[int, int]]:
    first, last = int((box.left - room) // SQUARE), int((box.right + room) // SQUARE)
    top, bottom = int((box.top - room) // SQUARE), int((box.bottom + room) // SQUARE)
    if first == last and top == bottom:
        return iter(((first, top),))
    return ((x, y) for x in range(first, last + 1) for y in range(top, bottom + 1))


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
    _rings: dict[int, Rings] = field(default_factory=dict)
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
        for ring in self._around(wish):
            if ring.nearest >= least - 0.5:
                break
            shut = set[int]()
            for number, label, way in ring.spots:
                if way >= least - 0.5:
                    continue
                if number not in ring.open:
                    if self._kept.meets(label, ROOM, key):
                        shut.add(number)
                        continue
                    ring.open.add(number)
                if self._labels.meets(label, ROOM, key) or self._lines.meets(label, 0.0, key):
                    continue
                cost = self._costs(wish, number, label, way)
                if cost < least - 0.5:
                    best, least = label, cost
            if shut:
                ring.spots = [spot for spot in ring.spots if spot.number not in shut]
        return best, least

    def nearest(self, wish: Wish, count: int) -> list[int]:
        """Keys of the labels that lie nearest to a mark, but for its own."""
        reach = SQUARE
        every = len(self.placed.keys() - {wish.key})
        while True:
            # whatever is closer than `reach` is among these
            near = dict(self._labels.near(wish.mark, reach))
            found = {key: far(label, wish.mark) for key, label in near.items() if key != wish.key}
            if sum(way <= reach for way in found.values()) >= count or len(found) == every:
                return sorted(found, key=lambda key: (found[key], key))[:count]
            reach *= 2

    def _around(self, wish: Wish) -> Rings:
        found = self._rings.get(wish.key)
        if found is None:
            found = self._rings[wish.key] = Rings(wish, self.sheet)
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
        return any(squares.meets(bit, 0.0, wish.key, wish.mark) for bit in line)
