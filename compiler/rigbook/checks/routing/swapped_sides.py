"""Left and right exchanged, or a pair that is no pair.

*What it finds*
The left side of a stereo bus that ends in a speaker standing on the right of the house, or the other way round; two
sides of one bus that end in speakers of which no two are of one kind. Left and right are those of the audience. Monitor
mixes are left alone: a player faces the other way.

*Why it matters on stage*
Everything panned is on the wrong side, and what was set by ear on one side stands on the other.

*Put it right*
Exchange the two sockets under `outputs`, or the two cables.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, a: {kind: powered-top-12, at: 3 m left}, b: {kind: powered-top-12, at: 3 m right}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> b/in, desk/out 2 -> a/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, a: {kind: powered-top-12, at: 3 m left}, b: {kind: powered-top-12, at: 3 m right}}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 2}
    wiring: {xlr: [desk/out 1 -> a/in, desk/out 2 -> b/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rigbook.checks.routing._say import names, ways
from rigbook.checks.routing.wrong_box import unfit
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.kinds import SOCKET, bus_node
from rigbook.graph.rig import Rig
from rigbook.graph.sides import OTHER, side_of
from rigbook.graph.ways import behind
from rigbook.plan.model import Bus, Output
from rigbook.text.phrase import counted, joined, phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("orphan-output", "unfed-output", "double-routed-speaker", "two-into-one", "wrong-box", "signal-loop")

SINKS = ("recorder", "feed", "radio")
"""Families whose inputs are numbered from the left."""
STAGE = ("monitor", "effects", "record", "feed", "group")
"""Roles whose left and right are not those of the house."""
ENDS: Final = phrase("`%(bus)s` ends in %(names)s")
ENDS_LEFT: Final = phrase("`%(bus)s` ends in %(names)s on the left")
ENDS_RIGHT: Final = phrase("`%(bus)s` ends in %(names)s on the right")
LEAVES: Final = phrase("`%(bus)s` leaves here")


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each stereo bus."""
    for bus in rig.plan.buses.values():
        if not bus.stereo:
            continue
        boxes = {leg: _boxes(rig, bus, leg) for leg in bus.legs}
        wrong = {leg: [b for b in found if _side(rig, b) == OTHER[leg]] for leg, found in boxes.items()}
        if any(wrong.values()) and bus.role not in STAGE:
            yield _swapped(rig, bus, wrong)
        elif any(unfit(rig, bus_node(bus.desk, bus.name, leg)) for leg in bus.legs):
            continue  # `wrong-box` says more
        elif any(_kind(rig, b) != rig.plan.units[b].record.get("kind") for found in boxes.values() for b in found):
            continue  # a kind that nobody knows, or that was read as one of a like name: that has been told
        elif all(boxes.values()) and not set.intersection(*({_kind(rig, b) for b in f} for f in boxes.values())):
            yield _unlike(rig, bus, boxes)
        elif crossed := _tracks(rig, bus):
            yield _crossed(rig, bus, crossed)


def _tracks(rig: Rig, bus: Bus) -> list[str]:
    """The inputs of one recorder, feed or transmitter that the two sides come to, where left has the higher number."""
    found: dict[str, dict[str, list[str]]] = {}
    for output in (o for o in rig.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name) and o.leg in bus.legs):
        for node in {n for s, _ in output.sockets for n in behind(rig, s.id)}:
            unit = rig.unit(node) if rig.net.nodes[node]["kind"] == SOCKET else None
            if unit and unit.family in SINKS and f"{unit.name}/in " in node:
                found.setdefault(unit.name, {}).setdefault(output.leg, []).append(node)
    for sides in found.values():
        if all(len(sides.get(leg, ())) == 1 for leg in bus.legs):
            left, right = (sides[leg][0] for leg in bus.legs)
            numbers = [n.rpartition(" ")[2] for n in (left, right)]
            if all(n.isdecimal() for n in numbers) and int(numbers[0]) == int(numbers[1]) + 1:
                return [left, right]
    return []


def _crossed(rig: Rig, bus: Bus, tracks: list[str]) -> Finding:
    outputs = _outputs(rig, bus)
    left, right = (outputs[leg].sockets[0][0].id for leg in bus.legs)
    return Finding(
        "swapped-sides",
        SEVERITY,
        phrase(
            "`%(bus)s left` comes to `%(left)s`, `%(bus)s right` to `%(right)s`",
            bus=bus.name,
            left=tracks[0],
            right=tracks[1],
        ),
        Label(_span(outputs["left"]), phrase(LEAVES, bus=f"{bus.name} left")),
        (Label(_span(outputs["right"]), phrase(LEAVES, bus=f"{bus.name} right")),),
        effect=phrase("left and right are exchanged there, and nobody in the house hears it"),
        remedy=phrase(
            "exchange `%(left)s` and `%(right)s` under `outputs`, or the two cables on the way", left=left, right=right
        ),
        objects=frozenset({*tracks, tracks[0].partition("/")[0]}),
    )


def _boxes(rig: Rig, bus: Bus, leg: str) -> list[str]:
    """Speakers that hear one side of a bus, and nothing else: those with two signals have a finding of their own."""
    return [b for b in _heard(rig, bus, leg) if len(rig.legs_of(b)) == 1]


def _heard(rig: Rig, bus: Bus, leg: str) -> list[str]:
    mine = (o for o in rig.plan.outputs if (o.desk, o.bus, o.leg) == (bus.desk, bus.name, leg))
    return list(dict.fromkeys(b for o in mine for s, _ in o.sockets for b in rig.boxes_of(s.id)))


def _side(rig: Rig, box: str) -> str:
    return side_of(rig.plan, rig.plan.units[box])


def _kind(rig: Rig, box: str) -> str:
    kind = rig.plan.units[box].kind
    return kind.name if kind else ""


def _outputs(rig: Rig, bus: Bus) -> dict[str, Output]:
    return {o.leg: o for o in rig.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name)}


def _swapped(rig: Rig, bus: Bus, wrong: dict[str, list[str]]) -> Finding:
    legs = [leg for leg in bus.legs if wrong[leg]]
    outputs = _outputs(rig, bus)
    on = {"left": ENDS_RIGHT, "right": ENDS_LEFT}
    told = joined(
        phrase(ENDS if i else on[leg], bus=f"{bus.name} {leg}", names=names(wrong[leg])) for i, leg in enumerate(legs)
    )
    boxes = [b for leg in legs for b in wrong[leg]]
    labels = [Label(_span(outputs[leg]), phrase(LEAVES, bus=f"{bus.name} {leg}")) for leg in legs[1:]]
    labels += [
        Label(rig.plan.units[b].span, phrase("stands left") if _side(rig, b) == "left" else phrase("stands right"))
        for b in boxes[:4]
    ]
    return Finding(
        "swapped-sides",
        SEVERITY,
        told,
        Label(_span(outputs[legs[0]]), phrase(LEAVES, bus=f"{bus.name} {legs[0]}")),
        tuple(labels),
        path=ways(rig, ((bus_node(bus.desk, bus.name, leg), wrong[leg][0]) for leg in legs)),
        effect=phrase("what is panned left is heard right")
        if legs[0] == "left"
        else phrase("what is panned right is heard left"),
        remedy=_remedy(rig, outputs, bus, boxes) if len(legs) > 1 else _one_sided(bus, boxes),
        objects=frozenset(boxes),
    )


def _span(output: Output) -> Span:
    return output.sockets[0][1] if output.sockets else output.span


def _one_sided(bus: Bus, boxes: list[str]) -> str:
    """Only one side is wrong: the place may be as well as the cable."""
    return counted(
        len(boxes),
        "look where %(names)s stands; else move the cable to the other side of `%(bus)s`",
        "look where %(names)s stand; else move the cable to the other side of `%(bus)s`",
        names=names(boxes),
        bus=bus.name,
    )


def _remedy(rig: Rig, outputs: dict[str, Output], bus: Bus, boxes: list[str]) -> str:
    """Both sides are wrong: the outputs, the cables, or the places as typed."""
    pair = [outputs[leg].sockets for leg in bus.legs if leg in outputs]
    if len(pair) == 2 and all(pair):
        left, right = (sockets[0][0].id for sockets in pair)
        fix = phrase(
            "exchange `%(left)s` and `%(right)s` under `outputs`, or the two cables on the way", left=left, right=right
        )
        placed = len(boxes) == 2 and all(rig.plan.units[b].position is not None for b in boxes)
        if not placed:
            return fix
        return phrase(
            "%(fix)s; or the places of %(names)s, if they are typed the wrong way round", fix=fix, names=names(boxes)
        )
    return phrase("move `%(bus)s` to the socket whose cable goes to the other side", bus=bus.name)


def _unlike(rig: Rig, bus: Bus, boxes: dict[str, list[str]]) -> Finding:
    outputs = _outputs(rig, bus)
    left, right = (boxes[leg] for leg in bus.legs)
    both = [*left, *right]
    return Finding(
        "swapped-sides",
        SEVERITY,
        phrase(
            "the two sides of `%(bus)s` end in unlike speakers: %(left)s and %(right)s",
            bus=bus.name,
            left=names(left),
            right=names(right),
        ),
        Label(_span(outputs["left"]), phrase(LEAVES, bus=f"{bus.name} left")),
        (
            Label(_span(outputs["right"]), phrase(LEAVES, bus=f"{bus.name} right")),
            *(Label(rig.plan.units[b].span, _kind(rig, b)) for b in both[:4]),
        ),
        path=ways(rig, ((bus_node(bus.desk, bus.name, leg), boxes[leg][0]) for leg in bus.legs)),
        effect=phrase("the two sides sound unlike, and one of them was probably meant for another speaker"),
        remedy=phrase("exchange the cables so that both sides end in speakers of one kind"),
        objects=frozenset(both),
    )
