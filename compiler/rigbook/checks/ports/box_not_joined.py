"""A socket that the desk cannot reach.

*What it finds*
A channel that listens to, or an output that leaves by, a socket of another unit, where no network cable joins that
unit to the desk.

*Why it matters on stage*
The desk does not see the stage box: every channel and every output on it is dead.

*Put it right*
Write the network cable under `wiring`, or name a socket of the desk itself.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, box: stage-box-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: box/in 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: box/out 1}
    wiring: {xlr: [box/out 1 -> left/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, box: stage-box-16, left: powered-top-12}
    inputs: {1: {name: Voice, from: box/in 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {}}
    outputs: {main: box/out 1}
    wiring: {network: ["desk/net A -> box/net A, 30 m"], xlr: [box/out 1 -> left/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.plan.model import Socket
from rigbook.text.phrase import phrase

SEVERITY = Severity.ERROR
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each desk and unit that nothing joins."""
    used: dict[tuple[str, str], list[tuple[Socket, Span]]] = {}
    for channel in rig.plan.channels:
        for socket in channel.sockets:
            used.setdefault((channel.desk, socket.unit), []).append((socket, channel.record.at("from")))
    for output in rig.plan.outputs:
        for socket, span in output.sockets:
            used.setdefault((output.desk, socket.unit), []).append((socket, span))
    # a cable of which one end could not be found may be the one
    lost = {frozenset((c.start.unit, c.end.unit)) for c in rig.plan.cables}
    lost = {pair for pair in lost if pair & rig.plan.unresolved}
    for (desk, name), places in used.items():
        if any({desk, name} & pair for pair in lost):
            continue
        if not rig.carriers.joined(desk, name) and all(port_of(rig, s) is not None for s, _ in places):
            yield _finding(rig, desk, name, places)


def _finding(rig: Rig, desk: str, name: str, places: list[tuple[Socket, Span]]) -> Finding:
    unit = rig.plan.units[name]
    return Finding(
        "box-not-joined",
        SEVERITY,
        phrase("no network cable joins `%(name)s` to `%(desk)s`", name=name, desk=desk),
        Label(
            places[0][1],
            phrase("the first of %(count)s uses", count=len(places)) if len(places) > 1 else phrase("used here"),
        ),
        (Label(unit.span, phrase("out of reach")),),
        effect=phrase("`%(desk)s` reaches none of the sockets of `%(name)s`", desk=desk, name=name),
        remedy=_remedy(rig, desk, name),
        objects=frozenset({name, *(s.id for s, _ in places)}),
    )


def _remedy(rig: Rig, desk: str, name: str) -> str:
    ends = [_network(rig, unit) for unit in (desk, name)]
    if all(ends):
        return phrase("write the cable `%(start)s -> %(end)s` under `network` in `wiring`", start=ends[0], end=ends[1])
    return phrase("name the socket of `%(desk)s` and cable it; `plugged:` says where the source is", desk=desk)


def _network(rig: Rig, name: str) -> str:
    """The first network socket of a unit."""
    unit = rig.plan.units.get(name)
    ports = unit.kind.ports.values() if unit and unit.kind else ()
    return next((f"{name}/{p.name}" for p in ports if p.level == "network"), "")
