"""Pieces to runs: every case against all there is to try; without joins also against a linear assignment of scipy."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from rigbook.compute.assignment import Assignment, Cost, assign

SMALL = st.lists(st.integers(1, 9), max_size=6)
FEW = st.lists(st.integers(1, 9), max_size=4)


def checked(runs: list[int], owned: list[int], most: int = 1) -> Assignment:
    """The answer, after it was seen to add up."""
    got = assign(runs, owned, most)
    used = [p for pieces in got.pieces for p in pieces]
    assert sorted([*used, *got.left]) == sorted(owned)
    assert all(len(pieces) <= most and (not pieces or sum(pieces) >= run)
               for run, pieces in zip(runs, got.pieces, strict=True))
    more = sum(sum(p) - run for run, p in zip(runs, got.pieces, strict=True) if p)
    joints = sum(len(p) - 1 for p in got.pieces if p)
    assert got.cost == (sum(not p for p in got.pieces), joints, more)
    return got


def by_trying_everything(runs: list[int], owned: list[int], most: int) -> Cost:
    """The best of all ways to give pieces to runs, with nothing clever about it."""

    def ways(at: int, free: tuple[int, ...]) -> Iterator[Cost]:
        if at == len(runs):
            yield 0, 0, 0
            return
        for number in range(most + 1):
            for taken in combinations(range(len(free)), number):
                long = sum(free[i] for i in taken)
                if number and long < runs[at]:
                    continue
                rest = tuple(p for i, p in enumerate(free) if i not in taken)
                for lacking, joints, more in ways(at + 1, rest):
                    yield lacking + (not number), joints + max(number - 1, 0), more + (long - runs[at] if number else 0)

    return min(ways(0, tuple(owned)))


@settings(deadline=None)
@given(runs=SMALL, owned=SMALL)
def test_without_joins_nothing_is_better(runs: list[int], owned: list[int]) -> None:
    """Against scipy's linear_sum_assignment: a run without a cable costs more than all waste together."""
    got = checked(runs, owned)
    assert got.proven
    if not runs or not owned:
        assert got.cost[0] == len(runs)
        return
    worst = 1000
    cost = np.array([[p - r if p >= r else worst for p in owned] + [worst] * len(runs) for r in runs])
    rows, columns = linear_sum_assignment(cost)
    total = int(cost[rows, columns].sum())
    assert (got.cost[0], got.cost[2]) == divmod(total, worst)


@settings(max_examples=150, deadline=None)
@given(runs=FEW, owned=st.lists(st.integers(1, 6), max_size=5), most=st.integers(1, 3))
def test_with_joins_nothing_is_better(runs: list[int], owned: list[int], most: int) -> None:
    got = checked(runs, owned, most)
    assert got.proven
    assert got.cost == by_trying_everything(runs, owned, most)


@pytest.mark.parametrize(("runs", "owned", "most", "pieces"), [
    ([8], [5, 10, 20], 1, [(10,)]),                                  # the shortest that reaches
    ([8, 10], [10, 20], 1, [(20,), (10,)]),                          # in the order in which they were given
    ([10, 5], [10], 1, [(10,), ()]),                                 # one goes without: the shorter, for less waste
    ([20], [15, 10, 5], 2, [(5, 15)]),                               # joined, with least waste
    ([20], [15, 10, 5], 1, [()]),                                    # not where it is not allowed
    ([20, 10, 10], [10, 10], 2, [(), (10,), (10,)]),                 # two that are served before one
    ([12, 9], [9, 6, 6], 2, [(6, 6), (9,)]),
    ([30], [10, 10, 10], 3, [(10, 10, 10)]),
    ([], [10], 1, []), ([10], [], 3, [()]),
])  # fmt: skip
def test_by_hand(runs: list[int], owned: list[int], most: int, pieces: list[tuple[int, ...]]) -> None:
    assert list(checked(runs, owned, most).pieces) == pieces


def test_a_search_that_was_cut_short_says_so_and_still_adds_up() -> None:
    runs, owned = [17, 16, 15, 14, 13, 12] * 4, [5, 6, 7, 8, 9, 10] * 6
    assert not assign(runs, owned, 3, states=3).proven
    assert assign(runs[:6], owned[:18], 3).proven
    checked(runs, owned, 3)


def test_large_stores_do_not_overflow() -> None:
    assert checked([20] * 900, []).cost == (900, 0, 0)
    assert checked([20] * 900, [10] * 1800, 2).cost == (0, 900, 0)
