"""`rigbook check`: print what is wrong with a plan."""

from __future__ import annotations

import argparse
import gc
import io
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from rigbook.commands.common import (
    FORMATS,
    THRESHOLDS,
    coloured,
    find_plan,
    for_machines,
    report,
    threshold_reached,
    uncollected,
)
from rigbook.plan.root import root_of

if TYPE_CHECKING:
    from rigbook.commands.remembered import Said
    from rigbook.findings.finding import Finding


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plans", nargs="+", metavar="PLAN", help="a plan file, or a folder with one plan in it")
    parser.add_argument("--fail-on", choices=THRESHOLDS, default="error", help="least severity that gives exit code 1")
    parser.add_argument("--format", choices=FORMATS, default="text", help="text for people, json or sarif for machines")


def run(args: argparse.Namespace) -> int:
    """Check and print. 0: nothing at or above the threshold; 1: findings; 2: a plan cannot be read or found."""
    with uncollected():
        return _checked(args)


def _checked(args: argparse.Namespace) -> int:
    code = 0
    every: dict[Finding, None] = {}
    for n, name in enumerate(args.plans):
        if n:
            gc.collect(0)
        path = find_plan(name)
        if path is None:
            code = 2
        elif args.format == "text":
            said = _said(path)
            print(said.text, end="")
            failing = said.worst in THRESHOLDS[: THRESHOLDS.index(args.fail_on) + 1]
            code = max(code, int(failing) if said.readable else 2)
        else:
            from rigbook.pipeline import compile_plan

            got = compile_plan(path)
            # shows on one house rig share what is wrong with it
            every.update(dict.fromkeys(got.findings))
            code = max(code, 2 if got.plan is None else int(threshold_reached(got.findings, args.fail_on)))
            del got
    if args.format != "text":
        print(for_machines(every, args.format))
    return code


def _said(path: Path) -> Said:
    """What there is to say of a plan, from memory where nothing has changed."""
    from rigbook.commands.remembered import Said, keep, recall

    colour = coloured(sys.stdout)
    root = root_of(path).resolve()
    known = recall(path, root, colour)
    if known is not None:
        return known
    from rigbook.pipeline import compile_plan

    got = compile_plan(path, root)
    text = io.StringIO()
    report(got, text, colour)
    worst = max((f.severity for f in got.findings), default=None)
    said = Said(text.getvalue(), worst.word if worst is not None else "", got.plan is not None)
    keep(path, got, colour, said)
    return said
