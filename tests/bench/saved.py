"""What one saved change costs `rigbook serve`: the handbook made again in the same process, against a cold build.

Both sides are wall clock, in turn: a cold `rigbook build` of the plan, then one note of it changed and made again.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench import gen_plan
from bench.timing import run
from rigbook.commands.serve import make_once

RIGBOOK = str(Path(sys.executable).with_name("rigbook"))


def measure(work: Path, times: int) -> tuple[float, float, float]:
    """Milliseconds of a make after a save and of a cold build, and the median of the paired ratios."""
    plan = work / "saved.yaml"
    text = gen_plan.plan()
    plan.write_text(text, "utf-8")
    args = argparse.Namespace(view="crew", theme="plain", language="")
    command = [RIGBOOK, "build", str(plan), "--out", str(work / "saved")]
    run(command)
    _made(plan, args)
    rounds = []
    for number in range(times):
        cold = run(command).wall
        plan.write_text(text.replace("keep the fire door clear", f"keep the fire door clear, {number}", 1), "utf-8")
        start = time.perf_counter()
        _made(plan, args)
        rounds.append((time.perf_counter() - start, cold))
    warm, cold = (statistics.median(column) * 1e3 for column in zip(*rounds))
    return warm, cold, statistics.median(a / b for a, b in rounds)


def _made(plan: Path, args: argparse.Namespace) -> None:
    with contextlib.redirect_stdout(io.StringIO()):
        assert make_once(plan, args).files
