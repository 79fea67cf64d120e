"""A fault: what it does to the wires, what it is called, where one goes to see it; and what all kinds of fault need."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache
from typing import NamedTuple

from rigbook.graph.codes import codes
from rigbook.graph.rig import Edge, Rig
from rigbook.plan.model import Cable, Socket, Unit
from rigbook.records import frozen
from rigbook.walk.wires import Change, Wire, Wires


class Thing(NamedTuple):
    """A thing of the plan, by the sort of its place in the handbook."""

    sort: str
    name: str
    called: str = ""
    """What the sentences call it, where that is not its name."""


class Sight(NamedTuple):
    """What a look at one place shows: `plugs` of a cable, a `setting`, or `replace` a cable and hear again."""

    kind: str
    target: str
    """A sort of place and its name: `output|main left`, `lead|box/in 3`; `say.ORDERS` has a sentence for each sort."""
    shows: str
    """What is found, a name behind a bar where there is one: `exchanged`, `muted|out A`; `say.VALUES` has the words."""


@frozen
class Fault:
    """One thing that may be wrong."""

    key: str
    """Unique, and the same while the names in it are."""
    kind: str
    """`open cable`, `crossed cables` …"""
    words: str
    """The fact, in a sentence without full stop."""
    check: str
    """The one thing to do that confirms it."""
    things: tuple[Thing, ...]
    """Devices, sockets and cables in question, the first the nearest to look at."""
    label: str
    """What the plan says is written on the cable; empty where it says nothing."""
    effort: float
    """What the check costs, about in minutes: a look at the desk is 1, a box that hangs is 8 (common practice)."""
    odds: float
    """How often such a thing happens beside others (common practice: plugs and settings before broken equipment)."""
    change: Change
    sights: tuple[Sight, ...] = ()


RIGHT = "right"
"""With a known good thing in its place, all is as planned again."""
OFF_DB = -20.0
"""What a turned-down amplifier is taken as."""
EFFORT = (
    ("desk", 1.0),
    ("stage box", 2.0),
    ("amplifier", 2.0),
    ("processor", 2.0),
    ("powered speaker", 3.0),
    ("speaker", 3.0),
)
HIGH = ("hung", "truss", "wall")


@frozen
class Bench:
    """A rig and its wires, with the answers that several kinds of fault ask."""

    rig: Rig
    wires: Wires

    @cached_property
    def of_cable(self) -> Mapping[int, list[int]]:
        """Numbers of the wires of each cable, by its identity."""
        out: dict[int, list[int]] = {}
        for i, edge in enumerate(self.wires.edges):
            cable = self.rig.cable(edge)
            if cable is not None:
                out.setdefault(id(cable), []).append(i)
        return out

    @cached_property
    def cables(self) -> tuple[tuple[Cable, int], ...]:
        """Cables that carry a signal to some end, with the number of their wire."""
        found = ((c, self.of_cable[id(c)][0]) for c in self.rig.plan.cables if id(c) in self.of_cable)
        return tuple((c, i) for c, i in found if self.live(i))

    def live(self, number: int) -> bool:
        """The wire leads on to something that is heard or recorded."""
        edge = self.wires.edges[number]
        return bool(self.rig.heard.get(edge[1]))

    def of_kind(self, kind: str) -> Iterator[tuple[int, Edge, dict[str, object]]]:
        """Live wires of a kind of edge: number, edge, what the graph says of it."""
        for i, edge in enumerate(self.wires.edges):
            data = self.rig.net.edge(edge)
            if data["kind"] == kind and self.live(i):
                yield i, edge, data

    def node(self, name: str) -> int | None:
        """The number of a node; None where the graph has none of that name."""
        return self.wires.index.get(name)

    @cached_property
    def codes(self) -> Mapping[str, str]:
        """What is written on each physical cable."""
        return codes(self.rig.plan)

    def label(self, cable: Cable) -> str:
        """What is written on both ends of a cable."""
        return self.codes[cable.sheath]

    def effort(self, unit: str) -> float:
        """What it costs to look at a unit."""
        return effort(self.rig, unit)

    @cached_property
    def taken(self) -> frozenset[str]:
        """Sockets with a cable or a source in them."""
        ends = {s.id for c in self.rig.plan.cables for s in (c.start, c.end)}
        return frozenset(ends | {s.id for c in self.rig.plan.channels for s in c.plugged})

    def free_beside(self, unit: str, port: str) -> Iterator[str]:
        """The nearest free socket of the same sort on either side of one, as `unit/port`."""
        found = self.rig.plan.units.get(unit)
        if found is None or found.kind is None or port not in found.kind.ports:
            return
        row = self._alike(found, port)
        at = row.index(port)
        for part in (row[at + 1 :], row[:at][::-1]):
            free = next((p for p in part if f"{unit}/{p}" not in self.taken), None)
            if free:
                yield f"{unit}/{free}"

    def _alike(self, unit: Unit, port: str) -> list[str]:
        """The sockets of a unit that are of the sort of one, in order."""
        assert unit.kind is not None
        found = self._rows.get(unit.name)
        if found is None:
            found = self._rows[unit.name] = {}
            for p in sorted(unit.kind.ports.values(), key=lambda p: port_order(p.name)):
                found.setdefault((p.connector, p.direction, _stem(p.name)), []).append(p.name)
        own = unit.kind.ports[port]
        return found[own.connector, own.direction, _stem(port)]

    @cached_property
    def _rows(self) -> dict[str, dict[tuple[str, str, str], list[str]]]:
        """By unit and sort of socket: its sockets in order."""
        return {}


def effort(rig: Rig, unit: str) -> float:
    """What it costs to look at a unit, about in minutes."""
    found = rig.plan.units.get(unit)
    if found is None:
        return 2.0
    return 8.0 if found.record.get("mount") in HIGH else dict(EFFORT).get(found.family, 2.0)


def _stem(port: str) -> str:
    """The name of a run of sockets: `in` of `in 3`."""
    return port.rpartition(" ")[0]


@lru_cache(maxsize=8192)
def port_order(name: str) -> tuple[tuple[int, str], ...]:
    """Sorts `in 2` before `in 10`."""
    return tuple((int(part), "") if part.isdecimal() else (0, part) for part in re.split(r"(\d+)", name))


def connector(rig: Rig, socket: Socket) -> str:
    """The connector of a socket; empty where its kind is not known."""
    unit = rig.plan.units.get(socket.unit)
    port = unit.kind.ports.get(socket.port) if unit and unit.kind else None
    return port.connector if port else ""


def cut(*numbers: int) -> Change:
    """The wires carry nothing."""
    return Change(dict.fromkeys(numbers))


def turn(wires: Wires, *numbers: int) -> Change:
    """The wires turn polarity once more."""
    return Change({i: wires.wires[i]._replace(flip=not wires.wires[i].flip) for i in numbers})


def crossed(wires: Wires, a: int, b: int) -> Change:
    """Two wires that have changed their beginnings; each keeps what it does."""
    one, two = wires.wires[a], wires.wires[b]
    return Change({a: None, b: None}, (one._replace(tail=two.tail), two._replace(tail=one.tail)))


def moved(wires: Wires, number: int, tail: int | None = None, head: int | None = None) -> Change:
    """A wire that begins or ends elsewhere."""
    wire = wires.wires[number]
    new: Wire = wire._replace(tail=wire.tail if tail is None else tail, head=wire.head if head is None else head)
    return Change({number: None}, (new,))
