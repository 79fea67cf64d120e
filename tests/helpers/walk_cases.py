"""A fault put into a rig and answered as a listener would, then the tests that are proposed, one after another."""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from rigbook.walk.suspects import Suspect, next_probe, suspects
from rigbook.walk.table import HEARD, Row, Seen, Table

PROBES = 3


@dataclass(frozen=True)
class Case:
    """How a fault was found: how many single faults were left by listening, and after the tests that were proposed."""

    row: Row
    heard: int
    left: int


@dataclass(frozen=True)
class Spread:
    """Median, 95th percentile and most of some counts."""

    median: float
    p95: int
    most: int

    @staticmethod
    def of(counts: Iterable[int]) -> Spread:
        row = sorted(counts)
        return Spread(statistics.median(row), row[min(int(0.95 * len(row)), len(row) - 1)], row[-1])

    def __str__(self) -> str:
        return f"{self.median:g} / {self.p95} / {self.most}"


def cases(table: Table) -> Iterator[Case]:
    """Every fault that shows; each of them must stay among the suspects all the way."""
    everything = {s for r in table.testable for s in r.effects if s.kind in HEARD}
    for row in table.testable:
        answers = {s: row.effects.get(s, "") for s in everything if not (row.behind and s.play in table.line_keys)}
        left = suspects(table, answers)
        assert holds(left, row), row.fault.key
        heard = faults_in(left)
        left = probed(table, row, answers, left)
        yield Case(row, heard, faults_in(left))


def probed(table: Table, row: Row, answers: Mapping[Seen, str], left: tuple[Suspect, ...]) -> tuple[Suspect, ...]:
    """The suspects that are left after the tests that are proposed, each with the outcome that the fault gives."""
    known = dict(answers)
    for _ in range(PROBES):
        probe = next_probe(table, left, known)
        if probe is None:
            break
        known[probe.seen] = row.effects.get(probe.seen, "")
        left = suspects(table, known)
        assert holds(left, row), (row.fault.key, probe.seen)
    return left


def holds(left: Iterable[Suspect], row: Row) -> bool:
    """The fault is among them."""
    return any(row in s.rows for s in left)


def faults_in(left: Iterable[Suspect]) -> int:
    """Single faults, those that nothing tells apart counted each."""
    return sum(len(s.rows) for s in left)
