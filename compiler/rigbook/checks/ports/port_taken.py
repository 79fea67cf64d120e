"""Two plugs for one socket.

*What it finds*
A socket that two things are to be plugged into: two microphones, a cable and a microphone, a network cable and
another one, or a cable that comes and one that leaves. Two cables that feed one input are told by `two-into-one`, one
output into several inputs by `shared-output`.

*Why it matters on stage*
A socket takes one plug. Whoever comes second finds it taken and guesses another.

*Put it right*
Move one of the two to a socket that is free.

*Fails*
    plan: 1
    show: Fails
    units: {desk: desk-16, box-left: stage-box-16, box-right: stage-box-16}
    wiring: {network: ["desk/net A -> box-left/net A, 30 m", "desk/net A -> box-right/net A, 30 m"]}

*Passes*
    plan: 1
    show: Passes
    units: {desk: desk-16, box-left: stage-box-16, box-right: stage-box-16}
    wiring: {network: ["desk/net A -> box-left/net A, 30 m", "desk/net B -> box-right/net A, 30 m"]}

*Source*
Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.checks.ports._ends import port_of
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span
from rigbook.graph.rig import ORIGIN_FAMILIES, Rig
from rigbook.plan.model import Cable, Channel, Port, Socket
from rigbook.records import frozen
from rigbook.text.phrase import both, phrase

SEVERITY = Severity.ERROR
YIELDS_TO = ("two-into-one", "double-patched-input", "wrong-direction", "box-not-joined")


@frozen
class _Plug:
    what: str
    """`a cable from `x``, `Fiddle`."""
    span: Span
    leaves: bool
    cable: Cable | None = None
    channel: Channel | None = None


def find(rig: Rig) -> Iterator[Finding]:
    """One finding for each socket."""
    for socket, plugs in _plugs(rig).items():
        port = port_of(rig, socket)
        if port is None or len(plugs) < 2 or _told_elsewhere(rig, port, plugs):
            continue
        first, *rest = plugs
        yield Finding(
            "port-taken",
            SEVERITY,
            phrase(
                "`%(socket)s` is to take %(count)s plugs: %(plugs)s",
                socket=socket.id,
                count=len(plugs),
                plugs=both(p.what for p in plugs[:3]),
            ),
            Label(rest[0].span, phrase("taken already")),
            (Label(first.span, phrase("taken here")), *(Label(p.span) for p in rest[1:])),
            effect=phrase("one of them finds no socket at `%(unit)s`", unit=socket.unit),
            remedy=_remedy(rig, socket, port, _used(rig)),
            objects=frozenset({socket.id}),
        )


def _plugs(rig: Rig) -> dict[Socket, list[_Plug]]:
    out: dict[Socket, list[_Plug]] = {}
    for cable in rig.plan.cables:
        out.setdefault(cable.start, []).append(
            _Plug(phrase("a cable to `%(end)s`", end=cable.end.id), cable.start_span, True, cable)
        )
        out.setdefault(cable.end, []).append(
            _Plug(phrase("a cable from `%(start)s`", start=cable.start.id), cable.end_span, False, cable)
        )
    for channel in rig.plan.channels:
        if not channel.source_key:
            continue
        span = channel.record.at("plugged" if "plugged" in channel.record.spans else "from")
        for socket in channel.plugged:
            there = out.setdefault(socket, [])
            if not any(_same(rig, p, channel) for p in there):
                there.append(_Plug(f"`{channel.name}`", span, False, channel=channel))
    return out


def _same(rig: Rig, plug: _Plug, channel: Channel) -> bool:
    """The thing already plugged in is what this channel means: the same source named by another desk, or the unit
    from which the cable comes.
    """
    if plug.channel is not None:
        other = plug.channel
        alike = other.name.lower() == channel.name.lower() or other.source_kind == channel.source_kind
        return alike and (other.desk != channel.desk or other.sockets == channel.sockets)
    unit = rig.plan.units.get(plug.cable.start.unit) if plug.cable else None
    family = channel.source_kind.family if channel.source_kind else ""
    if unit is None or unit.family not in ORIGIN_FAMILIES:
        return False
    return unit.family == family or (unit.family == "player") == (channel.source_key == "line")


def _told_elsewhere(rig: Rig, port: Port, plugs: list[_Plug]) -> bool:
    """Signal cables that all come in, or all leave, are the matter of the routing checks."""
    signal = [p for p in plugs if p.cable is not None and rig.carriers.carries_signal(p.cable)]
    return len(signal) == len(plugs) and len({p.leaves for p in plugs}) == 1


def _used(rig: Rig) -> set[Socket]:
    used = {s for c in rig.plan.cables for s in (c.start, c.end)}
    return used | {s for c in rig.plan.channels for s in (*c.sockets, *c.plugged)}


def _remedy(rig: Rig, socket: Socket, port: Port, used: set[Socket]) -> str:
    kind = rig.plan.units[socket.unit].kind
    alike = (
        (p.name for p in kind.ports.values() if (p.level, p.direction) == (port.level, port.direction)) if kind else ()
    )
    free = next((f"{socket.unit}/{name}" for name in alike if Socket(socket.unit, name) not in used), None)
    return (
        phrase("move one of them to `%(free)s`, which is free", free=free) if free else phrase("take one of them out")
    )
