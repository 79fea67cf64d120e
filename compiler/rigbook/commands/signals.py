"""`rigbook signals`: the test signals of the walk test as sound files."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from rigbook.commands.common import complain, find_plan
from rigbook.findings.screen import harmless

if TYPE_CHECKING:
    from rigbook.walk.step import Step


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", nargs="?", help="a plan: the list then says which file is for which step")
    parser.add_argument("--out", required=True, metavar="DIR", help="the folder that the files go into")


def run(args: argparse.Namespace) -> int:
    """Write the files and the list. 0: written; 2: cannot run."""
    steps: tuple[Step, ...] = ()
    if args.plan is not None:
        found = _steps(args.plan)
        if found is None:
            return 2
        steps = found
    from rigbook.walk.signal_files import CAUTION, files

    out = Path(args.out)
    try:
        out.mkdir(parents=True, exist_ok=True)
        count = 0
        for name, data in files(steps):
            (out / name).write_bytes(data)
            count += 1
    except OSError as error:
        complain(f"`{args.out}` cannot be written: {error.strerror}")
        return 2
    print(harmless(f"{count} files; levels and purposes are in {out / 'README.txt'}"), CAUTION, sep="\n", end="")
    return 0


def _steps(text: str) -> tuple[Step, ...] | None:
    """The steps of a plan; None after a message where it cannot be read."""
    path = find_plan(text)
    if path is None:
        return None
    from rigbook.pipeline import compile_plan

    rig = compile_plan(path).rig
    if rig is None:
        print("the plan could not be read; `rigbook check` says why", file=sys.stderr)
        return None
    from rigbook.walk.steps import steps

    return steps(rig)
