"""A thing's whole signal in words: what reaches it and by which ways, what it reaches, what is on a cable."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.graph.build import entry_of
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import edge_words, node_words
from rigbook.language.record import Record

MOST = 12
"""Ways shown of each sort; a stereo main reached by forty channels has hundreds."""


def trace(rig: Rig, node: str) -> Iterator[str]:
    """Lines of text for a node, or for a cable (`sheath NAME`)."""
    if node.startswith("sheath "):
        yield from cable_lines(rig, node[7:])
        return
    yield _head(rig, node)
    back, air = _back(rig, node), _air(rig, node)
    if air and not back:
        yield "  comes from: 1 way"
        yield ""
        yield from air
    else:
        yield from _section(rig, "comes from", back)
    yield from _section(rig, "goes to", _ahead(rig, node))


def _head(rig: Rig, node: str) -> str:
    span = rig.net.nodes[node]["span"]
    return f"{node_words(rig, node)}    ({span.human()})"


def _back(rig: Rig, node: str) -> list[list[Edge]]:
    """Ways to a node: whole from the bus on, then one line for each source of that bus."""
    kind = rig.net.nodes[node]["kind"]
    starts = [n for n in _stops(rig, node) if n != node]
    if kind in (k.BUS, k.CHANNEL, k.SOURCE):
        starts = list(rig.origins_of(node))
    return [way for start in starts for way in rig.paths(start, node) if way]


def _stops(rig: Rig, node: str) -> list[str]:
    """The bus legs from which a node is reached without passing another bus; else its origins."""
    buses = sorted({edge[0] for edge, _ in rig.last_feeds(node)})
    return buses or list(rig.origins_of(node))


def _ahead(rig: Rig, node: str) -> list[list[Edge]]:
    return [way for end in rig.ends_of(node) if end != node for way in rig.paths(node, end) if way]


def _section(rig: Rig, title: str, ways: list[list[Edge]]) -> Iterator[str]:
    if not ways:
        yield f"  {title}: nothing"
        return
    yield f"  {title}: {len(ways)} way{'s' if len(ways) > 1 else ''}"
    for way in ways[:MOST]:
        yield ""
        yield from _air(rig, way[0][0]) or (f"    {node_words(rig, way[0][0])}",)
        for edge in way:
            yield f"      -> {node_words(rig, edge[1])}    [{edge_words(rig, edge)}]"
        bus = rig.net.nodes[way[0][0]]
        if bus["kind"] == k.BUS:
            yield f"       fed by {_feeders(rig, way[0][0])}"
    if len(ways) > MOST:
        yield f"    and {len(ways) - MOST} more"


def _air(rig: Rig, node: str) -> tuple[str, ...]:
    """The transmitter that the radio plan has for a receiver, and the way over the air; empty for all else."""
    unit = rig.plan.units.get(str(rig.net.nodes[node]["unit"] or ""))
    radio = rig.plan.sections.get("radio")
    rows = radio.get("channels", ()) if unit and unit.family == "radio" and isinstance(radio, Record) else ()
    for entry in rows:
        if unit and entry.name == unit.name and isinstance(entry.value, Record) and entry.value.get("transmitter"):
            kind, frequency = rig.plan.kinds.get(str(entry.value.get("transmitter"))), entry.value.get("frequency")
            title = kind.title if kind else entry.value.get("transmitter")
            return f"    {title}", f"      -> {node}    [by radio{f', {frequency}' if frequency else ''}]"
    return ()


def _feeders(rig: Rig, bus: str) -> str:
    names = [node_words(rig, e[0]) for e, _ in rig.edges_in(entry_of(rig.net, bus))]
    return ", ".join(dict.fromkeys(names)) or "nothing"


def cable_lines(rig: Rig, sheath: str) -> Iterator[str]:
    """What is on a cable, and what would be silent without it."""
    on = rig.by_cable().get(sheath, [])
    cable = next(c for c in rig.plan.cables if c.sheath == sheath)
    length = f", {cable.length}" if cable.length else ""
    yield f"cable {sheath} ({cable.kind_name}{length})    ({cable.span.human()})"
    yield f"  carries: {len(on)} signal{'s' if len(on) != 1 else ''}"
    for edge in on:
        yield f"    {node_words(rig, edge[0])} -> {node_words(rig, edge[1])}"
    silent = rig.silent_if_cut(sheath)
    yield f"  silent without it: {', '.join(silent) or 'nothing'}"
