"""`rigbook check`: print what is wrong with a plan."""

from __future__ import annotations

import argparse
import sys

from rigbook.commands.common import FORMATS, THRESHOLDS, find_plan, for_machines, report, threshold_reached
from rigbook.findings.finding import Finding


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plans", nargs="+", metavar="PLAN", help="a plan file, or a folder with one plan in it")
    parser.add_argument("--fail-on", choices=THRESHOLDS, default="error", help="least severity that gives exit code 1")
    parser.add_argument("--format", choices=FORMATS, default="text", help="text for people, json or sarif for machines")


def run(args: argparse.Namespace) -> int:
    """Check and print. 0: nothing at or above the threshold; 1: findings; 2: a plan cannot be read or found."""
    from rigbook.pipeline import compile_plan

    code, every = 0, dict[Finding, None]()
    for path in map(find_plan, args.plans):
        if path is None:
            code = 2
            continue
        got = compile_plan(path)
        if args.format == "text":
            report(got, sys.stdout)
        # shows on one house rig share what is wrong with it
        every.update(dict.fromkeys(got.findings))
        code = max(code, 2 if got.plan is None else int(threshold_reached(got.findings, args.fail_on)))
    if args.format != "text":
        print(for_machines(every, args.format))
    return code
