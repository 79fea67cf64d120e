"""Labels beside their marks, none over another or over a mark. Greedy: large ones first, each at the nearest free of a
fixed run of places around its mark, so the same marks give the same drawing. A label that finds no room within the
sheet goes below it, and the sheet grows.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, NamedTuple

RINGS: Final = (6.0, 14.0, 26.0, 42.0, 62.0, 88.0, 120.0, 160.0, 210.0, 270.0, 340.0, 420.0, 520.0)
"""Distances from the mark that are tried, in px."""
TURNS: Final = 16
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
    blocked = list(taken)
    out: dict[int, Rect] = {}
    bottom = sheet.bottom
    over: list[Wish] = []
    for wish in sorted(wishes, key=lambda w: (-w.width * w.height, w.key)):
        free = [r for r in _tries(wish, sheet) if not any(r.meets(other, ROOM) for other in blocked)]
        # better a little farther than a line over something; better such a line than very far
        found = next((r for r in free[:TURNS] if _clear(r, wish.mark, blocked)), free[0] if free else None)
        if found is None:
            over.append(wish)
            continue
        out[wish.key] = found
        blocked += [found, *_strip(found, wish.mark)]
    left, deep = sheet.left + ROOM, 0.0
    for wish in over:
        if left + wish.width > sheet.right and deep:
            left, bottom, deep = sheet.left + ROOM, bottom + deep + ROOM, 0.0
        out[wish.key] = Rect(left, bottom + ROOM, left + wish.width, bottom + ROOM + wish.height)
        left += wish.width + ROOM
        deep = max(deep, wish.height + ROOM)
    return out, bottom + deep + (ROOM if over else 0.0)


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
