"""The steps of the walk test: each leg of each bus alone, in an order that walks the room once.

One leg at a time is the smallest sequence in which every cable, link, amplifier channel and speaker carries signal
with everything else silent: two legs at once could hide a swap between them.
"""

from __future__ import annotations

from dataclasses import dataclass

from rigbook.graph import kinds as k
from rigbook.graph.kinds import bus_node
from rigbook.graph.rig import Edge, Rig
from rigbook.plan.model import Bus, Channel
from rigbook.walk.propagate import Arrival, arrivals

ROLES = ("mains", "subs", "fill", "delay", "matrix", "monitor", "feed", "record", "group", "effects")
"""Order of the steps: what the audience hears first, then the stage, then what leaves the room."""
SIGNALS = {
    "subs": ("low band noise, 40 to 100 Hz", "low"),
    "monitor": ("speech, then pink noise", "speech"),
    "record": ("1 kHz tone", "tone"),
    "feed": ("1 kHz tone", "tone"),
}
PINK = ("pink noise", "pink")


@dataclass(frozen=True)
class Expected:
    """A box that must be heard in a step, and how."""

    end: str
    how: str
    arrival: Arrival


@dataclass(frozen=True)
class Step:
    """One step: one leg of one bus, everything else muted."""

    key: str
    """Stays the same while the names in it do: `main-left`, with several desks `foh.main-left`."""
    title: str
    desk: str
    bus: Bus
    leg: str
    signal: str
    signal_key: str
    channel: Channel | None
    """The channel to play into: the desk's playback channel, if the plan has one."""
    pan: str
    expect: tuple[Expected, ...]
    silent: tuple[str, ...]
    """Boxes that must stay silent."""
    covers: frozenset[Edge]
    """Every connection that this step exercises."""


def steps(rig: Rig) -> tuple[Step, ...]:
    """The walk test of a rig, in walking order."""
    out = []
    for bus in rig.plan.buses.values():
        for leg in bus.legs:
            ways = tuple(arrivals(rig, bus_node(bus.desk, bus.name, leg)))
            if ways:
                out.append(_step(rig, bus, leg, ways))
    return tuple(sorted(out, key=lambda s: _place(rig, s)))


def _place(rig: Rig, step: Step) -> tuple[int, str, float, str]:
    role = step.bus.role
    xs = [u.position.x for e in step.expect if (u := rig.plan.units.get(e.end)) and u.position]
    return (ROLES.index(role) if role in ROLES else len(ROLES), step.desk, sum(xs) / len(xs) if xs else 0.0, step.key)


def _step(rig: Rig, bus: Bus, leg: str, ways: tuple[Arrival, ...]) -> Step:
    several = sum(u.family == "desk" for u in rig.plan.units.values()) > 1
    name = f"{bus.name} {leg}".rstrip()
    ends: dict[str, Arrival] = {}
    for way in ways:
        ends.setdefault(way.end, way)
    signal, key = SIGNALS.get(bus.role, PINK)
    return Step(
        key=(f"{bus.desk}." if several else "") + name.replace(" ", "-"),
        title=f"{bus.title} {leg}".rstrip() + " alone",
        desk=bus.desk,
        bus=bus,
        leg=leg,
        signal=signal,
        signal_key=key,
        channel=_playback(rig, bus.desk),
        pan=f"hard {leg}" if leg else "centre",
        expect=tuple(Expected(e, how(rig, a), a) for e, a in ends.items()),
        silent=tuple(b for b in rig.boxes if b not in ends),
        covers=frozenset(edge for way in ways for edge in way.way),
    )


def _playback(rig: Rig, desk: str) -> Channel | None:
    """The channel to play test signals into: one that plays music anyway, or any line source."""
    mine = [c for c in rig.plan.channels if c.desk == desk]
    for wanted in ("playback", "keys"):
        got = next((c for c in mine if c.kind_of_source == wanted), None)
        if got:
            return got
    return next((c for c in mine if c.source_key == "line"), None)


def how(rig: Rig, arrival: Arrival) -> str:
    """How a box must sound, from the filters, polarity and delay on its way and from what it is built for."""
    unit = rig.plan.units.get(arrival.end)
    box = unit.kind.get("box") if unit and unit.kind else None
    if unit is not None and not unit.is_speaker:
        return "level shows, clean"
    words = []
    if arrival.high_cut_hz and not arrival.low_cut_hz:
        words.append(f"low end only, below {arrival.high_cut_hz:g} Hz")
    elif arrival.low_cut_hz and not arrival.high_cut_hz:
        words.append(f"full and clear above {arrival.low_cut_hz:g} Hz, no deep bass")
    elif arrival.low_cut_hz:
        words.append(f"from {arrival.low_cut_hz:g} to {arrival.high_cut_hz:g} Hz")
    else:
        words.append("low end only" if box == "sub" else "full range")
    if arrival.delay_s:
        words.append(f"{arrival.delay_s * 1000:.1f} ms late")
    return ", ".join(words)


def exercised(rig: Rig) -> frozenset[Edge]:
    """Every connection that some step or the line check of the inputs exercises."""
    used: set[Edge] = set()
    for step in steps(rig):
        used |= step.covers
    for a, b, key, data in rig.graph.edges(keys=True, data=True):
        if data["kind"] in (k.PLUG, k.LISTEN, k.SEND):
            used.add((a, b, key))
    for channel in rig.plan.channels:
        used |= line_covers(rig, channel)
    return frozenset(used)


def line_covers(rig: Rig, channel: Channel) -> set[Edge]:
    """Connections between a channel and its sources, found walking back from its sockets."""
    used: set[Edge] = set()
    seen: set[str] = set()
    todo = [s.id for s in channel.sockets]
    while todo:
        node = todo.pop()
        if node in seen or node not in rig.graph:
            continue
        seen.add(node)
        for edge, data in rig.edges_in(node):
            if data["kind"] != k.LEAVE:
                used.add(edge)
                todo.append(edge[0])
    return used
