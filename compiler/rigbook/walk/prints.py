"""Fingerprints: one short word for the part of the graph that a step of the walk test exercises.

What counts is what a person would have to hear again: which sockets are joined, by which cable (kind, length, adaptor,
multicore, network cables on the way), kinds of equipment, sends with level and pick-off, processing, phantom power.
What does not: labels, titles, notes, places, racks, serial numbers, wording, and the order of the lines in the plan.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.language.record import Record
from rigbook.language.values.filters import Filter
from rigbook.plan.model import Cable, Channel
from rigbook.units.quantity import Quantity
from rigbook.walk.line_check import Line, legs_of, line_check
from rigbook.walk.step import once
from rigbook.walk.steps import steps

DIGITS: Final = 6
"""Hexadecimal digits of a fingerprint: two versions of one step are alike by chance once in 16 million."""
PROCESSING: Final = ("low-cut", "high-cut", "delay", "gain", "polarity", "limiter", "equaliser")
CHANNEL: Final = ("phantom", "pad", "low-cut", "polarity", "cable")
"""What is set for the source of a channel; its gain is set by ear at every test."""


def fingerprints(rig: Rig) -> dict[str, str]:
    """The fingerprint of each step and line, by its key, in walking order."""
    return dict(once(rig, "prints", lambda: _fingerprints(rig)))


def _fingerprints(rig: Rig) -> dict[str, str]:
    facts = Facts(rig)
    out = {s.key: _hash(map(facts.of, s.covers)) for s in steps(rig)}
    return out | {x.key: _hash([*map(facts.of, _own(rig, x)), *_source(x)]) for x in line_check(rig)}


def _own(rig: Rig, line: Line) -> Iterator[Edge]:
    """What a line exercises, without other channels that listen to the same socket."""
    legs = legs_of(line.channel, line.side)
    return (e for e in line.covers if rig.net.edge(e)["kind"] != k.LISTEN or e[1] in legs)


def rig_print(prints: Mapping[str, str]) -> str:
    """One fingerprint for the whole rig."""
    return _hash(f"{key}:{value}" for key, value in prints.items())


def _hash(lines: Iterable[str]) -> str:
    return hashlib.sha256("\n".join(sorted(lines)).encode()).hexdigest()[:DIGITS]


def _source(line: Line) -> Iterator[str]:
    channel = line.channel
    kind = channel.source_kind.name if channel.source_kind else ""
    yield f"{channel.name} {line.side} {channel.source_key} {kind} {_set(channel.record, CHANNEL)}"


class Facts:
    """Connections of one rig as text: two rigs give the same text where nobody has to listen again."""

    def __init__(self, rig: Rig) -> None:
        self._rig = rig
        self._network: dict[str, Cable] = {c.sheath: c for c in rig.carriers.cables}
        self._known: dict[Edge, str] = {}

    def of(self, edge: Edge) -> str:
        """A connection with what it is made of and what it does to the signal."""
        if edge not in self._known:
            data = self._rig.net.edge(edge)
            ends = " -> ".join(f"{n} ({self._kind(n)})" for n in edge[:2])
            via = [_cable(self._network[s]) for s in data["via"] if s in self._network]
            self._known[edge] = "; ".join((f"{data['kind']} {ends}", *via, *self._does(edge, data)))
        return self._known[edge]

    def _kind(self, node: str) -> str:
        unit = self._rig.unit(node)
        return unit.kind.name if unit and unit.kind else ""

    def _does(self, edge: Edge, data: Mapping[str, Any]) -> Iterator[str]:
        tail = self._rig.net.nodes[edge[0]]
        match data["kind"]:
            case k.CABLE:
                yield _cable(data["cable"])
            case k.SEND:
                yield f"{data['level']:g} dB {data['pick']}"
                if isinstance(tail.get("channel"), Channel):
                    yield _set(tail["channel"].record, ("low-cut", "polarity"))
            case k.LEAVE:
                output = data["output"]
                yield output.pick
                yield _set(self._rig.plan.buses[output.desk, output.bus].record, PROCESSING)
                yield _set(output.record, PROCESSING)
            case k.INSIDE:
                yield _set(data["unit"].record, ("attenuation",))
        if tail["kind"] == k.SOCKET and data["kind"] != k.LINK:
            # a link-through passes on what came in, before any processing of the unit's own socket
            yield self._settings(tail)

    def _settings(self, socket: Mapping[str, Any]) -> str:
        unit = self._rig.plan.units.get(socket["unit"])
        for entry in unit.record.get("settings", ()) if unit else ():
            if entry.name == socket["socket"].port and isinstance(entry.value, Record):
                return _set(entry.value, PROCESSING)
        return ""


def _cable(cable: Cable) -> str:
    length = f"{cable.length.value:g} m" if cable.length else ""
    return f"{cable.name} {cable.kind_name} {length} {cable.adaptor} {cable.sheath}"


def _set(record: Record, keys: Iterable[str]) -> str:
    """What a record sets, the same however it is typed; what is set to nothing is not set."""
    return " ".join(f"{key} {text}" for key in keys if (text := _text(record.get(key))))


def _text(value: Any) -> str:
    match value:
        case Quantity():
            return f"{value.value:g}" if value.value else ""
        case Filter():
            return f"{value.frequency.value:g} Hz {value.type} {value.slope}"
        case None | False | "normal":
            return ""
        case _:
            return str(value)
