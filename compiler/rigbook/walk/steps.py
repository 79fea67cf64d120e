"""The steps of the walk test: each leg of each bus alone, then together what must add, in an order with little walking.

One leg at a time is the smallest sequence in which every cable, link, amplifier channel and speaker carries signal
with everything else silent: two legs at once could hide a swap between them. But nobody hears the polarity or the
delay of one box alone, so what plays the same signal is then heard together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from types import MappingProxyType

from rigbook.graph import kinds as k
from rigbook.graph.arrivals import Arrival, arrivals, onward
from rigbook.graph.build import inserted
from rigbook.graph.kinds import bus_node
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import side
from rigbook.plan.model import Bus, Channel, Output
from rigbook.text.phrase import phrase
from rigbook.walk.controls import controls, outlets, playback
from rigbook.walk.pairs import crossovers, distinct, helped, sides, within
from rigbook.walk.sounding import how
from rigbook.walk.standing import Point, mix_position, station, walking_order
from rigbook.walk.step import Expected, Pair, Step, key_of, once

ROLES = ("mains", "subs", "fill", "delay", "matrix", "monitor", "feed", "record", "group", "effects")
"""Order of the steps: what the audience hears first, then the stage, then what leaves the room."""
AUDIENCE = ("mains", "subs", "fill", "delay", "matrix")
"""Roles that the audience hears at once, so that they must add."""
PINK = (phrase("pink noise"), "pink")
SIGNALS = (
    ("subs", (phrase("pink noise; then low band noise, 40 to 100 Hz, to find rattles"), "low")),
    ("monitor", (phrase("speech, then pink noise"), "speech")),
    ("record", (phrase("1 kHz tone"), "tone")),
    ("feed", (phrase("1 kHz tone"), "tone")),
)
HARD = MappingProxyType({"left": phrase("hard left"), "right": phrase("hard right")})
CENTRE = phrase("centre")
Ends = dict[str, Arrival]


def steps(rig: Rig) -> tuple[Step, ...]:
    """The walk test of a rig, in walking order."""
    return once(rig, "steps", lambda: _steps(rig))


def _steps(rig: Rig) -> tuple[Step, ...]:
    legs = [s for bus in rig.plan.buses.values() for leg in bus.legs if (s := _leg(rig, bus, leg))]
    alone = _in_order(rig, legs)
    return (*alone, *_together(rig, alone), *_direct(rig))


def _in_order(rig: Rig, made: Sequence[Step]) -> list[Step]:
    """By role, within a role always on to the nearest; its boxes likewise."""
    out: list[Step] = []
    here: Point = mix_position(rig)
    rank = {role: i for i, role in enumerate(ROLES)}
    for role, desk in sorted({(s.bus.role, s.desk) for s in made if s.bus}, key=lambda r: (rank[r[0]], r[1])):
        group = [s for s in made if s.bus and (s.bus.role, s.desk) == (role, desk)]
        for step in _left_first(group, here):
            out.append(step)
            here = _middle(step) or here
    return out


def _left_first(group: Sequence[Step], here: Point) -> list[Step]:
    """On to the nearest; but where the nearest is the right of two sides, its left begins: so everybody counts them."""
    order = [group[i] for i in walking_order([_middle(s) for s in group], here)]
    first = order[0]
    left = next((s for s in order if s.leg == "left" and s.bus is first.bus), None)
    if first.leg != "right" or left is None:
        return order
    rest = [s for s in order if s is not left]
    return [left, *(rest[i] for i in walking_order([_middle(s) for s in rest], _middle(left) or here))]


def _middle(step: Step) -> Point | None:
    points = [e.station.point for e in step.expect if e.station.point]
    return (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points)) if points else None


def _leg(rig: Rig, bus: Bus, leg: str) -> Step | None:
    ways = tuple(arrivals(rig, bus_node(bus.desk, bus.name, leg)))
    if not ways:
        return None
    ends = _ends(ways)
    name = f"{bus.name} {leg}".rstrip()
    signal, signal_key = dict(SIGNALS).get(bus.role, PINK)
    channel, pan = playback(rig, bus.desk), HARD.get(leg, CENTRE)
    return Step(
        key=key_of(rig, bus.desk, name),
        title=phrase("%(name)s alone", name=side(bus.title, leg)),
        kind="leg",
        desk=bus.desk,
        bus=bus,
        leg=leg,
        legs=(bus_node(bus.desk, bus.name, leg),),
        signal=signal,
        signal_key=signal_key,
        channel=channel,
        pan=pan,
        controls=controls(rig, bus.desk, (bus,), channel, pan),
        expect=_expected(rig, ends),
        silent=tuple(b for b in rig.boxes if b not in ends),
        pairs=within(rig, list(ends)),
        fader=_fader(rig, bus, leg),
        covers=frozenset(edge for way in ways for edge in way.way)
        | inserted(rig.net, bus_node(bus.desk, bus.name, leg)),
    )


def _ends(ways: Sequence[Arrival]) -> Ends:
    ends: Ends = {}
    for way in ways:
        ends.setdefault(way.end, way)
    return ends


def _expected(rig: Rig, ends: Ends) -> tuple[Expected, ...]:
    found = [Expected(end, how(rig, way), way, station(rig, end)) for end, way in ends.items()]
    order = walking_order([e.station.point for e in found], mix_position(rig))
    return tuple(found[i] for i in order)


def outputs_of(rig: Rig, bus: Bus, leg: str) -> list[Output]:
    """Outputs by which a leg of a bus leaves, the sum of both legs included."""
    return [o for o in outlets(rig, bus) if not bus.stereo or o.leg in (leg, "mono")]


def _fader(rig: Rig, bus: Bus, leg: str) -> str:
    """What the fader of the bus must do; nothing to try where its outputs do not agree."""
    picks = {o.pick for o in outputs_of(rig, bus, leg)}
    return {"post": "silent", "pre": "stays"}[picks.pop()] if len(picks) == 1 else ""


def _together(rig: Rig, alone: Sequence[Step]) -> Iterator[Step]:
    """One step a desk for all that the audience hears; one for each stereo bus that only the stage or a feed hears."""
    for desk in dict.fromkeys(s.desk for s in alone):
        mine = [s for s in alone if s.desk == desk and s.bus]
        front = [s for s in mine if s.bus and s.bus.role in AUDIENCE]
        found = _front_pairs(rig, front)
        if found:
            yield _joined(rig, "together", phrase("Everything for the audience together"), front, found)
        for bus in dict.fromkeys(s.bus.name for s in mine if s.bus and s.bus.stereo and s.bus.role not in AUDIENCE):
            both = [s for s in mine if s.bus and s.bus.name == bus]
            found = _side_pairs(rig, both)
            if found:
                yield _joined(rig, f"{bus}-together", phrase("%(name)s both sides", name=_title(both)), both, found)


def _title(legs: Sequence[Step]) -> str:
    bus = legs[0].bus
    return bus.title if bus else legs[0].title


def _side_pairs(rig: Rig, legs: Sequence[Step]) -> tuple[Pair, ...]:
    out: list[Pair] = []
    for left in (s for s in legs if s.leg == "left"):
        right = next((s for s in legs if s.leg == "right" and s.bus is left.bus), None)
        if right:
            out += sides(rig, _boxes(rig, left), _boxes(rig, right))
    return distinct(out)


def _front_pairs(rig: Rig, front: Sequence[Step]) -> tuple[Pair, ...]:
    ends = {
        role: {e.end: e.arrival for s in front if s.bus and s.bus.role == role for e in s.expect if e.end in rig.boxes}
        for role in AUDIENCE
    }
    out = list(_side_pairs(rig, front))
    out += crossovers(rig, ends["mains"], ends["subs"])
    for role in ("fill", "delay", "matrix"):
        out += helped(rig, list(ends[role]), list(ends["mains"]))
    alone = {frozenset((p.a, p.b)) for s in front for p in s.pairs}
    return distinct(p for p in out if frozenset((p.a, p.b)) not in alone)


def _boxes(rig: Rig, step: Step) -> list[str]:
    return [e.end for e in step.expect if e.end in rig.boxes]


def _joined(rig: Rig, key: str, title: str, parts: Sequence[Step], found: tuple[Pair, ...]) -> Step:
    ends = {e.end: e.arrival for s in parts for e in s.expect}
    buses = tuple({s.bus.name: s.bus for s in parts if s.bus}.values())
    channel: Channel | None = parts[0].channel
    return Step(
        key=key_of(rig, parts[0].desk, key),
        title=title,
        kind="together",
        desk=parts[0].desk,
        bus=None,
        leg="",
        legs=tuple(leg for s in parts for leg in s.legs),
        signal=phrase("speech and a kick drum, then pink noise; the same in all of them"),
        signal_key="pulse",
        channel=channel,
        pan=CENTRE,
        controls=controls(rig, parts[0].desk, buses, channel, CENTRE),
        expect=_expected(rig, ends),
        silent=tuple(b for b in rig.boxes if b not in ends),
        pairs=found,
        fader="",
        covers=frozenset(e for s in parts for e in s.covers),
    )


def _direct(rig: Rig) -> Iterator[Step]:
    """Sockets of players that reach an end without passing a desk, or before they do."""
    starts = [n for n in rig.origins if rig.net.nodes[n]["kind"] == k.SOCKET]
    starts += [n for n in rig.origins if rig.net.nodes[n]["kind"] == k.SOURCE]
    for start in starts:
        first = [start] if "/" in start else [e[1] for e, _ in rig.edges_out(start)]
        ways = [w for node in first for w in onward(rig, node)]
        ways = [w for w in ways if rig.net.nodes[w.end]["kind"] != k.CHANNEL]
        if ways:
            yield _direct_step(rig, start, ways)


def _direct_step(rig: Rig, start: str, ways: Sequence[Arrival]) -> Step:
    ends = _ends(ways)
    name = start if "/" in start else rig.net.nodes[start]["channel"].name
    return Step(
        key=f"direct-{start}".replace(" ", "-").replace("/", "-"),
        title=phrase("%(name)s before any desk", name=name),
        kind="direct",
        desk="",
        bus=None,
        leg="",
        legs=(start,),
        signal=phrase("play or speak into it"),
        signal_key="speech",
        channel=rig.net.nodes[start].get("channel"),
        pan="",
        controls=(),
        expect=_expected(rig, ends),
        silent=tuple(b for b in rig.boxes if b not in ends),
        pairs=within(rig, [e for e in ends if e in rig.boxes]),
        fader="",
        covers=frozenset(edge for way in ways for edge in way.way),
    )


def exercised(rig: Rig) -> frozenset[Edge]:
    """Every connection that some step or the line check of the inputs exercises."""
    from rigbook.walk.line_check import line_check

    return frozenset().union(*(s.covers for s in steps(rig)), *(line.covers for line in line_check(rig)))


def gaps(rig: Rig) -> tuple[Edge, ...]:
    """Connections that carry signal to some end and that no step exercises; none in a rig whose walk test is whole."""
    used = exercised(rig)
    return tuple(
        edge for edge, _ in rig.net.edges() if edge not in used and rig.feeds.get(edge[0]) and rig.heard.get(edge[1])
    )
