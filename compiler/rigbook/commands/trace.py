"""`rigbook trace`: how a signal runs to and from a thing, in words."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from rigbook.commands.common import find_plan

if TYPE_CHECKING:
    from rigbook.graph.rig import Rig


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("name", help="a speaker, socket, channel, bus, source, unit, cable (`a -> b`) or circuit")


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
    hanging = () if found.matches else circuit_lines(rig, args.name)
    if hanging:
        print("\n".join(hanging))
        return 0
    if len(found.matches) != 1:
        for line in found.answer:
            print(line, file=sys.stderr)
        return 2
    from rigbook.graph.trace import trace

    for line in trace(rig, found.matches[0]):
        print(line)
    return 0


def circuit_lines(rig: Rig, text: str) -> tuple[str, ...]:
    """What hangs on a circuit, named alone or as `circuit NAME`; empty where there is none of that name."""
    from rigbook.compute.results import results

    mains = results(rig).mains
    typed = " ".join(text.split())
    records = mains.circuit_records
    name = typed if typed in records else typed.removeprefix("circuit ")
    record = records.get(name)
    if record is None:
        return ()
    units = [u for u in rig.plan.units if mains.circuit_of.get(u) == name]
    supply, rating, outlets = (record.get(key) for key in ("supply", "rating", "outlets"))
    said = (f"supply {supply}" if supply else "", str(rating or ""), f"outlets {outlets}" if outlets else "")
    lines = [f"circuit {name}    ({record.span.human()})"]
    lines.append(f"  comes from: {', '.join(w for w in said if w) or 'not said'}")
    lines.append(f"  feeds: {f'{len(units)} device' + ('s' if len(units) > 1 else '') if units else 'nothing'}")
    for unit in units:
        kind = rig.plan.units[unit].kind
        lines.append(f"    {unit}{f' ({kind.title})' if kind else ''}")
    return tuple(lines)
