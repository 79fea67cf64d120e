"""Which owned piece goes to which run of cable: the shortest that reaches, pieces joined where that is allowed.

Wanted, in this order: as few runs without a cable as can be, as few joints, as little cable more than is needed.

*Method.* Runs are taken from the longest down. A run that some free piece reaches takes the shortest such piece; no
other choice is better, since whatever the longer piece would have served, and whatever the run would have been served
by, can change places: both serve a run that is no longer. Only a run longer than every free piece is a question: it may
take any set of pieces that reaches with none to spare, or stay without. Those answers are searched whole; states that
were met before (the runs that are left, the pieces that are free) are not searched again, nor are ways that could not
be better even if every run that is left had the first choice. So without joins the answer is always the best; with
joins it is the best unless the search was cut short, which `proven` says.

Lengths are whole millimetres, so that sums are exact. The exchange argument is that of matroid matching: Edmonds and
Fulkerson, Transversals and Matroid Partition, 1965 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations_with_replacement, groupby
from math import comb
from typing import Final, TypeAlias

from rigbook.records import frozen

MOST_STATES: Final = 2_000
"""States that a search may keep. Real stores need some hundreds."""
MOST_SETS: Final = 20_000
"""Sets of joined pieces that are looked at for one run."""
DEEPEST: Final = 150
"""Questions that may be open at once, well within what Python's own stack takes."""

Pieces: TypeAlias = tuple[int, ...]
Stock: TypeAlias = tuple[tuple[int, int], ...]
"""(length in mm, pieces free), shortest first."""
Cost: TypeAlias = tuple[int, int, int]
"""Runs without a cable, joints, millimetres too many: compared in this order."""
Answer: TypeAlias = tuple[Cost, tuple[Pieces, ...]]


@frozen
class Assignment:
    """Pieces for each run, in the order in which the runs were given."""

    pieces: tuple[Pieces, ...]
    """Lengths in mm; empty where nothing is left that reaches."""
    cost: Cost
    left: Pieces
    """What stays in the store, in mm, shortest first."""
    proven: bool
    """False where the search was cut short: the answer is good, but perhaps not the best."""


def assign(runs: Sequence[int], owned: Sequence[int], most: int = 1, states: int = MOST_STATES) -> Assignment:
    """Serve runs from owned pieces, both lengths in mm. `most` is how many pieces may be joined to one run."""
    order = sorted(range(len(runs)), key=lambda i: -runs[i])
    free = tuple((length, owned.count(length)) for length in sorted(set(owned)))
    search = _Search(tuple(runs[i] for i in order), max(most, 1), states)
    cost, chosen = search.best(0, free)
    given = dict(zip(order, chosen, strict=True))
    pieces = tuple(given[i] for i in range(len(runs)))
    left = sorted(owned)
    for piece in (p for each in pieces for p in each):
        left.remove(piece)
    return Assignment(pieces, cost, tuple(left), not search.cut)


class _Search:
    """One search, with the states that it has met."""

    def __init__(self, runs: Pieces, most: int, states: int) -> None:
        self.runs, self.most, self.states = runs, most, states
        self.cut = False
        """True where some question was answered by the first good set, or not every set was looked at."""
        self._depth = 0
        self._known: dict[tuple[int, Stock], Answer] = {}
        self._chosen: dict[tuple[int, Stock], tuple[int, int] | None] = {}

    def best(self, first: int, free: Stock) -> Answer:
        """The best answer for the runs from `first` on, with what is free."""
        chosen: list[Pieces] = []
        lacking = joints = more = 0
        for at in range(first, len(self.runs)):
            run = self.runs[at]
            reach = next((length for length, count in free if count and length >= run), None)
            sets: list[Pieces] = [(reach,)] if reach is not None else self._joined(run, free)
            if len(sets) > 1 or (sets and reach is None):
                if len(self._known) < self.states and self._depth < DEEPEST:
                    cost, rest = self._asked(at, free, sets)
                    return (lacking + cost[0], joints + cost[1], more + cost[2]), (*chosen, *rest)
                self.cut = True
            taken = sets[0] if sets else ()
            chosen.append(taken)
            free = _without(free, taken)
            lacking += not taken
            joints += max(len(taken) - 1, 0)
            more += sum(taken) - run if taken else 0
        return (lacking, joints, more), tuple(chosen)

    def _asked(self, at: int, free: Stock, sets: list[Pieces]) -> Answer:
        """A run that no free piece reaches: joined, or without so that the pieces serve others."""
        known = self._known.get((at, free))
        if known is not None:
            return known
        self._depth += 1
        bound = self._bound(at, free)
        best: Answer | None = None
        for taken in (*sets, ()):
            spare = sum(taken) - self.runs[at] if taken else 0
            own = (int(not taken), max(len(taken) - 1, 0), spare)
            after = _without(free, taken)
            if best is not None and (best[0] == bound or _sum(own, self._bound(at + 1, after)) >= best[0]):
                continue  # nothing on this way can be better
            cost, rest = self.best(at + 1, after)
            if best is None or _sum(own, cost) < best[0]:
                best = (_sum(own, cost), (taken, *rest))
        self._depth -= 1
        assert best is not None  # `sets` is never empty
        self._known[at, free] = best
        return best

    def _bound(self, at: int, free: Stock) -> Cost:
        """What the runs from `at` on cost at least: as if each could choose first among what is free."""
        capped = tuple((length, min(count, self.most)) for length, count in free if count)
        lacking = joints = more = 0
        for run, same in groupby(self.runs[at:]):
            number = len(tuple(same))
            least = self._least(run, capped)
            lacking += number if least is None else 0
            joints += number * least[0] if least else 0
            more += number * least[1] if least else 0
        return lacking, joints, more

    def _least(self, run: int, free: Stock) -> tuple[int, int] | None:
        """Joints and waste of one run that may choose first; None where nothing reaches."""
        if (run, free) not in self._chosen:
            single = next(((length,) for length, _ in free if length >= run), None)
            taken = single or next(iter(self._joined(run, free)), None)
            self._chosen[run, free] = (len(taken) - 1, sum(taken) - run) if taken else None
        return self._chosen[run, free]

    def _joined(self, run: int, free: Stock) -> list[Pieces]:
        """Sets of two pieces or more that reach with none to spare, fewest joints and least waste first."""
        lengths = [length for length, count in free if count]
        have = dict(free)
        found: list[Pieces] = []
        for number in range(2, self.most + 1):
            if comb(len(lengths) + number - 1, number) > MOST_SETS:
                self.cut = True
                break
            sets = combinations_with_replacement(lengths, number)
            reach = [s for s in sets if sum(s) >= run > sum(s) - s[0] and all(s.count(p) <= have[p] for p in set(s))]
            found += sorted(reach, key=sum)
        return found


def _sum(one: Cost, other: Cost) -> Cost:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def _without(free: Stock, pieces: Pieces) -> Stock:
    return tuple((length, count - pieces.count(length)) for length, count in free)
