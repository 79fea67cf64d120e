"""The board that labels lie on: its looks by squares and what it remembers change nothing that is chosen."""

from __future__ import annotations

import math
from itertools import chain, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from rigbook.handbook.drawings.label_board import ASTRAY, CROSSED, ROOM, Board, Squares
from rigbook.handbook.drawings.label_places import Rect, Rings, Wish, far, strip, tries

SHEET = Rect(0, 0, 700, 400)
MARKS = st.tuples(st.floats(0, 690), st.floats(0, 390), st.floats(20, 160), st.floats(14, 90))


def plain(wish: Wish, board: Board) -> tuple[Rect | None, float]:
    """The best place as the words say it: every place against everything that lies on the sheet."""
    others = [w for w in board.wishes.values() if w.key != wish.key]
    blocked = [*board.taken, *(label for key, label in board.placed.items() if key != wish.key)]
    lines = [bit for w in others if w.key in board.placed for bit in strip(board.placed[w.key], w.mark)]
    best, least = None, math.inf
    for label in chain.from_iterable(tries(wish, SHEET)):
        way = far(label, wish.mark)
        if any(label.meets(other, ROOM) for other in blocked) or any(label.meets(bit) for bit in lines):
            continue
        crossed = any(b.meets(o) for b in strip(label, wish.mark) for o in blocked if o != wish.mark)
        cost = way + (CROSSED if crossed else 0.0)
        cost += ASTRAY if any(far(label, w.mark) < way for w in others) else 0.0
        if way < least - 0.5 and cost < least - 0.5:
            best, least = label, cost
    return best, least


@settings(max_examples=15, deadline=None)
@given(st.lists(MARKS, min_size=1, max_size=25), st.randoms(use_true_random=False))
def test_the_best_place_is_the_best_of_all(marks, chance) -> None:
    rects = [Rect(x - 8, y - 8, x + 8, y + 8) for x, y, _, _ in marks]
    board = Board({i: Wish(i, rects[i], w, h) for i, (_, _, w, h) in enumerate(marks)}, tuple(rects), SHEET)
    for wish in board.wishes.values():
        found = board.best(wish)
        assert found == plain(wish, board)
        board.put(wish, found[0])
    for wish in chance.sample(list(board.wishes.values()), min(len(marks), 5)):
        old = board.take(wish)
        assert board.best(wish) == plain(wish, board)
        board.put(wish, old)


@settings(max_examples=50, deadline=None)
@given(MARKS, st.floats(-50, 750), st.floats(-50, 450))
def test_in_each_direction_a_farther_ring_is_no_nearer(mark, x, y) -> None:
    _, _, wide, high = mark
    wish = Wish(0, Rect(x - 8, y - 8, x + 8, y + 8), wide, high)
    rings = [[spot.way for spot in ring.spots] for ring in Rings(wish, SHEET)]
    for near, farther in pairwise(rings):
        assert all(a <= b + 1e-9 for a, b in zip(near, farther))


@settings(max_examples=25, deadline=None)
@given(st.lists(MARKS, min_size=2, max_size=40))
def test_the_nearest_labels_are_the_nearest_of_all(marks) -> None:
    rects = [Rect(x - 8, y - 8, x + 8, y + 8) for x, y, _, _ in marks]
    board = Board({i: Wish(i, rects[i], w, h) for i, (_, _, w, h) in enumerate(marks)}, tuple(rects), SHEET)
    for wish in board.wishes.values():
        board.put(wish, board.best(wish)[0])
    for wish in board.wishes.values():
        every = sorted((far(label, wish.mark), key) for key, label in board.placed.items() if key != wish.key)
        assert board.nearest(wish, 5) == [key for _, key in every[:5]]


def test_what_is_taken_up_is_gone() -> None:
    squares, box = Squares(), Rect(-10, -10, 200, 30)
    squares.put(1, box)
    assert squares.meets(Rect(199, 0, 210, 5), 0.0, 2)
    assert not squares.meets(Rect(199, 0, 210, 5), 0.0, 1), "its own"
    assert squares.meets(Rect(202, 0, 210, 5), 3.0, 2) and not squares.meets(Rect(202, 0, 210, 5), 1.0, 2)
    squares.take(1, box)
    assert not squares.meets(Rect(199, 0, 210, 5), 0.0, 2)
