"""The walk test in figures: how far listening leads and how far three tests more, and what the table of faults costs.

usage: python tests/bench/walk.py [--rigs N]

For every show and for random rigs: single faults that some step shows, how many suspects are left when the true fault
was answered as a listener would, and after at most three tests that the finder proposes. The cost is told against the
naive way: for every fault and every play, and for every exchange of two cables, follow the signal from its start
through the whole changed rig. That gives what is at every node; the table also has what is heard and seen of it.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from helpers.random_rigs import seeded
from helpers.sites import shows
from helpers.walk_cases import Case, Spread, cases
from helpers.walk_rigs import rig_at, rig_of
from rigbook.graph.rig import Rig
from rigbook.walk.exchange import exchanged, exchanges
from rigbook.walk.propagate import planned
from rigbook.walk.table import Table
from rigbook.walk.trial import Trial, trial

EVERY = 20
"""So many-th faults are followed the naive way; the rest is reckoned."""
TARGET, LARGE = 0.06, 300
HEAD = (
    "| show | faults | listening: median / 95 % / most | with three tests | table ms | naive ms | ratio |\n"
    "|---|---:|---:|---:|---:|---:|---:|"
)


def naive(ready: Trial, table: Table) -> float:
    """Seconds of processor for every fault in every play, from a part of the faults."""
    some, moved = table.rows[::EVERY], tuple(exchanges(ready))
    start = time.process_time()
    for row in some:
        for play in ready.plays:
            planned(ready.wires, play, row.fault.change)
        for e in moved:
            both = exchanged(ready.wires, row.fault.change, e.a, e.b, e.at_start)
            planned(ready.wires, ready.plays[e.play], both)
    return (time.process_time() - start) * len(table.rows) / len(some)


def measured(rig: Rig) -> tuple[Table, float, float]:
    """The table, and the seconds of processor that it and the naive way take."""
    best = float("inf")
    for _ in range(3):
        ready = trial(rig)
        start = time.process_time()
        table = ready.table()
        best = min(best, time.process_time() - start)
    return table, best, naive(ready, table)


def spreads(found: Iterable[Case]) -> tuple[int, Spread, Spread]:
    """How many faults, and how many suspects each leaves."""
    row = list(found)
    return len(row), Spread.of(c.heard for c in row), Spread.of(c.left for c in row)


def report(say: list[str], rigs: int, tell: Callable[[str], None] = print) -> bool:
    """Write the table; true if the figures keep their targets."""
    say += ["", "Walk test: suspects left, and the table of faults against the naive way:", "", HEAD]
    kept = True
    for show in shows():
        table, ours, plain = measured(rig_at(show))
        count, heard, left = spreads(cases(table))
        kept &= left.median == 1 and left.p95 <= 3 and (ours / plain <= TARGET or len(table.rows) < LARGE)
        say.append(f"| {show.stem} | {count} | {heard} | {left} | {ours * 1e3:.0f} | {plain * 1e3:.0f} | "
                   f"{ours / plain:.3f} |")
        tell(say[-1])
    every = (c for n in range(rigs) for c in cases(Table.of(rig_of(seeded(n).text))))
    count, heard, left = spreads(every)
    kept &= left.median == 1 and left.p95 <= 3
    say.append(f"| {rigs} random rigs | {count} | {heard} | {left} | | | |")
    tell(say[-1])
    say.append("\nThe true fault was among the suspects every time. Targets: median 1, 95 % at most 3 with three "
               f"tests; ratio at most {TARGET} from {LARGE} faults on.")
    return kept


def main() -> int:
    """Read the option, measure, print."""
    parser = argparse.ArgumentParser(description=str(__doc__).partition("\n")[0])
    parser.add_argument("--rigs", type=int, default=200, help="random rigs")
    say: list[str] = []
    return 0 if report(say, parser.parse_args().rigs) else 1


if __name__ == "__main__":
    raise SystemExit(main())
