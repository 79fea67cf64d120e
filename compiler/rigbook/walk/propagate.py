"""What leaves a bus leg and how it arrives: the processing gathered on the way to each end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.language.grammar import Record
from rigbook.plan.model import Processing, processing


@dataclass(frozen=True)
class Arrival:
    """How one leg arrives at one end by one way."""

    end: str
    way: tuple[Edge, ...]
    stages: tuple[tuple[str, Processing], ...]
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
    bus = rig.graph.nodes[leg]["bus"]
    first = ((f"bus {bus.name}", bus.processing),) if not bus.processing.empty else ()
    todo: list[tuple[str, tuple[Edge, ...], tuple[tuple[str, Processing], ...]]] = []
    for edge, data in rig.edges_out(leg):
        if data["kind"] == k.LEAVE:
            output = data["output"]
            stages = first if output.processing.empty else (*first, (f"output {output.name}", output.processing))
            todo.append((edge[1], (edge,), stages + _settings(rig, edge[1])))
    while todo:
        node, way, stages = todo.pop()
        if rig.graph.nodes[node]["kind"] in (k.BOX, k.SINK):
            yield Arrival(node, way, stages)
            continue
        for edge, data in rig.edges_out(node):
            if data["kind"] in (k.CABLE, k.INSIDE, k.LINK, k.SOUND) and edge not in way:
                # a link-through passes on what came in, before any processing of the unit's own socket
                more = () if data["kind"] == k.LINK else _settings(rig, edge[1])
                todo.append((edge[1], (*way, edge), stages + more))


def _settings(rig: Rig, node: str) -> tuple[tuple[str, Processing], ...]:
    """Processing that the plan sets on a socket of a processor, amplifier or powered speaker."""
    data = rig.graph.nodes[node]
    unit = rig.plan.units.get(data["unit"])
    if unit is None or data["kind"] != k.SOCKET:
        return ()
    for entry in unit.record.get("settings", ()):
        if entry.name == data["socket"].port and isinstance(entry.value, Record):
            return ((node, processing(entry.value)),)
    return ()
