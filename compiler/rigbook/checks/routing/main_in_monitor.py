"""A monitor that gets the main mix.

*What it finds*
The main bus sent to a monitor mix; a stage monitor that a main bus leaves towards. A wedge that the plan aims at the
audience is a fill, and left alone.

*Why it matters on stage*
The player hears the whole mix of the house, with every move of it, and a monitor full of open microphones howls first.

*Put it right*
Send the channels that the player wants to the monitor mix, and take the main bus out of it.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12, wedge: powered-wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, mix-1]}}
    buses: {main: {to: mix-1 -6 dB}, mix-1: {monitor-for: Voice}}
    outputs: {main: desk/out 1, mix-1: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> wedge/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12, wedge: powered-wedge-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: [main, mix-1]}}
    buses: {main: {}, mix-1: {monitor-for: Voice}}
    outputs: {main: desk/out 1, mix-1: desk/out 2}
    wiring: {xlr: [desk/out 1 -> top/in, desk/out 2 -> wedge/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import names, ways
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Unit
from rigbook.text.phrase import counted, phrase

SEVERITY = Severity.WARNING
YIELDS_TO = (
    "double-routed-speaker",
    "two-into-one",
    "orphan-output",
    "unfed-output",
    "swapped-sides",
    "wrong-box",
    "signal-loop",
)

BEHIND_DEG = 90.0
"""A wedge aimed further round than this plays at the stage."""


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each main bus in a mix, and for each side of a main bus in stage monitors."""
    for bus in rig.plan.buses.values():
        for send in bus.sends:
            target = rig.plan.buses.get((bus.desk, send.bus))
            if bus.role == "mains" and target and target.role == "monitor" and not send.off:
                yield _mix(
                    rig,
                    bus,
                    target,
                    Label(send.span, phrase("`%(bus)s` goes into `%(target)s`", bus=bus.name, target=target.name)),
                )
    caught: dict[str, list[str]] = {}
    for box in rig.boxes:
        legs = rig.legs_of(box)
        roles = {rig.net.nodes[leg]["bus"].role: leg for leg in legs}
        if "mains" in roles and ("monitor" in roles or _on_stage(rig.plan.units[box])):
            caught.setdefault(roles["mains"], []).append(box)
    for leg, boxes in caught.items():
        yield _boxes(rig, leg, boxes)


def _on_stage(unit: Unit) -> bool:
    """A wedge that plays at the stage, as wedges do unless they are aimed elsewhere."""
    if not unit.kind or unit.kind.get("box") != "wedge":
        return False
    return unit.aim is None or bool(unit.aim.target) or abs(unit.aim.degrees) > BEHIND_DEG


def _mix(rig: Rig, bus: Bus, target: Bus, where: Label) -> Finding:
    boxes = [b for leg in target.legs for b in rig.boxes_of(k.bus_node(target.desk, target.name, leg))]
    return Finding(
        "main-in-monitor",
        SEVERITY,
        phrase("the main bus `%(bus)s` goes into the monitor mix `%(target)s`", bus=bus.name, target=target.name),
        where,
        effect=phrase(
            "the whole mix of the house is heard at %(names)s, with every move of it",
            names=names(dict.fromkeys(boxes)),
        )
        if boxes
        else phrase("the whole mix of the house is heard, with every move of it"),
        remedy=phrase(
            "take `%(target)s` out of the `to:` of `%(bus)s` and send the channels that are wanted",
            target=target.name,
            bus=bus.name,
        ),
        objects=frozenset({target.name, f"{bus.name} -> {target.name}"}),
    )


def _boxes(rig: Rig, leg: str, boxes: list[str]) -> Finding:
    leaves = [d for e, d in rig.edges_out(leg) if d["kind"] == k.LEAVE and boxes[0] in rig.boxes_of(e[1])]
    name = leaves[0]["output"].name
    return Finding(
        "main-in-monitor",
        SEVERITY,
        counted(
            len(boxes),
            "the stage monitor %(names)s gets `%(name)s`",
            "the stage monitors %(names)s get `%(name)s`",
            names=names(boxes),
            name=name,
        ),
        Label(leaves[0]["span"], phrase("`%(name)s` leaves here", name=name)),
        tuple(Label(rig.plan.units[b].span, phrase("a stage monitor")) for b in boxes[:3]),
        path=ways(rig, [(leg, boxes[0])]),
        effect=phrase("the whole mix of the house is heard at %(names)s", names=names(boxes)),
        remedy=phrase(
            "move the cable to the output of a monitor mix, or aim %(names)s `out` if it is a fill", names=names(boxes)
        ),
        objects=frozenset(boxes),
    )
