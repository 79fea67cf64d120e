"""Where in the plan a filter, a polarity or a delay on the way to a box is written."""

from __future__ import annotations

from rigbook.compute.results import results
from rigbook.findings.place import Span
from rigbook.graph.rig import Rig
from rigbook.language.record import Record
from rigbook.plan.model import Bus
from rigbook.text.phrase import quoted


def bus_of(rig: Rig, leg: str) -> Bus:
    """The bus of a bus leg."""
    bus = rig.net.nodes[leg]["bus"]
    assert isinstance(bus, Bus)
    return bus


def written(rig: Rig, leg: str, stage: str, key: str) -> Span:
    """Where a key of a point of the signal stands: of a bus, an output, or a socket of a unit."""
    bus = bus_of(rig, leg)
    sort, _, name = stage.partition(" ")
    if sort == "output":
        for output in rig.plan.outputs:
            if output.desk == bus.desk and output.name == name:
                return output.record.at(key)
    unit = rig.plan.units.get(stage.partition("/")[0])
    if sort != "bus" and unit is not None:
        for entry in unit.record.get("settings", ()):
            if entry.name == stage.partition("/")[2] and isinstance(entry.value, Record):
                return entry.value.at(key)
        return unit.record.at("settings")
    return bus.record.at(key)


def unread(rig: Rig, leg: str, key: str) -> bool:
    """A value of this key was typed on the way and could not be read: it is not missing, and was told."""
    bus = bus_of(rig, leg)
    outputs = (o.record for o in rig.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name))
    return any(key in record.broken for record in (bus.record, *outputs))


def alike(rig: Rig, low_cut: str, high_cut: str) -> set[str]:
    """Every box of a pair that meets with these two filters, in whatever place."""
    found = (
        p
        for p in results(rig).crossovers
        if (p.upper.low_cuts[-1][1].text, p.lower.high_cuts[-1][1].text) == (low_cut, high_cut)
    )
    return {box for pair in found for box in (pair.upper.box, pair.lower.box, *pair.also)}


def listed(names: list[str]) -> str:
    """Names in backticks: `a`, `b` and `c`."""
    return quoted(names)
