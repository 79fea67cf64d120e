"""What leaves a bus leg and how it arrives: the processing gathered on the way to each end."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from rigbook.graph import kinds as k
from rigbook.graph.build import leg_of
from rigbook.graph.rig import Edge, Rig
from rigbook.language.record import Record
from rigbook.plan.processing import Processing, processing
from rigbook.records import frozen
from rigbook.text.phrase import phrase

Stages = tuple[tuple[str, Processing], ...]


@frozen
class Arrival:
    """How one leg arrives at one end by one way."""

    end: str
    """A speaker, recorder or feed; or the channel of another desk that listens to it."""
    way: tuple[Edge, ...]
    stages: Stages
    """Every point with processing on the way, named as in the plan, in order."""

    @property
    def reversed(self) -> bool:
        """Polarity is turned an odd number of times."""
        return sum(p.reversed for _, p in self.stages) % 2 == 1

    @property
    def low_cut_hz(self) -> float:
        """The highest low-cut on the way; 0 where there is none."""
        return max((p.low_cut.frequency.value for _, p in self.stages if p.low_cut), default=0.0)

    @property
    def high_cut_hz(self) -> float:
        """The lowest high-cut on the way; 0 where there is none."""
        return min((p.high_cut.frequency.value for _, p in self.stages if p.high_cut), default=0.0)

    @property
    def delay_s(self) -> float:
        """Delay gathered on the way, in seconds."""
        return sum(p.delay.value for _, p in self.stages if p.delay)

    @property
    def gain_db(self) -> float:
        """Gain gathered on the way, in dB."""
        return sum(p.gain.value for _, p in self.stages if p.gain)


def arrivals(rig: Rig, leg: str) -> Iterator[Arrival]:
    """Every way from a bus leg to the ends it reaches by its own outputs (other buses and desks are not passed)."""
    bus = rig.net.nodes[leg]["bus"]
    first = ((phrase("bus %(name)s", name=bus.name), bus.processing),) if not bus.processing.empty else ()
    for edge, data in rig.edges_out(leg):
        if data["kind"] == k.LEAVE:
            output = data["output"]
            stages = (
                first
                if output.processing.empty
                else (*first, (phrase("output %(name)s", name=output.name), output.processing))
            )
            yield from onward(rig, edge[1], (edge,), stages)


def onward(rig: Rig, start: str, way: tuple[Edge, ...] = (), stages: Stages = ()) -> Iterator[Arrival]:
    """Every way from a socket on, to what sounds, records or listens."""
    todo = [(start, way, stages)]
    while todo:
        node, way, stages = todo.pop()
        node = leg_of(rig.net, node)  # a channel is an end; what its insert does comes after
        if rig.net.nodes[node]["kind"] in (k.BOX, k.SINK, k.CHANNEL):
            yield Arrival(node, way, stages)
            continue
        own = settings(rig, node)
        for edge, data in rig.edges_out(node):
            if edge not in way and data["kind"] in (k.CABLE, k.INSIDE, k.LINK, k.SOUND, k.LISTEN):
                # a link-through passes on what came in, before any processing of the unit's own socket
                more = stages if data["kind"] == k.LINK else stages + own + attenuation(data)
                todo.append((edge[1], (*way, edge), more))


def settings(rig: Rig, node: str) -> Stages:
    """Processing that the plan sets on a socket of a processor, amplifier or powered speaker."""
    data = rig.net.nodes[node]
    unit = rig.plan.units.get(data["unit"])
    if unit is None or data["kind"] != k.SOCKET:
        return ()
    for entry in unit.record.get("settings", ()):
        if entry.name == data["socket"].port and isinstance(entry.value, Record):
            got = processing(entry.value)
            return () if got.empty else ((node, got),)
    return ()


def attenuation(data: dict[str, Any]) -> Stages:
    """The input attenuators of an amplifier, on the way through it."""
    unit = data.get("unit") if data["kind"] == k.INSIDE else None
    turned = unit.record.get("attenuation") if unit is not None else None
    return ((unit.name, Processing(gain=turned)),) if unit is not None and turned is not None else ()
