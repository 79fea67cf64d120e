"""What is played in each step, for the wires: where the signal starts, which faders are open, which is pulled down."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping

from rigbook.graph import kinds as k
from rigbook.graph.build import entry_of
from rigbook.graph.kinds import bus_node
from rigbook.graph.rig import Rig
from rigbook.plan.model import Channel
from rigbook.records import frozen
from rigbook.walk.line_check import Line, legs_of
from rigbook.walk.step import Pair, Step
from rigbook.walk.wires import Wires

FADER = "/fader"
"""Ends the key of a play in which the fader is pulled down."""


@frozen
class Play:
    """One sound to listen to."""

    key: str
    step: str
    kind: str
    """`leg`, `together`, `direct`, `line`; with the fader down it listens for silence only."""
    down: str
    """`bus` or `channel`: the fader that is pulled down; empty otherwise."""
    starts: frozenset[int]
    opened: Container[int]
    """Channels and bus legs whose faders are up."""
    closed: frozenset[int]
    """Wires without signal: the other side of a stereo source."""
    pairs: tuple[Pair, ...]
    also: frozenset[int] = frozenset()
    """Channels of other desks whose meters belong to what is watched."""

    @property
    def coarse(self) -> bool:
        """Only loud or silent is asked: the sound itself was judged before."""
        return self.kind == "line" or bool(self.down)


@frozen
class Opened:
    """The faders of one channel, and those of every bus of its desk; the latter are held once for all channels."""

    own: frozenset[int]
    buses: frozenset[int]

    def __contains__(self, node: object) -> bool:
        """True where the fader of a node is up."""
        return node in self.own or node in self.buses


def plays(rig: Rig, wires: Wires, steps: tuple[Step, ...], lines: tuple[Line, ...]) -> tuple[Play, ...]:
    """Every step, and after it the same with the fader down where that is tried."""
    out: list[Play] = []
    for step in steps:
        out += _of_step(rig, wires, step)
    buses = _buses(rig, wires)
    for line in lines:
        out += _of_line(rig, wires, line, buses.get(line.channel.desk, frozenset()))
    return tuple(out)


def _of_step(rig: Rig, wires: Wires, step: Step) -> Iterator[Play]:
    legs = frozenset(wires.index[n] for n in step.legs)
    # what is played into a bus passes its insert
    starts = frozenset(wires.index[entry_of(rig.net, n)] for n in step.legs)
    opened = legs if step.kind != "direct" else frozenset()
    ends = {wires.index[e.end] for e in step.expect}
    meters = frozenset(n for n in ends if rig.net.nodes[wires.names[n]]["kind"] == k.CHANNEL)
    yield Play(step.key, step.key, step.kind, "", starts, opened, frozenset(), step.pairs, meters)
    if step.fader:
        yield Play(step.key + FADER, step.key, step.kind, "bus", starts, opened, frozenset(), ())


def _buses(rig: Rig, wires: Wires) -> Mapping[str, frozenset[int]]:
    """The legs of every bus, by desk."""
    out: dict[str, set[int]] = {}
    for bus in rig.plan.buses.values():
        out.setdefault(bus.desk, set()).update(wires.index[bus_node(bus.desk, bus.name, leg)] for leg in bus.legs)
    return {desk: frozenset(legs) for desk, legs in out.items()}


def _of_line(rig: Rig, wires: Wires, line: Line, buses: frozenset[int]) -> Iterator[Play]:
    channel = line.channel
    starts, closed = _starts(rig, wires, channel, line.side)
    own = frozenset(wires.index[n] for n in legs_of(channel, "") if n in wires.index)
    opened = Opened(own, buses)
    if starts:
        yield Play(line.key, line.key, "line", "", starts, opened, closed, ())
        yield Play(line.key + FADER, line.key, "line", "channel", starts, opened, closed, ())


def _starts(rig: Rig, wires: Wires, channel: Channel, side: str) -> tuple[frozenset[int], frozenset[int]]:
    """Where the signal of a channel begins: its source, the sockets that drive it, or what another desk sends."""
    sockets = [s.id for s in channel.sockets if s.id in wires.index]
    if side:
        sockets = [s.id for s in channel.sockets[channel.legs.index(side) :][:1] if s.id in wires.index]
    seen: set[str] = set()
    starts: set[str] = set()
    todo = list(sockets)
    while todo:
        node = todo.pop()
        if node in seen:
            continue
        seen.add(node)
        before = [edge[0] for edge, data in rig.edges_in(node) if data["kind"] != k.LEAVE]
        todo += before
        if not before:
            starts.add(node)
    closed = [
        wires.number[edge]
        for start in starts
        for edge, data in rig.edges_out(start)
        if data["kind"] == k.PLUG and edge[1] not in seen
    ]
    return frozenset(wires.index[n] for n in starts), frozenset(closed)
