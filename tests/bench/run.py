"""Measure rigbook against the floor and write a table in Markdown.

usage: python tests/bench/run.py [--times N] [--only WORD ...] [--output FILE]

Both sides of a row run in turn on the same machine (timing.py); the ratio is the result, milliseconds only tell how
long it takes here. P is an empty Python program; F is the floor script (floor.py) for the same plan, Fc its part up to
the signal graph. A row passes if its ratio is at most the target; the exit code is 1 if one does not.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench import gen_plan, level_map, radio, saved
from bench.timing import Command, median, pair, run

HERE = Path(__file__).resolve().parent
PYTHON = sys.executable
RIGBOOK = str(Path(PYTHON).with_name("rigbook"))
SIZES = (150, 500, 2000, 8000, 20000)
"""Items of the plans whose growth is measured."""
HEAD = "| case | ms | against | ms | ratio | range | target | MiB |\n|---|---:|---|---:|---:|---|---:|---:|"


@dataclass(frozen=True)
class Case:
    """One row: our command, the other side, and how many times as long ours may take."""

    name: str
    ours: Command
    against: str
    other: Command
    target: float | None
    """None: told, without a target."""
    times_share: float = 1.0
    """Part of `--times` that this row is run; long rows are run less often."""


def with_bytecode(home: Path) -> None:
    """Let both sides keep compiled modules, as installed programs do, whatever the shell says; warming up fills it."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    os.environ["PYTHONPYCACHEPREFIX"] = str(home)


def floor(out: Path, *arguments: str) -> list[str]:
    """The command of the floor script."""
    return [PYTHON, str(HERE / "floor.py"), "--out", str(out / "floor"), *arguments]


def cases(work: Path) -> Iterator[Case]:
    """All rows but growth. The plans are written below `work`."""
    empty = [PYTHON, "-c", "pass"]
    plan = work / "plan.yaml"
    plan.write_text(gen_plan.plan(), "utf-8")
    hundred = [str(f) for f in gen_plan.write_many(gen_plan.ZONE, work / "hundred", 100)]
    yield Case("`--help`", [RIGBOOK, "--help"], "P", empty, 3)
    yield Case("`explain`, one name", [RIGBOOK, "explain", "silent-speaker"], "P", empty, None)
    yield Case("`schema`", [RIGBOOK, "schema"], "P", empty, None)
    yield Case("`check`, one plan, cold", [RIGBOOK, "check", str(plan)], "Fc", floor(work, "--check", str(plan)), 1.35)
    # the warm-up of the pair is what fills the cache
    yield Case("`check`, unchanged", ["env", "-u", "RIGBOOK_CACHE", RIGBOOK, "check", str(plan)], "P", empty, 5)
    build = [RIGBOOK, "build", str(plan), "--out", str(work / "site")]
    yield Case("`build`, one plan, cold", build, "F", floor(work, str(plan)), 1.5)
    yield Case("`build`, unchanged", ["env", "-u", "RIGBOOK_CACHE", *build], "`check`, unchanged",
               ["env", "-u", "RIGBOOK_CACHE", RIGBOOK, "check", str(plan)], 1.2)
    yield Case("`check`, 100 plans, one process", [RIGBOOK, "check", *hundred], "Fc",
               floor(work, "--check", *hundred), 3, 0.3)
    one, two = ([RIGBOOK, "build", *hundred, "--out", str(work / "sites"), "--jobs", n] for n in "12")
    yield Case("`build`, 100 plans, one process", one, "F", floor(work, *hundred), None, 0.3)
    yield Case("`build`, 100 plans, 2 workers", two, "F, 2 workers", floor(work, "--jobs", "2", *hundred), 1.5, 0.3)
    yield Case("`build`, 100 plans, 2 workers to 1", two, "1 worker", one, 0.6, 0.3)


def table(work: Path, times: int, only: list[str], say: list[str]) -> bool:
    """Measure the rows; true if all keep their target."""
    kept = True
    say.append(HEAD)
    for case in cases(work):
        if only and not any(word in case.name for word in only):
            continue
        got = pair(case.ours, case.other, max(1, round(times * case.times_share)))
        kept &= case.target is None or got.ratio <= case.target
        say.append(f"| {case.name} | {got.a.wall * 1e3:.0f} | {case.against} | {got.b.wall * 1e3:.0f} | "
                   f"{got.ratio:.2f} | {got.low:.2f}-{got.high:.2f} | {case.target or '-'} | {got.a.peak:.0f} |")
        print(say[-1], flush=True)
    return kept


def map_of_levels(times: int, say: list[str]) -> None:
    """The level map of 24 boxes at 2,000 places against straight numpy, both after numpy is imported; told only."""
    ours, floor_ms, ratio = level_map.measure(times)
    say += ["", f"Level map, 24 boxes, 2,000 places, 8 bands: {ours:.1f} ms of processor, straight numpy "
            f"{floor_ms:.1f} ms, ratio {ratio:.2f} (aim: 50 ms)."]  # fmt: skip
    print(say[-1], flush=True)


def after_a_save(work: Path, times: int, say: list[str]) -> bool:
    """The handbook that `serve` makes again when one note was changed, against the own cold build."""
    ours, cold, ratio = saved.measure(work, max(1, times // 2))
    say += ["", f"`serve`, one note changed and saved: {ours:.0f} ms, its own cold build {cold:.0f} ms, "
            f"ratio {ratio:.2f} (target 0.3)."]  # fmt: skip
    print(say[-1], flush=True)
    return ratio <= 0.3


def radio_plan(times: int, say: list[str]) -> None:
    """Hits and nearest clean set of 200 transmitters against all products written out; told only."""
    ours, naive_ms, ratio = radio.measure(max(1, times // 5))
    say += ["", f"Radio, {radio.TRANSMITTERS} transmitters, third order, pairs and triples, and the nearest clean set: "
            f"{ours:.0f} ms, all products written out and looked up {naive_ms:.0f} ms, "
            f"ratio {ratio:.3f} (aim: 2 s)."]  # fmt: skip
    print(say[-1], flush=True)


def exponent(small: tuple[int, float], large: tuple[int, float]) -> float:
    """The power of size with which time grows between two measurements of (size, time)."""
    return math.log(large[1] / small[1]) / math.log(large[0] / small[0])


def growth(work: Path, times: int, verb: str, say: list[str]) -> bool:
    """Processor time by size of the plan, less that of the smallest, which is nearly all start-up."""
    say += ["", f"`{verb}` by size of the plan:", "",
            "| items | ms of processor | MiB | exponent of the step |\n|---:|---:|---:|---:|"]
    points: list[tuple[int, float]] = []
    kept, base = True, 0.0
    for size in SIZES:
        plan = work / f"size-{size}.yaml"
        plan.write_text(gen_plan.plan(size), "utf-8")
        command = [RIGBOOK, verb, str(plan), *(["--out", str(work / f"grown-{size}")] if verb == "build" else [])]
        if not base:
            run(command)  # its modules are compiled
        got = median([run(command) for _ in range(times if size < 2000 else max(1, times // 5))])
        base = base or got.cpu
        step = ""
        if size != SIZES[0]:
            points.append((size - SIZES[0], max(got.cpu - base, 1e-4)))
            if len(points) > 1:
                power = exponent(points[-2], points[-1])
                kept &= power <= 1.3
                step = f"{power:.2f}"
        say.append(f"| {size} | {got.cpu * 1e3:.0f} | {got.peak:.0f} | {step} |")
        print(say[-1], flush=True)
    overall = exponent(points[0], points[-1])
    say.append(f"\nOverall {overall:.2f} (target at most 1.15; 1.3 in any step).")
    return kept and overall <= 1.15


def main() -> int:
    """Read the options, measure, write the table."""
    os.environ["RIGBOOK_CACHE"] = "off"  # what is remembered would be measured as work
    parser = argparse.ArgumentParser(description=str(__doc__).partition("\n")[0])
    parser.add_argument("--times", type=int, default=11, help="runs of each side of a row")
    parser.add_argument("--only", nargs="*", default=[],
                        help="rows whose name holds a word; `map`, `serve`, `radio`, `growth`, `walk`")
    parser.add_argument("--output", type=Path, help="write the table to a file as well")
    options = parser.parse_args()
    say: list[str] = []
    with tempfile.TemporaryDirectory() as folder:
        work = Path(folder)
        with_bytecode(work / "bytecode")
        kept = table(work, options.times, options.only, say)
        if not options.only or "serve" in options.only:
            kept &= after_a_save(work, options.times, say)
        if not options.only or "map" in options.only:
            map_of_levels(options.times, say)
        if not options.only or "radio" in options.only:
            radio_plan(options.times, say)
        if not options.only or "growth" in options.only:
            kept &= growth(work, options.times, "check", say)
            kept &= growth(work, options.times, "build", say)
        if not options.only or "walk" in options.only:
            from bench import walk

            kept &= walk.report(say, 200 if not options.only else 30)
    text = "\n".join(say) + "\n"
    if options.output:
        options.output.write_text(text, "utf-8")
    print("\n" + text)
    return 0 if kept else 1


if __name__ == "__main__":
    raise SystemExit(main())
