"""`rigbook trace`: how a signal runs to and from a thing, in words."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigbook.commands.common import complain, find_plan
from rigbook.findings.screen import harmless

if TYPE_CHECKING:
    from rigbook.compute.mains import Mains
    from rigbook.graph.rig import Rig


def options(parser: argparse.ArgumentParser) -> None:
    """Arguments of the command."""
    parser.add_argument("plan", help="a plan file, or a folder with one plan in it")
    parser.add_argument("name", help="a speaker, socket, channel, bus, source, unit, cable `a -> b`, circuit or supply")


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
    hanging = () if found.matches else mains_lines(rig, args.name)
    if hanging:
        print(*map(harmless, hanging), sep="\n")
        return 0
    if len(found.matches) != 1:
        complain(*found.answer)
        return 2
    from rigbook.graph.trace import trace

    for line in trace(rig, found.matches[0]):
        print(harmless(line))
    return 0


def mains_lines(rig: Rig, text: str) -> tuple[str, ...]:
    """What hangs on a circuit or a supply, named alone or as `circuit NAME`; empty where there is none of that name."""
    from rigbook.compute.results import results

    mains = results(rig).mains
    typed = " ".join(text.split())
    supply, circuit = typed.removeprefix("supply "), typed.removeprefix("circuit ")
    if circuit in mains.circuit_records and not typed.startswith("supply "):
        return tuple(_circuit(rig, mains, circuit))
    if supply in mains.supply_records:
        return tuple(_supply(rig, mains, supply))
    return ()


def _supply(rig: Rig, mains: Mains, name: str) -> Iterator[str]:
    record = mains.supply_records[name]
    said = [f"{record.get(key)}" for key in ("voltage", "rating") if record.get(key)]
    phases = record.get("phases")
    yield f"supply {name}    ({record.span.human()})"
    yield f"  {', '.join([*said, *([f'{phases} phases'] if phases else [])]) or 'no rating is stated'}"
    circuits = [n for n, r in mains.circuit_records.items() if str(r.get("supply")) == name]
    yield f"  feeds: {_count(len(circuits), 'circuit')}"
    for circuit in circuits:
        for line in _circuit(rig, mains, circuit):
            yield f"    {line}"


def _circuit(rig: Rig, mains: Mains, name: str) -> Iterator[str]:
    record = mains.circuit_records[name]
    units = [u for u in rig.plan.units if mains.circuit_of.get(u) == name]
    supply, phase, rating, outlets = (record.get(key) for key in ("supply", "phase", "rating", "outlets"))
    said = (f"supply {supply}" if supply else "", str(phase or ""), str(rating or ""),
            f"outlets {outlets}" if outlets else "")  # fmt: skip
    yield f"circuit {name}    ({record.span.human()})"
    yield f"  comes from: {', '.join(w for w in said if w) or 'not said'}"
    yield f"  feeds: {_count(len(units), 'device')}"
    for unit in units:
        kind = rig.plan.units[unit].kind
        yield f"    {unit}{f' ({kind.title})' if kind else ''}"


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' if number > 1 else ''}" if number else "nothing"
