"""`rigbook explain`: the text of a check, from the check's own module."""

from __future__ import annotations

import argparse
import sys
import textwrap


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("name", nargs="?", help="name of a finding, such as silent-speaker; or `gear`")


def run(args: argparse.Namespace) -> int:
    """Print one explanation, the list of checks, or the gear library."""
    from rigbook.checks.catalogue import explain, names

    if args.name is None:
        for name in names():
            got = explain(name)
            print(f"{name:28} {got.severity.word:8} {got.title[0].lower() + got.title[1:]}")
        return 0
    if args.name == "gear":
        return _gear()
    if args.name not in names():
        from rigbook.findings.suggest import near

        close = near(args.name, names())
        print(f"there is no check `{args.name}`" + (f", did you mean `{close[0]}`?" if close else ""), file=sys.stderr)
        return 2
    got = explain(args.name)
    print(f"{got.name} ({got.severity.word})\n{got.title}")
    for heading, text in got.parts:
        body = textwrap.dedent(text).strip("\n")
        print(f"\n{heading}\n{textwrap.indent(body, '  ')}")
    return 0


def _gear() -> int:
    from rigbook.plan.gear import Gear

    for name, path in Gear({}).shipped.items():
        print(f"{path.parent.name:20} {name}")
    return 0
