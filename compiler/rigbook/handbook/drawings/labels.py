"""Labels beside their marks, none over another or over a mark. Greedy: large ones first, each at the nearest free of a
fixed run of places around its mark, so the same marks give the same drawing. A label that finds no room within the
sheet goes below it, and the sheet grows.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

RINGS: Final = (4.0, 9.0, 15.0, 22.0, 30.0, 40.0, 52.0, 66.0, 84.0, 108.0, 140.0, 180.0, 240.0, 340.0, 480.0)
"""Distances from the mark that are tried, in px."""
TURNS: Final = 32
"""Directions that are tried."""
CROSSED: Final = 70.0
"""How much farther a label may go so that the line to its mark passes over nothing, in px."""
ASTRAY: Final = 60.0
"""How much farther it may go so that no other mark lies nearer to it than its own, in px."""
NEIGHBOURS: Final = 5
"""Labels near a mark that are asked to give way."""
ROUNDS: Final = 2
"""How often each label is taken up and put down again, now that it is known where the others lie."""
ROOM: Final = 3.0
"""Least distance between two labels, in px."""


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


@dataclass(frozen=True)
class Wish:
    """A label that wants a place: its size, and the mark that it belongs to."""

    key: int
    mark: Rect
    width: float
    height: float


def place(wishes: Iterable[Wish], taken: Iterable[Rect], sheet: Rect) -> tuple[dict[int, Rect], float]:
    """Where each label goes, and the bottom of the sheet that holds them all. `taken` is where no label may lie."""
    board = _Board(tuple(sorted(wishes, key=lambda w: (-w.width * w.height, w.key))), tuple(taken), sheet)
    order, out = board.order, dict[int, Rect]()
    bottom = sheet.bottom
    for _ in range(1 + ROUNDS):
        for wish in order:
            found, _cost = board.best(wish, out)
            if found is not None:
                out[wish.key] = found
    board.make_way(out)
    over = [w for w in order if w.key not in out]
    left, deep = sheet.left + ROOM, 0.0
    for wish in over:
        if left + wish.width > sheet.right and deep:
            left, bottom, deep = sheet.left + ROOM, bottom + deep + ROOM, 0.0
        out[wish.key] = Rect(left, bottom + ROOM, left + wish.width, bottom + ROOM + wish.height)
        left += wish.width + ROOM
        deep = max(deep, wish.height + ROOM)
    return out, bottom + deep + (ROOM if over else 0.0)


@dataclass(frozen=True)
class _Board:
    """Labels, large ones first, with what none may lie on."""

    order: tuple[Wish, ...]
    taken: tuple[Rect, ...]
    sheet: Rect

    def best(self, wish: Wish, placed: Mapping[int, Rect]) -> tuple[Rect | None, float]:
        """The free place that costs least beside the labels that are placed, and what it costs."""
        others = [w for w in self.order if w.key != wish.key]
        blocked = [*self.taken, *(placed[w.key] for w in others if w.key in placed)]
        lines = [bit for w in others if w.key in placed for bit in _strip(placed[w.key], w.mark)]
        best: Rect | None = None
        least = math.inf
        for label in _tries(wish, self.sheet):
            way = _far(label, wish.mark)
            if way >= least - 0.5 or any(label.meets(other, ROOM) for other in blocked):
                continue
            if any(label.meets(bit) for bit in lines):
                continue
            cost = way + (0.0 if _clear(label, wish.mark, blocked) else CROSSED)
            cost += ASTRAY if any(_far(label, w.mark) < way for w in others) else 0.0
            if cost < least - 0.5:
                best, least = label, cost
        return best, least

    def make_way(self, placed: dict[int, Rect]) -> None:
        """Where a label came to lie badly, a neighbour that has room elsewhere gives way, if both together gain."""
        for wish in self.order:
            _, cost = self.best(wish, placed)
            if cost < ASTRAY:
                continue
            near = sorted(
                (w for w in self.order if w.key in placed and w.key != wish.key),
                key=lambda w: (_far(placed[w.key], wish.mark), w.key),
            )
            for other in near[:NEIGHBOURS]:
                rest = {key: label for key, label in placed.items() if key not in (wish.key, other.key)}
                mine, my_cost = self.best(wish, rest)
                if mine is None:
                    continue
                its, its_cost = self.best(other, {**rest, wish.key: mine})
                if its is not None and my_cost + its_cost < cost + self.best(other, placed)[1] - 1:
                    placed.update({wish.key: mine, other.key: its})
                    break


def _far(label: Rect, mark: Rect) -> float:
    """Distance between a label and its mark, edge to edge."""
    across = max(label.left - mark.right, mark.left - label.right, 0.0)
    along = max(label.top - mark.bottom, mark.top - label.bottom, 0.0)
    return math.hypot(across, along)


def _clear(label: Rect, mark: Rect, blocked: list[Rect]) -> bool:
    """True where the line from a label to its mark passes over nothing."""
    return not any(bit.meets(other) for bit in _strip(label, mark) for other in blocked if other != mark)


def _strip(label: Rect, mark: Rect) -> list[Rect]:
    """The line from a label to its mark as a run of small boxes, the ends left out; none where there is no line."""
    line = leader(label, mark)
    if line is None:
        return []
    x1, y1, x2, y2 = line
    count = max(int(math.hypot(x2 - x1, y2 - y1) / 4), 1)
    points = ((x1 + (x2 - x1) * i / count, y1 + (y2 - y1) * i / count) for i in range(1, count))
    return [Rect(x - 1, y - 1, x + 1, y + 1) for x, y in points]


def _tries(wish: Wish, sheet: Rect) -> Iterable[Rect]:
    """Places around the mark, near ones first; within a ring to the right, to the left, then below and above."""
    m = wish.mark
    middle, level = (m.left + m.right) / 2, (m.top + m.bottom) / 2
    order = sorted(range(TURNS), key=lambda i: (abs(math.sin(i * math.tau / TURNS)), i))
    for ring in RINGS:
        for i in order:
            x, y = math.cos(i * math.tau / TURNS), math.sin(i * math.tau / TURNS)
            # the box touches an ellipse around the mark with the side or corner that faces it
            left = middle + x * ((m.right - m.left) / 2 + ring + wish.width / 2) - wish.width / 2
            top = level + y * ((m.bottom - m.top) / 2 + ring + wish.height / 2) - wish.height / 2
            left = min(max(left, sheet.left), sheet.right - wish.width)
            top = min(max(top, sheet.top), sheet.bottom - wish.height)
            if left >= sheet.left and top >= sheet.top:
                yield Rect(left, top, left + wish.width, top + wish.height)


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
