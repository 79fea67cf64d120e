"""What hangs in the air: signals that stop before they are heard, speakers that nothing comes to, and what was
probably meant to join them.

A cable that is missing leaves two loose ends, often far apart in the plan. Joined here by role, side and level, they
are one gap, so that checks can say one thing about one fault.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from types import MappingProxyType

from rigbook.findings.place import Span
from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.graph.sides import OTHER, common_side
from rigbook.plan.model import Bus, Cable, Output

SPEAKER_LEVELS = ("speaker", "100 V line")
ANY = MappingProxyType({"top": 1, "sub": 1, "wedge": 1, "fill": 1, "delay": 1, "sink": 1})
FIT = MappingProxyType(
    {
        "mains": {"top": 3, "delay": 1, "fill": 1, "sub": 1},
        "subs": {"sub": 3},
        "monitor": {"wedge": 3, "top": 1, "fill": 1, "sink": 1},
        "fill": {"fill": 3, "top": 2, "wedge": 1},
        "delay": {"delay": 3, "top": 2, "fill": 1},
        "record": {"sink": 3},
        "feed": {**ANY, "sink": 2},
        "matrix": ANY,
        "group": ANY,
    }
)
"""How well a bus of a role goes with a box of a sort; what is not here does not go together."""
SETS = ("mains", "subs", "fill", "delay", "matrix")
"""Roles whose bus often feeds several like boxes at once."""
MOST = 200
"""Loose ends of a sort that are compared; a plan with more is half written."""


@dataclass(frozen=True)
class Start:
    """A signal that stops before anything is heard."""

    why: str
    """`uncabled`: its socket has no cable; `stops`: its cable leads to nothing that sounds; `amplifier`: an amplifier
    output without a cable; `no output`: a bus leg that no socket is assigned to; `doubled`: its socket has two buses."""
    node: str
    """The socket; of `no output` the bus leg."""
    span: Span
    role: str
    side: str
    output: Output | None = None
    tails: tuple[str, ...] = ()
    """`stops`: the sockets at which the signal ends."""


@dataclass(frozen=True)
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


@dataclass(frozen=True)
class Gap:
    """A start with the wants that it was probably meant for; or a want alone."""

    start: Start | None
    wants: tuple[Want, ...]


def gaps(rig: Rig) -> tuple[Gap, ...]:
    """Every loose end of a rig, joined where one change would join them."""
    starts, wants = list(_starts(rig)), list(_wants(rig))
    pairs = []
    for i, start in enumerate(starts[:MOST]):
        for j, want in enumerate(wants[:MOST]):
            score = _score(rig, start, want)
            if score:
                pairs.append((-score, i, j))
    of: dict[int, list[Want]] = {}
    taken: set[int] = set()
    for _, i, j in sorted(pairs):
        if i not in of and j not in taken:
            of[i] = [wants[j]]
            taken.add(j)
    for i, mine in of.items():
        for j, want in enumerate(wants):
            if j not in taken and _twins(rig, starts[i], mine[0], want):
                mine.append(want)
                taken.add(j)
    joined = [Gap(s, tuple(of.get(i, ()))) for i, s in enumerate(starts) if s.why != "doubled" or i in of]
    return (*joined, *(Gap(None, (w,)) for j, w in enumerate(wants) if j not in taken))


def _score(rig: Rig, start: Start, want: Want) -> int:
    """How well a start goes with a want; 0 where it does not."""
    if want.out:
        possible = start.why in ("no output", "uncabled", "doubled")
    else:
        data = rig.graph.nodes[want.head]
        loud = data["port"].level in SPEAKER_LEVELS
        possible = start.why == "amplifier" if loud else start.why in ("uncabled", "stops")
    fit = FIT.get(start.role, {}).get(want.box, 0)
    if not possible or not fit or (start.side and want.side == OTHER.get(start.side)):
        return 0
    # a bus that is patched to a wrong socket is most often off by a few sockets of the same unit
    near = want.out and want.head.partition("/")[0] == start.node.partition("/")[0]
    return fit * 4 + (2 if start.side and start.side == want.side else 0) + (1 if near else 0)


def _twins(rig: Rig, start: Start, first: Want, other: Want) -> bool:
    """True where `other` would hang on the same line as `first`: like boxes of one mono bus, linked."""
    if start.side or start.role not in SETS or other.out or first.box != other.box:
        return False
    units = [rig.plan.units.get(w.head.partition("/")[0]) for w in (first, other)]
    kinds = {u.kind.name for u in units if u and u.kind}
    return len(kinds) == 1 and first.ends != other.ends


def _starts(rig: Rig) -> Iterator[Start]:
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
            if len({id(o) for o, _ in outputs}) > 1:
                yield Start("doubled", node, span, role, side, output)
            elif stopped is not None:
                yield Start("stops" if stopped != (node,) else "uncabled", node, span, role, side, output, stopped)
    yield from _amplifiers(rig)
    for bus in rig.plan.buses.values():
        yield from _legs(rig, bus)


def _stopped(rig: Rig, node: str, seen: set[str]) -> tuple[str, ...] | None:
    """Where a signal ends that reaches nothing; None where it is heard, or ends at an amplifier or another desk."""
    graph = rig.graph
    if rig.heard.get(node) or graph.nodes[node]["kind"] == k.UNKNOWN or _is_phones(rig, node):
        return None
    tails, todo = [], [node]
    while todo:
        here = todo.pop()
        after = [b for b in graph.succ[here] if b not in seen]
        seen.update(after)
        todo += after
        if not graph.succ[here]:
            tails.append(here)
        if any(graph.nodes[b]["kind"] == k.CHANNEL for b in graph.succ[here]) or _is_amplifier_output(rig, here):
            return None
    return tuple(sorted(tails)) or (node,)


def _is_phones(rig: Rig, node: str) -> bool:
    port = rig.graph.nodes[node].get("port")
    return port is not None and port.level == "headphone"


def _is_amplifier_output(rig: Rig, node: str) -> bool:
    data = rig.graph.nodes[node]
    port, unit = data.get("port"), rig.plan.units.get(data["unit"])
    return bool(
        port and unit and unit.family == "amplifier" and port.direction == "out" and port.level in SPEAKER_LEVELS
    )


def _amplifiers(rig: Rig) -> Iterator[Start]:
    """Outputs of amplifiers that get signal and drive nothing."""
    for node in rig.graph:
        if node in rig.driven and not rig.graph.succ[node] and _is_amplifier_output(rig, node):
            legs = rig.legs_of(node)
            buses = [rig.graph.nodes[leg]["bus"] for leg in legs]
            sides = {rig.graph.nodes[leg]["leg"] for leg in legs}
            side = sides.pop() if len(sides) == 1 else ""
            yield Start("amplifier", node, rig.graph.nodes[node]["span"], buses[0].role if buses else "", side)


def _legs(rig: Rig, bus: Bus) -> Iterator[Start]:
    """Legs of a bus that no socket is assigned to and that goes to no other bus."""
    said = bus.record.get("to") or "to" in bus.record.broken
    mine = [o for o in rig.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name)]
    for leg in bus.legs:
        if not said and not any(o.leg in ("", "mono", leg) for o in mine):
            yield Start("no output", k.bus_node(bus.desk, bus.name, leg), bus.span, bus.role, leg)


def _wants(rig: Rig) -> Iterator[Want]:
    heads = [
        n
        for n, d in rig.graph.nodes(data=True)
        if d["kind"] == k.SOCKET and not rig.graph.pred[n] and n not in rig.driven and rig.heard.get(n)
    ]
    found = [w for w in (_want(rig, n) for n in heads) if w is not None]
    claimed: set[str] = set()
    # of a box with several empty inputs the one with a cable before it is meant
    for want in sorted(found, key=lambda w: w.cable is None):
        if not claimed.issuperset(want.ends):
            claimed.update(want.ends)
            yield want


def _want(rig: Rig, head: str) -> Want | None:
    ends = tuple(e for e in rig.ends_of(head) if e not in rig.driven)
    units = [rig.plan.units[e] for e in ends if e in rig.plan.units]
    if not units:
        return None
    cable = _first_cable(rig, head)
    boxes = [u for u in units if u.is_speaker]
    if not boxes and cable is None:
        return None
    kind = boxes[0].kind if boxes else None
    port = rig.graph.nodes[head]["port"]
    return Want(
        head,
        port.direction == "out" and cable is not None,
        cable,
        tuple(u.name for u in units),
        str(kind.get("box", "top")) if kind else "sink",
        common_side(rig.plan, boxes),
        cable.start_span if cable else units[0].span,
    )


def _first_cable(rig: Rig, head: str) -> Cable | None:
    todo: list[str] = [head]
    seen = {head}
    while todo:
        node = todo.pop(0)
        for edge, data in rig.edges_out(node):
            if data["kind"] == k.CABLE:
                return rig.cable(edge)
            if edge[1] not in seen:
                seen.add(edge[1])
                todo.append(edge[1])
    return None


def names_of(wants: Iterable[Want]) -> frozenset[str]:
    """Everything that a finding about these wants speaks for: sockets, cables' ends and boxes."""
    out: set[str] = set()
    for want in wants:
        out |= {want.head, *want.ends}
        if want.cable:
            out |= {want.cable.start.id, want.cable.end.id}
    return frozenset(out)
