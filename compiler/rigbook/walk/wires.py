"""The rig as numbered nodes and wires, each with what it does to a signal: the form in which faults are tried quickly.

A wire is an edge of the graph with its gain, polarity, delay and filters. A fault is a `Change`: some wires replaced
or cut, some added. `graph/` stays the only place that knows how a plan becomes a graph.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.arrivals import settings
from rigbook.graph.rig import Edge, Rig
from rigbook.plan.model import Channel
from rigbook.plan.processing import Processing, processing
from rigbook.records import field, frozen


class Cut(NamedTuple):
    """A filter: `low` or `high` cut, corner in Hz, order, and whether it is two equal halves in line."""

    side: str
    hz: float
    order: int
    doubled: bool


HUM = Cut("hum", 0.0, 0, False)
"""Stands among the filters of a wire that lets hum in: it goes wherever the signal goes, and filters nothing."""


class Wire(NamedTuple):
    """One connection and what it does."""

    tail: int
    head: int
    gain: float = 0.0
    """In dB."""
    flip: bool = False
    delay: float = 0.0
    """In seconds."""
    cuts: tuple[Cut, ...] = ()
    gate: str = ""
    """`channel` or `bus` where it passes that fader: a send of a channel, a send or output of a bus."""
    pick: str = ""
    """`pre` or `post` that fader."""


@frozen
class Change:
    """What a fault does to the wires."""

    replaced: Mapping[int, Wire | None] = field(default_factory=dict)
    """By number of the wire; None where it carries nothing any more. Tail and head stay."""
    added: tuple[Wire, ...] = ()

    @cached_property
    def key(self) -> tuple[object, ...]:
        """The same for changes that do the same: an open lead, a dead source and phantom power that is off."""
        return (*self.replaced.items(), *self.added)


@frozen
class Wires:
    """The wires of a rig."""

    names: tuple[str, ...]
    index: Mapping[str, int]
    wires: tuple[Wire, ...]
    edges: tuple[Edge, ...]
    number: Mapping[Edge, int]
    into: tuple[tuple[int, ...], ...]
    """Numbers of the wires that end at each node."""
    out: tuple[tuple[int, ...], ...]
    """Numbers of the wires that begin at each node."""
    rank: tuple[int, ...]
    """Place of each node in the order from sources to boxes."""

    @staticmethod
    def of(rig: Rig) -> Wires:
        """The wires of a rig."""
        names = tuple(rig.net)
        index = {name: i for i, name in enumerate(names)}
        at = {name: total(tuple(p for _, p in settings(rig, name))) for name in names}
        edges, wires = [], []
        for (a, b, key), data in rig.net.edges():
            edges.append((a, b, key))
            wires.append(_wire(rig, a, index[a], index[b], data, at[a]))
        into: list[list[int]] = [[] for _ in names]
        out: list[list[int]] = [[] for _ in names]
        for i, wire in enumerate(wires):
            into[wire.head].append(i)
            out[wire.tail].append(i)
        rank = [0] * len(names)
        for place, name in enumerate(rig.order):
            rank[index[name]] = place
        return Wires(
            names,
            index,
            tuple(wires),
            tuple(edges),
            {e: i for i, e in enumerate(edges)},
            tuple(map(tuple, into)),
            tuple(map(tuple, out)),
            tuple(rank),
        )


class Total(NamedTuple):
    """Processing of several points in line, added up."""

    gain: float
    flip: bool
    delay: float
    cuts: tuple[Cut, ...]


NOTHING = Total(0.0, False, 0.0, ())


def total(points: tuple[Processing, ...]) -> Total:
    """Gains and delays added, polarity turned once for each, filters in order."""
    if not points:
        return NOTHING
    return Total(
        sum(p.gain.value for p in points if p.gain),
        sum(p.reversed for p in points) % 2 == 1,
        sum(p.delay.value for p in points if p.delay),
        tuple(sorted(cut for p in points for cut in cuts_of(p))),
    )


def cuts_of(point: Processing) -> tuple[Cut, ...]:
    """The filters of one point."""
    return tuple(cut_of(side, f) for side, f in (("low", point.low_cut), ("high", point.high_cut)) if f)


def cut_of(side: str, said: Any) -> Cut:
    """A filter as typed; 24 dB an octave where the plan does not say (common practice), halved where it can be."""
    slope = said.slope or 24
    doubled = said.type == "linkwitz-riley" or (not said.type and slope % 12 == 0)
    return Cut(side, said.frequency.value, slope // 6, doubled)


def _wire(rig: Rig, name: str, tail: int, head: int, data: dict[str, Any], at: Total) -> Wire:
    kind = data["kind"]
    if kind == k.LEAVE:
        output = data["output"]
        bus = rig.plan.buses[output.desk, output.bus]
        return Wire(tail, head, *total((bus.processing, output.processing)), "bus", output.pick)
    if kind == k.SEND:
        channel = rig.net.nodes[name].get("channel")
        did = total((channel_processing(channel),)) if isinstance(channel, Channel) else NOTHING
        gate = "channel" if isinstance(channel, Channel) else "bus"
        return Wire(tail, head, did.gain + data["level"], did.flip, did.delay, did.cuts, gate, data["pick"])
    if kind == k.LINK:
        # a link-through passes on what came in, before any processing of the unit's own socket
        return Wire(tail, head)
    turned = data["unit"].record.get("attenuation") if kind == k.INSIDE else None
    return Wire(tail, head, at.gain + (turned.value if turned is not None else 0.0), at.flip, at.delay, at.cuts)


def channel_processing(channel: Channel) -> Processing:
    """Low cut and polarity of a channel; its gain sets the level, which a test sets anyway."""
    got = processing(channel.record)
    return Processing(low_cut=got.low_cut, reversed=got.reversed)
