"""A speaker that is reached twice.

*What it finds*
Two buses, or both sides of one, that leave by one socket or come into one speaker; a channel that comes to a bus
directly and once more through a group. Sums that are said are left alone: a `mono` output, a matrix, a processor that
mixes, the return of an effect.

*Why it matters on stage*
What arrives twice is louder than it should be; if one way is later than the other it sounds hollow. Turning down one
bus does not silence the box.

*Put it right*
Decide which way it shall go and take the other one out. Write `BUS mono` under `outputs` for the sum of both sides.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main left: desk/out 1, main right: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, top: powered-top-12}
    inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
    buses: {main: {stereo: yes}}
    outputs: {main mono: desk/out 1}
    wiring: {xlr: [desk/out 1 -> top/in]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.routing._say import leg_name, names, ways
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.build import entry_of
from rigbook.graph.gaps import Gap, names_of
from rigbook.graph.rig import Rig
from rigbook.plan.model import Bus, Output
from rigbook.text.phrase import counted, joined, phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("two-into-one", "signal-loop")


def find(rig: Rig) -> Iterator[Finding]:
    """By socket, by speaker, by bus: each merging of two ways once."""
    for node, outputs in doubled(rig).items():
        if rig.boxes_of(node):
            yield _socket(rig, node, outputs)
    for box in rig.boxes:
        yield from _box(rig, box)
    yield from _groups(rig)


def doubled(rig: Rig) -> dict[str, list[tuple[Output, Span]]]:
    """Sockets that several outputs are assigned to, in the order of the plan."""
    out: dict[str, list[tuple[Output, Span]]] = {}
    for output in rig.plan.outputs:
        for socket, span in output.sockets:
            out.setdefault(socket.id, []).append((output, span))
    return {n: found for n, found in out.items() if len({(o.desk, o.name) for o, _ in found}) > 1}


def out_of_place(rig: Rig, node: str) -> Gap | None:
    """The output of a doubled socket that another cable waits for."""
    return next((g for g in rig.gaps if g.start and g.start.why == "doubled" and g.start.node == node), None)


def _socket(rig: Rig, node: str, outputs: list[tuple[Output, Span]]) -> Finding:
    gap = out_of_place(rig, node)
    wrong = next((p for p in outputs if gap and gap.start and p[0] is gap.start.output), outputs[-1])
    others = [p for p in outputs if p is not wrong]
    boxes = rig.boxes_of(node)
    said = names(o.name for o, _ in [*others, wrong])
    labels = [Label(span, phrase("`%(output)s` leaves here too", output=o.name)) for o, span in others]
    labels += [
        Label(w.span, phrase("this cable to %(names)s waits", names=names(w.ends))) for w in (gap.wants if gap else ())
    ]
    return Finding(
        "double-routed-speaker",
        SEVERITY,
        counted(
            len(boxes),
            "%(names)s gets %(said)s from one socket",
            "%(names)s get %(said)s from one socket",
            names=names(boxes),
            said=said,
        ),
        Label(wrong[1], phrase("`%(output)s` leaves by `%(node)s`", output=wrong[0].name, node=node)),
        tuple(labels),
        path=ways(rig, ((leg, boxes[0]) for leg in rig.legs_of(boxes[0]))),
        effect=_effect(gap, boxes),
        remedy=_remedy(gap, wrong[0], node, [o for o, _ in outputs]),
        objects=frozenset({node, *boxes, *(o.name for o, _ in outputs)}) | names_of(gap.wants if gap else ()),
    )


def _effect(gap: Gap | None, boxes: tuple[str, ...]) -> str:
    told = counted(
        len(boxes),
        "%(names)s plays two signals at once",
        "%(names)s play two signals at once",
        names=names(boxes),
    )
    if gap is None:
        return told
    return phrase("%(told)s, %(names)s stays silent", told=told, names=names(e for w in gap.wants for e in w.ends))


def _remedy(gap: Gap | None, wrong: Output, node: str, outputs: list[Output]) -> str:
    if gap:
        return phrase("write `%(line)s`", line=f"{wrong.name}: {gap.wants[0].head}")
    if {o.bus for o in outputs} == {wrong.bus}:
        return phrase("write `%(bus)s mono: %(node)s` for the sum of both sides", bus=wrong.bus, node=node)
    return phrase("give `%(output)s` a socket of its own, or take it out", output=wrong.name)


def _box(rig: Rig, box: str) -> Iterator[Finding]:
    """A speaker with several inputs that each get a signal of their own."""
    ins = [edge[0] for edge, data in rig.edges_in(box) if data["kind"] == k.SOUND and rig.legs_of(edge[0])]
    if len(ins) < 2:
        return
    legs = list(dict.fromkeys(leg for node in ins for leg in rig.legs_of(node)))
    unit = rig.plan.units[box]
    yield Finding(
        "double-routed-speaker",
        SEVERITY,
        phrase(
            "`%(box)s` gets %(buses)s at %(inputs)s",
            box=box,
            buses=names(leg_name(rig, leg) for leg in legs),
            inputs=names(ins),
        ),
        Label(unit.span, phrase("two signals come in here")),
        tuple(
            {
                s: Label(s, phrase("by these cables")) for n in ins if (s := rig.net.nodes[n]["span"]) != unit.span
            }.values()
        ),
        path=ways(rig, ((rig.legs_of(n)[0], n) for n in ins)),
        effect=phrase("`%(box)s` plays two signals at once", box=box),
        remedy=phrase(
            "leave one cable at `%(box)s`, or sum the two in the desk with a `mono` output or a matrix", box=box
        ),
        objects=frozenset({box, *ins}),
    )


def _groups(rig: Rig) -> Iterator[Finding]:
    """Channels that come to a bus both directly and through another bus."""
    for bus in rig.plan.buses.values():
        for send in bus.sends:
            target = rig.plan.buses.get((bus.desk, send.bus))
            if target is None or send.off or bus.role == "effects" or target.role == "effects" or _own(bus, target):
                continue
            both = _channels(rig, bus) & _channels(rig, target)
            if both and any(rig.boxes_of(k.bus_node(target.desk, target.name, leg)) for leg in target.legs):
                yield _twice(rig, bus, target, send.span, sorted(both))


def _own(bus: Bus, target: Bus) -> bool:
    """`main-in-monitor` speaks of the main bus in a monitor mix."""
    return bus.role == "mains" and target.role == "monitor"


def _channels(rig: Rig, bus: Bus) -> set[str]:
    """Channel nodes sent straight to a bus."""
    nodes = {e[0] for leg in bus.legs for e, _ in rig.edges_in(entry_of(rig.net, k.bus_node(bus.desk, bus.name, leg)))}
    return {n for n in nodes if rig.net.nodes[n]["kind"] == k.CHANNEL}


def _twice(rig: Rig, bus: Bus, target: Bus, span: Span, both: list[str]) -> Finding:
    channels = {c.number: c for n in both if (c := rig.channel(n))}
    sends = [s for c in channels.values() for s in c.sends if s.bus == target.name]
    first = both[0]
    leg, end = (k.bus_node(b.desk, b.name, b.legs[0]) for b in (bus, target))
    direct, through = ways(rig, [(first, end)]), ways(rig, [(first, leg), (leg, end)])
    return Finding(
        "double-routed-speaker",
        SEVERITY,
        counted(
            len(channels),
            "%(names)s comes to `%(target)s` directly and through `%(bus)s`",
            "%(names)s come to `%(target)s` directly and through `%(bus)s`",
            names=names(c.name for c in channels.values()),
            target=target.name,
            bus=bus.name,
        ),
        Label(span, phrase("`%(bus)s` goes to `%(target)s`", bus=bus.name, target=target.name)),
        tuple(Label(s.span, phrase("sent there directly")) for s in sends[:3]),
        path=joined((direct, through), " · "),
        effect=phrase(
            "it is too loud in `%(target)s` and stays there when `%(bus)s` is turned down",
            target=target.name,
            bus=bus.name,
        ),
        remedy=phrase(
            "take `%(target)s` out of the `to:` of the channels that go through `%(bus)s`",
            target=target.name,
            bus=bus.name,
        ),
        objects=frozenset({bus.name, target.name, f"{bus.name} -> {target.name}"}),
    )
