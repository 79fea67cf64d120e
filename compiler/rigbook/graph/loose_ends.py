"""The loose ends of a rig: signals that stop before they are heard, and speakers that nothing comes to."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.sides import OTHER, common_side
from rigbook.plan.model import Bus, Cable, Output
from rigbook.records import frozen, replace

SPEAKER_LEVELS = ("speaker", "100 V line")


@frozen
class Start:
    """A signal that stops before anything is heard."""

    why: str
    """`uncabled`: its socket has no cable. `stops`: its cable leads to nothing that sounds. `amplifier`: an amplifier
    output without a cable. `no output`: a bus leg that no socket is assigned to. Two that are heard, but not where
    they were meant to be: `doubled`: its socket has two buses. `tied`: its cable shares an input with another. And
    `unknown`: it goes to a name that could not be resolved, which has its finding.
    """
    node: str
    """The socket; of `no output` the bus leg; of `tied` the socket that two cables go into."""
    span: Span
    role: str
    side: str
    output: Output | None = None
    cable: Cable | None = None
    """`tied`: the cable."""
    tails: tuple[str, ...] = ()
    """`stops`: the sockets at which the signal ends."""


@frozen
class Want:
    """Ends that nothing comes to, by the socket at which the way to them begins."""

    head: str
    out: bool
    """True where the head is an output with a cable in it: a bus is missing, not a cable."""
    cable: Cable | None
    """The first cable on the way; None where the head is the speaker's own input."""
    ends: tuple[str, ...]
    box: str
    """What sort of box it leads to: `top`, `sub`, …, `sink`."""
    side: str
    span: Span
    borrowed: bool = False
    """True where the ends do get a signal, from a socket that feeds another cable too: the cable may be meant to come
    from elsewhere. `head` is that socket.
    """
    told: bool = False
    """True where the cable comes from a name that could not be resolved, which has its finding."""


def is_loud(rig: Rig, node: str) -> bool:
    """A socket at the level of speaker lines."""
    port = rig.net.nodes[node].get("port")
    return port is not None and port.level in SPEAKER_LEVELS


def starts(rig: Rig) -> Iterator[Start]:
    """Every signal that stops short, or that came where another one belongs."""
    assigned: dict[str, list[tuple[Output, Span]]] = {}
    for output in rig.plan.outputs:
        for socket, span in output.sockets:
            assigned.setdefault(socket.id, []).append((output, span))
    seen: set[str] = set()
    for node, outputs in assigned.items():
        for output, span in outputs:
            stopped = _stopped(rig, node, seen)
            role = rig.plan.buses[output.desk, output.bus].role
            side = output.leg if output.leg in OTHER else ""
            if rig.net.nodes[node]["kind"] == k.UNKNOWN:
                yield Start("unknown", node, span, role, side, output)
            elif len({id(o) for o, _ in outputs}) > 1:
                yield Start("doubled", node, span, role, side, output)
            elif stopped is not None:
                why = "stops" if stopped != (node,) else "uncabled"
                yield Start(why, node, span, role, side, output, tails=stopped)
    yield from _amplifiers(rig)
    yield from _tied(rig)
    yield from _unknown(rig)
    taken: dict[tuple[str, str], list[str]] = {}
    for output in rig.plan.outputs:
        taken.setdefault((output.desk, output.bus), []).append(output.leg)
    for bus in rig.plan.buses.values():
        yield from _legs(bus, taken.get((bus.desk, bus.name), []))


def _stopped(rig: Rig, node: str, seen: set[str]) -> tuple[str, ...] | None:
    """Where a signal ends that reaches nothing; None where it is heard, or ends at an amplifier or another desk."""
    net = rig.net
    if rig.heard.get(node) or net.nodes[node]["kind"] == k.UNKNOWN or _is_phones(rig, node):
        return None
    tails, todo = [], [node]
    while todo:
        here = todo.pop()
        after = [b for b in net.succ[here] if b not in seen]
        seen.update(after)
        todo += after
        if not net.succ[here]:
            tails.append(here)
        if any(net.nodes[b]["kind"] == k.CHANNEL for b in net.succ[here]):
            return None
        if not net.succ[here] and _is_amplifier_output(rig, here):
            return None
    return tuple(sorted(tails)) or (node,)


def _is_phones(rig: Rig, node: str) -> bool:
    port = rig.net.nodes[node].get("port")
    return port is not None and port.level == "headphone"


def _is_amplifier_output(rig: Rig, node: str) -> bool:
    data = rig.net.nodes[node]
    port, unit = data.get("port"), rig.plan.units.get(data["unit"])
    return bool(
        port and unit and unit.family == "amplifier" and port.direction == "out" and port.level in SPEAKER_LEVELS
    )


def _amplifiers(rig: Rig) -> Iterator[Start]:
    """Outputs of amplifiers that get signal and drive nothing."""
    for node in rig.net:
        if node in rig.driven and not rig.net.succ[node] and _is_amplifier_output(rig, node):
            yield Start("amplifier", node, rig.net.nodes[node]["span"], *_role(rig, node))


def _role(rig: Rig, node: str) -> tuple[str, str]:
    """Role and side of the bus that comes to a socket."""
    legs = [rig.net.nodes[leg] for leg in rig.legs_of(node)]
    sides = {leg["leg"] for leg in legs}
    return (legs[0]["bus"].role if legs else ""), (sides.pop() if len(sides) == 1 else "")


def _unknown(rig: Rig) -> Iterator[Start]:
    """Cables to sockets that could not be resolved."""
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable) and rig.net.nodes[cable.end.id]["kind"] == k.UNKNOWN:
            yield Start("unknown", cable.start.id, cable.end_span, *_role(rig, cable.start.id), cable=cable)


def _tied(rig: Rig) -> Iterator[Start]:
    """Each cable of those that share an input; the later one first, as it is more often the wrong one."""
    ends: dict[str, list[Cable]] = {}
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable):
            ends.setdefault(cable.end.id, []).append(cable)
    for node, cables in ends.items():
        for cable in reversed(cables) if len(cables) > 1 else ():
            yield Start("tied", node, cable.end_span, *_role(rig, cable.start.id), cable=cable)


def _legs(bus: Bus, taken: list[str]) -> Iterator[Start]:
    """Legs of a bus that no socket is assigned to and that goes to no other bus."""
    said = bus.record.get("to") or "to" in bus.record.broken
    for leg in bus.legs:
        if not said and not any(t in ("", "mono", leg) for t in taken):
            yield Start("no output", k.bus_node(bus.desk, bus.name, leg), bus.span, bus.role, leg)


def wants(rig: Rig) -> Iterator[Want]:
    """Every way to a speaker (or along a cable to a recorder) that nothing comes to."""
    heads = [
        n
        for n, d in rig.net.nodes.items()
        if d["kind"] == k.SOCKET and not rig.net.pred[n] and n not in rig.driven and rig.heard.get(n)
        and not _comes_back(rig, n)
    ]
    found = [w for w in (_want(rig, n) for n in heads) if w is not None]
    claimed: set[str] = set()
    # of a box with several empty inputs the one with a cable before it is meant
    for want in sorted(found, key=lambda w: w.cable is None):
        if want.box == "sink" or not claimed.issuperset(want.ends):
            claimed.update(want.ends)
            yield want
    yield from _borrowed(rig)
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable) and rig.net.nodes[cable.start.id]["kind"] == k.UNKNOWN:
            told = _want(rig, cable.end.id, cable)
            if told is not None:
                yield replace(told, borrowed=False, told=True)


def _comes_back(rig: Rig, head: str) -> bool:
    """A way back from an insert: `open-insert` says that nothing comes by it."""
    todo = [head]
    for node in todo:
        for edge, data in rig.edges_out(node):
            if data["kind"] == k.INSERT:
                return True
            if data["kind"] in k.WIRES and edge[1] not in todo:
                todo.append(edge[1])
    return False


def _borrowed(rig: Rig) -> Iterator[Want]:
    """Cables that leave one socket together and do not say so; the later ones first."""
    leaving: dict[str, list[Cable]] = {}
    for cable in rig.plan.cables:
        if rig.carriers.carries_signal(cable):
            leaving.setdefault(cable.start.id, []).append(cable)
    for cables in leaving.values():
        if len(cables) > 1 and not any(c.split for c in cables):
            for cable in reversed(cables):
                want = _want(rig, cable.end.id, cable)
                if want:
                    yield want


def _want(rig: Rig, head: str, borrowed: Cable | None = None) -> Want | None:
    cable = borrowed or _first_cable(rig, head)
    ends = tuple(e for e in rig.ends_of(head) if borrowed or e not in rig.driven or (cable and _tracks(rig, e)))
    units = [rig.plan.units[e] for e in ends if e in rig.plan.units]
    if not units:
        return None
    boxes = [u for u in units if u.is_speaker]
    kind = boxes[0].kind if boxes else None
    port = rig.net.nodes[head].get("port")
    return Want(
        borrowed.start.id if borrowed else head,
        port is not None and port.direction == "out" and cable is not None,
        cable,
        tuple(u.name for u in units),
        str(kind.get("box", "top")) if kind else "sink",
        common_side(rig.plan, boxes),
        cable.start_span if cable else units[0].span,
        borrowed is not None,
    )


def _tracks(rig: Rig, end: str) -> bool:
    """Each input of a recorder is a track of its own; a speaker that gets one signal waits for no other."""
    return bool(rig.net.nodes[end]["kind"] == k.SINK)


def _first_cable(rig: Rig, head: str) -> Cable | None:
    todo: list[str] = [head]
    seen = {head}
    while todo:
        node = todo.pop(0)
        for edge, data in rig.edges_out(node):
            if data["kind"] == k.CABLE:
                return rig.cable(edge)
            # a cable behind a desk is on the way of a bus, not on this one
            if edge[1] not in seen and data["kind"] != k.LISTEN:
                seen.add(edge[1])
                todo.append(edge[1])
    return None
