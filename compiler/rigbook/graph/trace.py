"""A thing's whole signal in words: what reaches it and by which ways, what it reaches, what is on a cable."""

from __future__ import annotations

from collections.abc import Iterator

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import edge_words, node_words

MOST = 12
"""Ways shown of each sort; a stereo main reached by forty channels has hundreds."""


def trace(rig: Rig, node: str) -> Iterator[str]:
    """Lines of text for a node, or for a cable (`sheath NAME`)."""
    if node.startswith("sheath "):
        yield from cable_lines(rig, node[7:])
        return
    yield _head(rig, node)
    yield from _section(rig, "comes from", _back(rig, node))
    yield from _section(rig, "goes to", _ahead(rig, node))


def _head(rig: Rig, node: str) -> str:
    span = rig.graph.nodes[node]["span"]
    return f"{node_words(rig, node)}    ({span.human()})"


def _back(rig: Rig, node: str) -> list[list[Edge]]:
    """Ways to a node: whole from the bus on, then one line for each source of that bus."""
    kind = rig.graph.nodes[node]["kind"]
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
        yield f"    {node_words(rig, way[0][0])}"
        for edge in way:
            yield f"      -> {node_words(rig, edge[1])}    [{edge_words(rig, edge)}]"
        bus = rig.graph.nodes[way[0][0]]
        if bus["kind"] == k.BUS:
            yield f"       fed by {_feeders(rig, way[0][0])}"
    if len(ways) > MOST:
        yield f"    and {len(ways) - MOST} more"


def _feeders(rig: Rig, bus: str) -> str:
    names = [node_words(rig, e[0]) for e, _ in rig.edges_in(bus)]
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
