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
from rigbook.plan.model import Cable, Socket
from rigbook.text.phrase import both, phrase

SEVERITY = Severity.ERROR
ABSENCE = True


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each desk and each knot of units that nothing joins to it."""
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
    knots: dict[str, list[str]] = {}
    for (desk, name), places in used.items():
        if any({desk, name} & pair for pair in lost):
            continue
        if not rig.carriers.joined(desk, name) and all(port_of(rig, s) is not None for s, _ in places):
            knots.setdefault(desk, []).append(name)
    for desk, names in knots.items():
        while names:
            # boxes in a chain are out of reach together; the one with most uses is the one to cable
            first = max(names, key=lambda n: len(used[desk, n]))
            chain = [n for n in names if rig.carriers.joined(first, n)]
            names = [n for n in names if n not in chain]
            sockets = frozenset(s.id for n in chain for s, _ in used[desk, n])
            yield _finding(rig, desk, first, used[desk, first], sockets)


def _finding(rig: Rig, desk: str, name: str, places: list[tuple[Socket, Span]], sockets: frozenset[str]) -> Finding:
    unit = rig.plan.units[name]
    meant = _meant(rig, desk, places[0][0]) if len(places) == 1 else ""
    end, strange = _entry(rig, desk, name)
    start = _start(rig, desk)
    double = _doubled(rig, desk) if end else None
    if double is not None:
        start, strange = double
    others = {n.partition("/")[0] for n in sockets}
    if meant:
        remedy = phrase("write `%(line)s`", line=meant)
    elif start and end and strange:
        remedy = phrase("write `%(line)s` for `%(old)s`", line=f"{start} -> {end}", old=strange.name)
    elif start and end:
        remedy = phrase("write the cable `%(start)s -> %(end)s` under `network` in `wiring`", start=start, end=end)
    else:
        remedy = phrase("name the socket of `%(desk)s` and cable it; `plugged:` says where the source is", desk=desk)
    return Finding(
        "box-not-joined",
        SEVERITY,
        phrase(
            "no network cable joins %(names)s to `%(desk)s`", names=both(f"`{n}`" for n in sorted(others)), desk=desk
        ),
        Label(
            places[0][1],
            phrase("the first of %(count)s uses", count=len(places)) if len(places) > 1 else phrase("used here"),
        ),
        (
            Label(unit.span, phrase("out of reach")),
            *((Label(strange.span, phrase("this cable leads elsewhere")),) if strange and not meant else ()),
        ),
        effect=phrase("`%(desk)s` reaches none of the sockets of `%(name)s`", desk=desk, name=name),
        remedy=remedy,
        objects=frozenset({*others, *sockets, *((strange.start.id, strange.end.id) if strange else ())}),
    )


def _meant(rig: Rig, desk: str, socket: Socket) -> str:
    """For the only use of a box: the socket of the same number on a box of the desk, where the same signal comes."""
    heard = {s for c in rig.plan.channels if c.desk == desk for s in c.sockets}
    for unit in rig.plan.units.values():
        other = Socket(unit.name, socket.port)
        near = unit.family in ("desk", "stage box") and rig.carriers.joined(desk, unit.name)
        got = rig.feeds.get(other.id) if other.id in rig.net else 0
        if near and other not in heard and got and got == rig.feeds.get(socket.id):
            return other.id
    return ""


def _entry(rig: Rig, desk: str, name: str) -> tuple[str, Cable | None]:
    """The network socket of a unit to cable: that of a cable from another desk, with the cable; else a free one."""
    taken = {s.id: c for c in rig.carriers.cables for s in (c.start, c.end)}
    for cable in rig.carriers.cables:
        for own, far in ((cable.start, cable.end), (cable.end, cable.start)):
            family = rig.plan.units[far.unit].family if far.unit in rig.plan.units else ""
            if own.unit == name and far.unit != desk and (family == "desk" or _desk_beyond(rig, desk, name, far.unit)):
                return own.id, cable
    return next((n for n in _network(rig, name) if n not in taken), ""), None


def _doubled(rig: Rig, desk: str) -> tuple[str, Cable] | None:
    """A cable from the desk, or a box that it reaches, into a socket that another one is in too; with its near end."""
    ends = [s for c in rig.carriers.cables for s in (c.start, c.end)]
    # a cable from a box to itself; the desk's own; then one of a box, which may be joined to it by the very slip
    found = [
        (own.unit != far.unit, own.unit != desk, own.id, cable)
        for cable in reversed(rig.carriers.cables)
        for own, far in ((cable.start, cable.end), (cable.end, cable.start))
        if ends.count(far) > 1 and ends.count(own) == 1 and rig.carriers.joined(desk, own.unit)
    ]
    return min(found, key=lambda f: f[:2])[2:] if found else None


def _desk_beyond(rig: Rig, desk: str, name: str, far: str) -> bool:
    """A unit that another desk uses and reaches not over this one."""
    users = {c.desk for c in rig.plan.channels for s in c.sockets if s.unit == far}
    return desk not in users and bool(users) and name != far


def _start(rig: Rig, desk: str) -> str:
    """A free network socket of a desk, else of a box that it reaches."""
    taken = {s.id for c in rig.carriers.cables for s in (c.start, c.end)}
    near = [desk, *(u.name for u in rig.plan.units.values() if u.name != desk and rig.carriers.joined(desk, u.name))]
    return next((n for unit in near for n in _network(rig, unit) if n not in taken), "")


def _network(rig: Rig, name: str) -> list[str]:
    """The network sockets of a unit."""
    unit = rig.plan.units.get(name)
    ports = unit.kind.ports.values() if unit and unit.kind else ()
    return [f"{name}/{p.name}" for p in ports if p.level == "network"]
