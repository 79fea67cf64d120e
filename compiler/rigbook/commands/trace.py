"""`rigbook trace`: how a signal runs to and from a thing, in words."""

from __future__ import annotations

import argparse
import sys

from rigbook.commands.common import find_plan


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("name", help="a speaker, socket, channel, bus, source, unit or cable (`a -> b`)")


def run(args: argparse.Namespace) -> int:
    """Print every way to and from the thing. 0: found; 2: no such thing, or several."""
    from rigbook.graph.find import find_node
    from rigbook.pipeline import compile_plan

    path = find_plan(args.plan)
    if path is None:
        return 2
    rig = compile_plan(path).rig
    if rig is None:
        print("the plan could not be read; `rigbook check` says why", file=sys.stderr)
        return 2
    found = find_node(rig, args.name)
    if len(found.matches) != 1:
        for line in found.answer:
            print(line, file=sys.stderr)
        return 2
    from rigbook.graph.trace import trace

    for line in trace(rig, found.matches[0]):
        print(line)
    return 0
