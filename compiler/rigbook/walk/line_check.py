"""The line check: each input in the order of the list, what it needs and where it must be heard."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType

from rigbook.graph import kinds as k
from rigbook.graph.build import leg_of
from rigbook.graph.kinds import channel_node
from rigbook.graph.rig import Edge, Rig
from rigbook.plan.model import Channel
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.walk.inserts import units_of
from rigbook.walk.step import key_of, once


@frozen
class Line:
    """One input of the line check; one side of it where it has two sockets."""

    key: str
    """`line-7`, `line-15-left`; with several desks `foh.line-7`."""
    channel: Channel
    side: str
    socket: str
    source: str
    phantom: bool
    do: str
    """What the person on stage does."""
    heard: tuple[str, ...]
    """Speakers that it must be heard from, with its fader and sends as planned and every bus up."""
    pre: tuple[str, ...]
    """Of those, the ones that go on sounding when its fader is pulled down."""
    covers: frozenset[Edge]
    """Every connection that it exercises: from its source to the channel, and on to every bus."""


def line_check(rig: Rig) -> tuple[Line, ...]:
    """Every channel, by desk and number; a channel with two sockets one side after the other."""
    every = ((channel, side) for channel in rig.plan.channels for side in sides_of(channel))
    return once(rig, "lines", lambda: tuple(_line(rig, channel, side) for channel, side in every))


def sides_of(channel: Channel) -> tuple[str, ...]:
    """The sides that are checked one after the other: two where a stereo channel listens to two sockets."""
    return channel.legs if channel.stereo and len(channel.sockets) == 2 else ("",)


def legs_of(channel: Channel, side: str) -> tuple[str, ...]:
    """The channel as the graph knows it: the side that is played, or all of it."""
    return tuple(channel_node(channel.desk, channel.number, leg) for leg in ((side,) if side else channel.legs))


def _line(rig: Rig, channel: Channel, side: str) -> Line:
    legs = legs_of(channel, side)
    sockets = channel.sockets[channel.legs.index(side) :][:1] if side else channel.sockets
    boxes = [b for leg in legs for b in rig.boxes_of(leg)]
    name = f"line-{channel.number}" + (f"-{side}" if side else "")
    return Line(
        key=key_of(rig, channel.desk, name),
        channel=channel,
        side=side,
        socket=", ".join(s.id for s in sockets),
        source=channel.source_kind.title if channel.source_kind else phrase("cabled"),
        phantom=bool(channel.record.get("phantom", False)),
        do=_do(rig, channel, side),
        heard=tuple(dict.fromkeys(boxes)),
        pre=_pre(rig, legs),
        covers=frozenset(_behind(rig, (*(s.id for s in sockets), *_from_inserts(rig, legs))) | _ahead(rig, legs)),
    )


def _do(rig: Rig, channel: Channel, side: str) -> str:
    word = DO.get(channel.kind_of_source, phrase("tap it, then speak or play"))
    if channel.source_key == "di" or channel.source_key == "line":
        word = phrase("play something") if channel.kind_of_source != "bass" else phrase("play a low note")
    word = joined((word, ONLY[side])) if side else word
    units = units_of(rig, channel)
    if not units:
        return word
    return phrase("%(do)s; turn the output of %(units)s down: the sound must follow", do=word, units=units)


DO = MappingProxyType(
    {
        "speech": phrase("speak into it"),
        "talkback": phrase("speak into it"),
        "vocal": phrase("sing or speak into it"),
        "playback": phrase("play something"),
    }
)
ONLY = MappingProxyType({"left": phrase("left side only"), "right": phrase("right side only")})


def _pre(rig: Rig, legs: Iterable[str]) -> tuple[str, ...]:
    """Speakers reached by a send that leaves the channel before its fader."""
    boxes = [
        b
        for leg in legs
        for edge, data in rig.edges_out(leg)
        if data["kind"] == k.SEND and data["pick"] == "pre"
        for b in rig.boxes_of(edge[1])
    ]
    return tuple(dict.fromkeys(boxes))


def _from_inserts(rig: Rig, legs: Iterable[str]) -> list[str]:
    """The legs whose signal comes back from an insert: what lies in its way is on the line as well."""
    return [leg for leg in legs if k.insert_node(leg) in rig.net]


def _behind(rig: Rig, sockets: Iterable[str]) -> set[Edge]:
    """Connections between a channel and its sources, found walking back from its sockets, and the last one into it."""
    used: set[Edge] = set()
    seen: set[str] = set()
    todo = list(sockets)
    for socket in todo[:]:
        if socket in rig.net:
            used |= {edge for edge, data in rig.edges_out(socket) if data["kind"] == k.LISTEN}
    while todo:
        node = todo.pop()
        if node in seen or node not in rig.net:
            continue
        seen.add(node)
        for edge, data in rig.edges_in(node):
            if data["kind"] != k.LEAVE:
                used.add(edge)
                todo.append(edge[0])
    return used


def _ahead(rig: Rig, legs: Iterable[str]) -> set[Edge]:
    """The sends of a channel, and those of the buses that they reach."""
    used: set[Edge] = set()
    seen: set[str] = set()
    todo = list(legs)
    while todo:
        node = todo.pop()
        if node in seen or node not in rig.net:
            continue
        seen.add(node)
        for edge, data in rig.edges_out(node):
            if data["kind"] == k.SEND:
                used.add(edge)
                todo.append(leg_of(rig.net, edge[1]))
    return used
