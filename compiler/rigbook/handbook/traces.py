"""The way of the signal to each speaker and from each input, step by step."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.graph import kinds as k
from rigbook.graph.build import entry_of
from rigbook.graph.rig import Edge
from rigbook.graph.words import edge_words
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link
from rigbook.handbook.words import bus_words, chosen, processing_words
from rigbook.language.record import Record
from rigbook.plan.model import Channel, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

MOST: Final = 16
"""Ways shown to one box; a plan with more has a fault that its checks name."""


class Step(NamedTuple):
    """What lies between (`xlr cable 2 m`), and the place that it leads to."""

    by: str
    place: Link


@frozen
class Way:
    """One way to a box: the bus leg or player that it begins with, and the steps from there."""

    start: Link
    steps: tuple[Step, ...]
    processing: str
    """Filters, delay and the rest on this way."""
    channels: tuple[Link, ...]
    """Channels that are sent to the bus leg."""


@frozen
class BoxTrace:
    """A speaker, recorder or feed with every way to it."""

    name: str
    anchor: str
    kind: str
    unit: Link
    ways: tuple[Way, ...]


@frozen
class InputTrace:
    """An input channel: how it comes in, where it is sent, and where it is heard."""

    number: str
    channel: Link
    way: tuple[Step, ...]
    sends: tuple[tuple[Link, str], ...]
    """Bus, and level with pick-off."""
    heard: tuple[Link, ...]


def boxes(book: Book) -> Iterator[BoxTrace]:
    """Every end of the signal, speakers first."""
    for name in book.rig.ends:
        unit = book.plan.units.get(name)
        if unit is None:
            continue
        ways = tuple(_way(book, unit, edges) for edges in ways_back(book, name))
        kind = unit.kind.title if unit.kind else ""
        yield BoxTrace(name, anchor("box", name), kind, book.link("unit", name), ways)


def ways_back(book: Book, end: str) -> list[list[Edge]]:
    """Ways to an end, each from the bus leg (or the first socket) on, found walking back from the end."""
    net = book.rig.net
    out: list[list[Edge]] = []
    todo: list[tuple[str, list[Edge]]] = [(end, [])]
    while todo and len(out) < MOST:
        node, way = todo.pop()
        before = [
            edge
            for edge, data in net.edges_in(node)
            if data["kind"] in (*k.WIRES, k.LEAVE) and all(edge[0] != e[1] for e in way)
        ]
        for edge in sorted(before, reverse=True):
            if net.edge(edge)["kind"] == k.LEAVE:
                out.append([edge, *way])
            else:
                todo.append((edge[0], [edge, *way]))
        if not before and way and _drives(book, node):
            out.append(way)
    return out


def _drives(book: Book, node: str) -> bool:
    """True for an output of a player or receiver: a way may begin there without a desk."""
    port = book.rig.net.nodes[node].get("port")
    unit = book.rig.unit(node)
    inside = unit is not None and unit.family in ("amplifier", "processor", "stage box", "desk", "splitter", "tie line")
    return bool(port and port.direction == "out" and not inside and node in book.carried)


def _way(book: Book, end: Unit, edges: list[Edge]) -> Way:
    net = book.rig.net
    first = net.edge(edges[0])
    words: list[str] = []
    channels: tuple[Link, ...] = ()
    start = book.node(edges[0][0])
    if first["kind"] == k.LEAVE:
        output, bus = first["output"], net.nodes[edges[0][0]]["bus"]
        start = book.link("output", book.desk_name(output.desk, output.name), phrase("bus %(name)s", name=output.name))
        words += [bus_words(bus), processing_words(output.record)]
        channels = _feeders(book, edges[0][0])
    steps = tuple(Step(_by(book, e), book.node(e[1])) for e in edges if net.edge(e)["kind"] != k.SOUND)
    words += [processing_words(r) for r in _settings(book, edges)]
    return Way(start, steps, joined((w for w in words if w), "; "), channels)


def _by(book: Book, edge: Edge) -> str:
    """What lies between: a cable as it is called in the store."""
    data = book.rig.net.edge(edge)
    if data["kind"] in (k.LEAVE, k.LISTEN) and data["via"]:
        way = joined(v.replace(" -> ", f" {book.tongue.arrow} ") for v in data["via"])
        return phrase("patched over %(cables)s", cables=way)
    cable = data["cable"] if data["kind"] == k.CABLE else None
    if cable is None or cable.kind is None:
        return edge_words(book.rig, edge)
    return joined((cable.kind.title, *((cable.length.page(),) if cable.length else ())))


def _settings(book: Book, edges: list[Edge]) -> Iterator[Record]:
    """Processing at the sockets that a way passes."""
    for edge in edges:
        node = book.rig.net.nodes[edge[1]]
        unit = book.plan.units.get(node["unit"])
        if unit is not None and node["kind"] == k.SOCKET:
            for entry in unit.record.get("settings", ()):
                if entry.name == node["socket"].port and isinstance(entry.value, Record):
                    yield entry.value


def _feeders(book: Book, bus: str) -> tuple[Link, ...]:
    out: dict[Link, None] = {}
    for edge, _ in book.rig.edges_in(entry_of(book.rig.net, bus)):
        channel = book.rig.channel(edge[0])
        # the two sides of a stereo channel are one line of the input list
        out[book.channel(channel, f"{channel.number} {channel.name}") if channel else book.node(edge[0])] = None
    return tuple(out)


def inputs(book: Book) -> Iterator[tuple[str, tuple[InputTrace, ...]]]:
    """Every input channel of each desk; the name is empty where there is one desk."""
    names = dict.fromkeys(c.desk for c in book.plan.channels)
    for desk in names:
        traced = tuple(_input(book, c) for c in book.plan.channels if c.desk == desk)
        yield desk if len(names) > 1 else "", traced


def _input(book: Book, channel: Channel) -> InputTrace:
    return InputTrace(
        number=str(channel.number),
        channel=book.channel(channel, channel.name),
        way=tuple(_way_in(book, channel)),
        sends=tuple(_sends(book, channel)),
        heard=tuple(book.link("box", b) for b in _heard(book, channel)),
    )


def _way_in(book: Book, channel: Channel) -> Iterator[Step]:
    """From the source to the channel: the shortest way back from each of its sockets."""
    net = book.rig.net
    for socket in channel.sockets:
        node, back, seen = socket.id, list[Step](), {socket.id}
        while node in net:
            before = sorted(edge for edge, data in net.edges_in(node) if data["kind"] in k.WIRES)
            edge = next((e for e in before if e[0] not in seen), None)
            back.append(Step(_by(book, edge) if edge else "", book.node(node)))
            if edge is None:
                break
            node = edge[0]
            seen.add(node)
        yield from reversed(back)
    yield from _insert(book, channel)


def _insert(book: Book, channel: Channel) -> Iterator[Step]:
    """From the socket by which a channel goes out to its insert, to the socket by which it comes back."""
    for _, send, back in channel.insert.pairs(channel.legs) if channel.insert else ():
        yield Step(phrase("insert"), book.node(send.id))
        for edge in next(iter(book.rig.paths(send.id, back.id, 1)), []):
            yield Step(_by(book, edge), book.node(edge[1]))


def _sends(book: Book, channel: Channel) -> Iterator[tuple[Link, str]]:
    for send in channel.sends:
        bus = book.plan.buses.get((channel.desk, send.bus))
        if bus is not None:
            at = send.level.page() if send.level else Amount("0", "dB")
            words = (at, chosen(send.leg), chosen(send.pick or bus.pick))
            yield book.bus(bus), phrase("off") if send.off else joined((w for w in words if w), " ")


def _heard(book: Book, channel: Channel) -> tuple[str, ...]:
    nodes = (k.channel_node(channel.desk, channel.number, leg) for leg in channel.legs)
    return tuple(dict.fromkeys(b for node in nodes for b in book.rig.boxes_of(node)))
