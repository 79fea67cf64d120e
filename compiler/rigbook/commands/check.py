"""`rigbook check`: print what is wrong with a plan."""

from __future__ import annotations

import argparse
import sys

from rigbook.commands.common import FORMATS, THRESHOLDS, find_plan, report, threshold_reached


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("--fail-on", choices=THRESHOLDS, default="error", help="least severity that gives exit code 1")
    parser.add_argument("--format", choices=FORMATS, default="text", help="text for people, json or sarif for machines")


def run(args: argparse.Namespace) -> int:
    """Check and print. 0: nothing at or above the threshold; 1: findings; 2: cannot run."""
    from rigbook.pipeline import compile_plan

    path = find_plan(args.plan)
    if path is None:
        return 2
    got = compile_plan(path)
    report(got, args.format, sys.stdout)
    if got.plan is None:
        return 2
    return 1 if threshold_reached(got.findings, args.fail_on) else 0
