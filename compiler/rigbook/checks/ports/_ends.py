"""What several checks of this group ask about the two ends of a cable."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from rigbook.graph import kinds as k
from rigbook.graph.rig import Rig
from rigbook.language.values.names import unfold
from rigbook.plan.model import Cable, Port, Socket
from rigbook.text.phrase import phrase

SPEAKER: Final = ("speaker", "100 V line")
"""Levels of amplifier outputs."""
SIGNAL: Final = ("mic", "line", "mic or line", "instrument", "headphone")
"""Levels of everything before an amplifier."""
QUIET: Final = ("mic", "instrument")
"""Levels that need a preamplifier."""

Fault = tuple[Cable, Port, Port]


def port_of(rig: Rig, socket: Socket) -> Port | None:
    """The port of a socket; None where the kind of its unit is unknown, or has no such port."""
    unit = rig.plan.units.get(socket.unit)
    return unit.kind.ports.get(socket.port) if unit and unit.kind else None


def faulty(rig: Rig, is_wrong: Callable[[Cable, Port, Port], bool]) -> Iterator[tuple[Fault, int]]:
    """Cables with a fault and their ports: the first of each line of wiring, with how many more of it have the same.

    Cables that run the wrong way, or whose ports are not known, are left to the checks that say so.
    """
    found: dict[object, list[Fault]] = {}
    for cable in rig.plan.cables:
        start, end = port_of(rig, cable.start), port_of(rig, cable.end)
        if start is None or end is None or start.direction == "in" or end.direction == "out":
            continue
        if is_wrong(cable, start, end):
            found.setdefault((cable.span, cable.start.unit, cable.end.unit), []).append((cable, start, end))
    for faults in found.values():
        yield faults[0], len(faults) - 1


def around(rig: Rig, sockets: Iterable[str]) -> set[str]:
    """Every socket and end up and down the signal from some sockets, up to the first channel or bus, which are in it
    with the names by which findings call them.
    """
    nodes = set(sockets) & rig.net.nodes.keys()
    todo = list(nodes)
    while todo:
        node = todo.pop()
        if rig.net.nodes[node]["kind"] not in (k.CHANNEL, k.BUS, k.BOX, k.SINK):
            new = [n for n in (*rig.net.pred[node], *rig.net.succ[node]) if n not in nodes]
            nodes.update(new)
            todo += new
    ends = {e for n in nodes for e in rig.ends_of(n) if rig.net.nodes[n]["kind"] == k.SOCKET}
    channels = [c for n in nodes if (c := rig.channel(n))]
    names = {n for c in channels for n in (c.name, f"channel {c.number}", *(s.id for s in (*c.sockets, *c.plugged)))}
    outputs = {o.name for o in rig.plan.outputs for s, _ in o.sockets if s.id in nodes}
    cables = {c.name for c in rig.plan.cables if c.start.id in nodes or c.end.id in nodes}
    return nodes | ends | names | outputs | cables


def loose(rig: Rig, plug: str) -> list[str]:
    """The outputs at which lines from a socket end before they come to a desk, a speaker or a recorder."""
    came, todo, ends = {plug: ""}, [plug], []
    while todo:
        here = todo.pop()
        on = [n for n in rig.net.succ[here] if n != came[here]]
        unit, port = rig.unit(here), rig.net.nodes[here].get("port")
        if not on and unit and port is not None and port.direction != "in":
            ends.append(here)
        new = [n for n in on if n not in came and rig.net.nodes[n]["kind"] == k.SOCKET]
        came |= dict.fromkeys(new, here)
        todo += new
    return ends


def row(sockets: list[str]) -> str:
    """Sockets side by side as they are typed, `box/in 1-8`; empty where they are no row."""
    unit, _, first = sockets[0].partition("/")
    last = sockets[-1].rpartition(" ")[2]
    ports = unfold(f"{first}-{last}") or []
    return f"{unit}/{first}-{last}" if [f"{unit}/{p}" for p in ports] == sockets else ""


def more(count: int) -> str:
    """What is said of further cables of the same line."""
    return phrase(", and %(count)s more on this line", count=count) if count else ""


def speaker_lines(rig: Rig, cable: Cable) -> bool:
    """True for a cable that leaves an output of an amplifier, or a link behind one."""
    port = port_of(rig, cable.start)
    return port is not None and port.level in SPEAKER
