"""The rig device by device: blocks with their sockets, wires from socket to socket, and these gathered to bundles.

A stage box or tie line that works both ways is two blocks, so that the signal runs one way across the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import side
from rigbook.handbook.anchors import href
from rigbook.handbook.tongue import Tongue
from rigbook.plan.model import Channel
from rigbook.records import changing, field, frozen
from rigbook.text.phrase import joined, phrase

BOTH_WAYS = ("stage box", "tie line")


@changing
class Block:
    """A device, or the side of one that leads to the desk."""

    key: str
    title: str
    sort: str
    """Family, for its outline: desk, stage box, amplifier, speaker …; `source` for what is plugged at one place."""
    link: str
    end: str = ""
    """The speaker, recorder or feed that it is; empty for what passes a signal on."""
    under: str = ""
    """What stands below its title: how many sockets are in use."""
    ins: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Sockets that something comes in by: words and address, by node of the graph."""
    outs: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Sockets that something goes out by."""


@frozen
class Wire:
    """One connection: from a node of a block to a node of another."""

    start: str
    start_node: str
    end: str
    end_node: str
    sort: str
    """`speaker`, `line`, or `network`: patched over it."""


@changing
class Bundle:
    """All wires of a sort between two blocks: one line of the drawing."""

    start: str
    end: str
    sort: str
    wires: list[int] = field(default_factory=list)


@changing
class Sheet:
    """Blocks by key, wires in the order of the plan, and the lines that they are drawn as."""

    blocks: dict[str, Block] = field(default_factory=dict)
    wires: list[Wire] = field(default_factory=list)
    bundles: list[Bundle] = field(default_factory=list)
    ways: dict[str, list[int]] = field(default_factory=dict)
    """Wires on the ways to each end, back to the desks or players that drive it; by key of its block."""


def sheet_of(rig: Rig) -> Sheet:
    """Blocks, wires and bundles of a whole rig."""
    sheet = Sheet()
    by_edge: dict[Edge, int] = {}
    seen: dict[tuple[str, str], int] = {}
    for (a, b, key), data in rig.net.edges():
        if data["kind"] not in (k.PLUG, k.CABLE, k.LISTEN, k.LEAVE) or k.UNKNOWN in (
            rig.net.nodes[a]["kind"],
            rig.net.nodes[b]["kind"],
        ):
            continue
        start, end = _block(sheet, rig, a), _block(sheet, rig, b)
        a, b = _row(rig, a), _row(rig, b)
        if start == end:
            _within(sheet.blocks[start], rig, a, b, data["kind"])
            continue
        if (a, b) not in seen:
            seen[a, b] = len(sheet.wires)
            cable = data.get("cable")
            speaker = cable and cable.kind and cable.kind.get("carries") == "speaker"
            sort = "network" if data["via"] else "speaker" if speaker else "line"
            sheet.wires.append(Wire(start, a, end, b, sort))
            sheet.blocks[start].outs.setdefault(a, _words(rig, a))
            sheet.blocks[end].ins.setdefault(b, _words(rig, b))
        by_edge[a, b, key] = seen[a, b]
    for name in (n for n in rig.ends if n in rig.plan.units):
        _block(sheet, rig, name)
    _gather(sheet)
    _ways(sheet, rig)
    for block in sheet.blocks.values():
        block.under = _under(block, rig)
    return sheet


def _row(rig: Rig, node: str) -> str:
    """The two sides of a stereo channel are one row, and so are the sides of what feeds it."""
    data = rig.net.nodes[node]
    channel = data.get("channel") if data["kind"] in (k.CHANNEL, k.INSERT_POINT) else None
    return k.channel_node(channel.desk, channel.number) if channel is not None else node


def _block(sheet: Sheet, rig: Rig, node: str) -> str:
    """The key of the block that a node belongs to; the block is made where it is not there."""
    data = rig.net.nodes[node]
    if data["kind"] == k.SOURCE:
        where = data["channel"].plugged[0].unit
        key = f"sources {where}"
        if key not in sheet.blocks:
            sheet.blocks[key] = Block(key, phrase("Sources"), "source", href("unit", where))
        return key
    unit = rig.plan.units[data["unit"]]
    key = unit.name
    if unit.family in BOTH_WAYS and data["kind"] == k.SOCKET and not _returns(rig, node):
        key = f"{unit.name} in"
    if key not in sheet.blocks:
        end = unit.name if unit.name in rig.ends else ""
        sheet.blocks[key] = Block(key, unit.title, unit.family, href("unit", unit.name), end)
    return key


def _returns(rig: Rig, node: str) -> bool:
    """True for a socket behind the desks: a bus leg leaves towards it, or it is an output."""
    port = rig.net.nodes[node]["port"]
    return bool(rig.legs_at.get(node)) or bool(port and port.direction == "out")


def _within(block: Block, rig: Rig, a: str, b: str, kind: str) -> None:
    """A connection of a device to itself is said beside its socket: drawn, it would cross its block."""
    words, address = _words(rig, b)
    other = _words(rig, a)[0]
    if kind == k.LISTEN:
        block.ins[a] = (joined((other, words), " · "), _words(rig, a)[1])
    elif kind == k.LEAVE:
        block.outs[b] = (joined((words, other), " ← "), address)
    else:
        block.ins[b] = (joined((words, other), " ← "), address)


def _words(rig: Rig, node: str) -> tuple[str, str]:
    """What a row of a block says, and the address of its place."""
    if node not in rig.net:  # a stereo channel, whose sides are the nodes
        node = f"{node} left"
    data = rig.net.nodes[node]
    match data["kind"]:
        case k.SOURCE | k.CHANNEL:
            channel: Channel = data["channel"]
            return f"{channel.number} {channel.name}", href("channel", f"{channel.desk} {channel.number}")
        case k.BUS:
            several = sum(u.family == "desk" for u in rig.plan.units.values()) > 1
            bus = data["bus"]
            name = f"{bus.desk} {bus.name}" if several else bus.name
            return side(bus.name, data["leg"]), href("bus", name)
        case _:
            return data["socket"].port, href("socket", node)


def _gather(sheet: Sheet) -> None:
    found: dict[tuple[str, str, str], Bundle] = {}
    for i, wire in enumerate(sheet.wires):
        key = (wire.start, wire.end, wire.sort)
        found.setdefault(key, Bundle(*key)).wires.append(i)
    sheet.bundles = list(found.values())


def _ways(sheet: Sheet, rig: Rig) -> None:
    """For each end the wires on every way to it, back to the bus legs or players that drive it."""
    index = {(w.start_node, w.end_node): i for i, w in enumerate(sheet.wires)}
    ends = {b.end: b for b in sheet.blocks.values() if b.end}
    for name, block in ends.items():
        found, seen, todo = set[int](), {name}, [name]
        while todo:
            node = todo.pop()
            for edge, data in rig.edges_in(node):
                if data["kind"] not in (*k.WIRES, k.LEAVE):
                    continue
                wire = index.get((_row(rig, edge[0]), _row(rig, edge[1])))
                if wire is not None:
                    found.add(wire)
                if edge[0] not in seen and data["kind"] != k.LEAVE:
                    seen.add(edge[0])
                    todo.append(edge[0])
        sheet.ways[block.key] = sorted(found)


def _under(block: Block, rig: Rig) -> str:
    """How much there is behind a block that shows no socket."""
    if block.sort == "source":
        place = rig.plan.units[block.key.removeprefix("sources ")].title
        return phrase("%(number)s at %(place)s", number=len(block.outs), place=place)
    if block.sort == "desk":
        channels = sum(c.desk == block.key for c in rig.plan.channels)
        buses = sum(desk == block.key for desk, _ in rig.plan.buses)
        return phrase("%(channels)s ch, %(buses)s buses", channels=channels, buses=buses)
    if block.end or len(block.ins) + len(block.outs) < 3:
        return ""
    ins, outs = len(block.ins), len(block.outs)
    words = (phrase("%(number)s in", number=ins) if ins else "", phrase("%(number)s out", number=outs) if outs else "")
    return joined(w for w in words if w)


def say_in(sheet: Sheet, tongue: Tongue) -> Sheet:
    """Put the words of a sheet into a language, before they are measured."""
    for block in sheet.blocks.values():
        block.title, block.under = tongue.words(block.title), tongue.words(block.under)
        block.ins = {node: (tongue.words(words), address) for node, (words, address) in block.ins.items()}
        block.outs = {node: (tongue.words(words), address) for node, (words, address) in block.outs.items()}
    return sheet


def rows(block: Block) -> list[tuple[str, str]]:
    """Rows of an opened block as pairs of nodes, what comes in and what goes out; empty where one side has no more.

    A socket that a signal both comes in and goes out by is one row.
    """
    both = [n for n in block.ins if n in block.outs]
    ins = [*both, *(n for n in block.ins if n not in block.outs)]
    outs = [*both, *(n for n in block.outs if n not in block.ins)]
    count = max(len(ins), len(outs))
    ins += [""] * (count - len(ins))
    outs += [""] * (count - len(outs))
    return list(zip(ins, outs, strict=True))


def connections(sheet: Sheet) -> Iterator[tuple[Block, Block, str, int]]:
    """The drawing in words: from, to, sort of connection, how many."""
    for bundle in sheet.bundles:
        yield sheet.blocks[bundle.start], sheet.blocks[bundle.end], bundle.sort, len(bundle.wires)
