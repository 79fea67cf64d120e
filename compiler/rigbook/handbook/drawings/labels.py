"""Labels beside their marks, none over another or over a mark. Greedy: large ones first, each at the nearest free of a
fixed run of places around its mark, so the same marks give the same drawing. A label that finds no room within the
sheet goes below it, and the sheet grows.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from rigbook.handbook.drawings.label_board import ASTRAY, ROOM, Board
from rigbook.handbook.drawings.label_places import Rect, Wish, leader

__all__ = ["Rect", "Wish", "leader", "place"]

NEIGHBOURS: Final = 5
"""Labels near a mark that are asked to give way."""
ROUNDS: Final = 2
"""How often each label is taken up and put down again, now that it is known where the others lie."""


def place(wishes: Iterable[Wish], taken: Iterable[Rect], sheet: Rect) -> tuple[dict[int, Rect], float]:
    """Where each label goes, and the bottom of the sheet that holds them all. `taken` is where no label may lie."""
    order = tuple(sorted(wishes, key=lambda w: (-w.width * w.height, w.key)))
    board = Board({w.key: w for w in order}, tuple(taken), sheet)
    bottom = sheet.bottom
    for _ in range(1 + ROUNDS):
        for wish in order:
            found, _cost = board.best(wish)
            board.put(wish, found or board.placed.get(wish.key))
    _make_way(board, order)
    out = board.placed
    over = [w for w in order if w.key not in out]
    left, deep = sheet.left + ROOM, 0.0
    for wish in over:
        if left + wish.width > sheet.right and deep:
            left, bottom, deep = sheet.left + ROOM, bottom + deep + ROOM, 0.0
        out[wish.key] = Rect(left, bottom + ROOM, left + wish.width, bottom + ROOM + wish.height)
        left += wish.width + ROOM
        deep = max(deep, wish.height + ROOM)
    return out, bottom + deep + (ROOM if over else 0.0)


def _make_way(board: Board, order: tuple[Wish, ...]) -> None:
    """Where a label came to lie badly, a neighbour that has room elsewhere gives way, if both together gain."""
    for wish in order:
        _, cost = board.best(wish)
        if cost < ASTRAY:
            continue
        for key in board.nearest(wish, NEIGHBOURS):
            other = board.wishes[key]
            old, its_old = board.take(wish), board.take(other)
            mine, my_cost = board.best(wish)
            board.put(wish, mine)
            its, its_cost = board.best(other) if mine else (None, 0.0)
            board.put(wish, old)
            board.put(other, its_old)
            if mine and its and my_cost + its_cost < cost + board.best(other)[1] - 1:
                board.put(wish, mine)
                board.put(other, its)
                break
