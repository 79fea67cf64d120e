"""A bus that leaves the desk and that nothing is sent to.

*What it finds*
A bus, or one side of a stereo bus, that leaves by a socket and that no channel or bus is sent to. Mixes of the house
that a show does not use are left alone; so is a house plan that names no inputs yet.

*Why it matters on stage*
A wedge or a row of subs stands there, patched and powered, and stays silent because a send was forgotten.

*Put it right*
Send to it what belongs there. A send that is opened later is written `off`: `to: mix-1 off`.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: main}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, sub: powered-sub-18}
    inputs: {1: {name: Bass, from: desk/line 1, di: di-passive, line: bass-guitar, source: bass, to: [main, subs]}}
    buses: {main: {low-cut: 100 Hz lr 24 dB/oct}, subs: {high-cut: 100 Hz lr 24 dB/oct}}
    outputs: {main: desk/out 1, subs: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> sub/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import names, plain_legs
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph.build import send_legs
from rigbook.graph.kinds import bus_node
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = ("orphan-output",)
ABSENCE = True

SYSTEM = ("mains", "subs", "fill", "delay")
"""Roles that every show uses; the other buses of a house are there for who wants them."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each bus, its two sides together."""
    desks = {c.desk for c in rig.plan.channels}
    fed = _fed(rig)
    out = {leg for legs in map(rig.legs_of, rig.ends) for leg in legs}
    for bus in rig.plan.buses.values():
        legs = [leg for leg in bus.legs if bus_node(bus.desk, bus.name, leg) not in fed]
        leaving = any(bus_node(bus.desk, bus.name, leg) in out for leg in legs)
        if leaving and bus.desk in desks and _wanted(rig, bus):
            yield _finding(rig, bus, legs)


def _fed(rig: Rig) -> set[str]:
    """Bus legs that something is sent to; a send that is off or a channel that is muted counts."""
    fed = set()
    for channel in rig.plan.channels:
        for send in channel.sends:
            bus = rig.plan.buses.get((channel.desk, send.bus))
            for side in channel.legs if bus else ():
                assert bus is not None
                fed |= {bus_node(bus.desk, bus.name, leg) for leg in send_legs(bus, send.leg, side)}
    for source in rig.plan.buses.values():
        for send in source.sends:
            bus = rig.plan.buses.get((source.desk, send.bus))
            for side in source.legs if bus else ():
                assert bus is not None
                fed |= {bus_node(bus.desk, bus.name, leg) for leg in send_legs(bus, send.leg, side)}
    return fed


def _wanted(rig: Rig, bus: Bus) -> bool:
    """False for a mix that only the house names: a show need not use every one."""
    return bus.role in SYSTEM or bus.origin == rig.plan.files[0]


def _finding(rig: Rig, bus: Bus, legs: list[str]) -> Finding:
    nodes = [bus_node(bus.desk, bus.name, leg) for leg in legs]
    boxes = [b for b in rig.boxes if any(n in rig.legs_of(b) for n in nodes)]
    outputs = [o for o in rig.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name)]
    silent = counted(len(boxes), "%(names)s stays silent", "%(names)s stay silent", names=names(boxes)) if boxes else ""
    return Finding(
        "idle-bus",
        SEVERITY,
        phrase("nothing is sent to %(bus)s", bus=plain_legs(bus, legs)),
        Label(bus.span, phrase("no channel and no bus goes here")),
        tuple(Label(span, phrase("it leaves here")) for o in outputs for _, span in o.sockets[:1]),
        effect=silent or phrase("`%(bus)s` carries nothing", bus=bus.name),
        remedy=phrase(
            "add `%(bus)s` to the `to:` of the channels that belong in it, or take the bus out", bus=bus.name
        ),
        objects=frozenset({bus.name, *nodes, *boxes}),
    )
