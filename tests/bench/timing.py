"""Time whole processes in turn, A B A B, so that a machine that slows down slows both sides."""

from __future__ import annotations

import os
import statistics
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass

Command = Sequence[str]


@dataclass(frozen=True)
class Run:
    """One process: seconds of wall clock, seconds of processor, peak memory in MiB."""

    wall: float
    cpu: float
    peak: float


@dataclass(frozen=True)
class Pair:
    """Medians of two commands run in turn; `ratio` is the median of the paired ratios of wall time, with its range."""

    a: Run
    b: Run
    ratio: float
    low: float
    high: float


def run(command: Command) -> Run:
    """Run once. Raises `RuntimeError` if the command fails: a measurement of a failure is worth nothing."""
    start = time.perf_counter()
    null = subprocess.DEVNULL
    with subprocess.Popen(command, stdin=null, stdout=null, stderr=subprocess.PIPE) as process:
        assert process.stderr
        said = process.stderr.read()
        _, status, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{' '.join(command)}: exit {process.returncode}\n{said.decode()[-2000:]}")
    return Run(wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def median(runs: Sequence[Run]) -> Run:
    """The median of each figure."""
    return Run(*(statistics.median(getattr(r, key) for r in runs) for key in ("wall", "cpu", "peak")))


def pair(a: Command, b: Command, times: int, warm_up: int = 1) -> Pair:
    """Run `a` and `b` in turn, `times` each after `warm_up` rounds that do not count."""
    for _ in range(warm_up):
        run(a), run(b)
    rounds = [(run(a), run(b)) for _ in range(times)]
    ratios = [x.wall / y.wall for x, y in rounds]
    return Pair(median([x for x, _ in rounds]), median([y for _, y in rounds]), statistics.median(ratios), min(ratios),
                max(ratios))
