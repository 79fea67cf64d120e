"""The rig: a plan with its graph, and the answers that checks, walk test and pages ask of it.

Reach is found for all nodes in one pass over a topological order, as integers used as bit sets: bit i of
`heard[node]` says that the i-th end (speaker, recorder, feed) is reached from the node; of `feeds[node]`, that
the i-th origin (source, or socket that a player drives) reaches it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any

from rigbook.graph import kinds as k
from rigbook.graph.build import build
from rigbook.graph.carriers import Carriers
from rigbook.graph.net import Beside, Edge, Net
from rigbook.plan.model import Cable, Channel, Plan, Unit
from rigbook.records import frozen

if TYPE_CHECKING:
    import networkx as nx

    from rigbook.graph.gaps import Gap

__all__ = ["Edge", "Rig", "members"]

ORIGIN_FAMILIES = ("player", "radio", "line source", "recorder", "microphone", "di")
"""Units whose outputs are where a signal begins."""


@frozen
class Rig:
    """A plan and its graph."""

    plan: Plan
    net: Net
    """The nodes and edges: what to ask first."""
    carriers: Carriers

    @staticmethod
    def of(plan: Plan) -> Rig:
        """The rig of a plan."""
        net, carriers = build(plan)
        return Rig(plan, net, carriers)

    @cached_property
    def graph(self) -> nx.MultiDiGraph[str]:
        """The net as a networkx MultiDiGraph, where an algorithm of networkx is wanted."""
        return self.net.graph()

    @cached_property
    def _sorted(self) -> tuple[str, ...]:
        return self.net.sorted()

    @cached_property
    def order(self) -> tuple[str, ...]:
        """Every node, sources before what they feed. A loop stands as a run."""
        if len(self._sorted) == len(self.net.nodes):
            return self._sorted
        import networkx as nx

        condensed = nx.condensation(nx.DiGraph(self.graph))
        knots = (condensed.nodes[c]["members"] for c in nx.topological_sort(condensed))
        # along the signal, so that few rounds settle a loop
        return tuple(n for knot in knots for n in nx.dfs_preorder_nodes(self.graph.subgraph(knot), min(knot)))

    @cached_property
    def loops(self) -> tuple[tuple[str, ...], ...]:
        """Each knot of the signal as one ring of nodes; empty in a good plan."""
        if len(self._sorted) == len(self.net.nodes):
            return ()
        import networkx as nx

        rings = []
        for knot in nx.strongly_connected_components(self.graph):
            if len(knot) > 1 or any(self.graph.has_edge(n, n) for n in knot):
                ring = nx.find_cycle(self.graph.subgraph(knot), source=min(knot))
                rings.append(tuple(edge[0] for edge in ring))
        return tuple(sorted(rings))

    @cached_property
    def boxes(self) -> tuple[str, ...]:
        """Names of the speakers in use, in plan order."""
        return tuple(u.name for u in self.plan.units.values() if u.is_speaker and not u.spare)

    @cached_property
    def ends(self) -> tuple[str, ...]:
        """Speakers, then recorders and feeds, then sockets that could not be resolved (they may lead anywhere)."""
        sinks, unknown = [], []
        for node, data in self.net.nodes.items():
            if data["kind"] == k.SINK:
                sinks.append(node)
            elif data["kind"] == k.UNKNOWN:
                unknown.append(node)
        return (*self.boxes, *sinks, *unknown)

    @cached_property
    def origins(self) -> tuple[str, ...]:
        """Sources, outputs of players and receivers, and sockets that could not be resolved."""
        out = []
        for node, data in self.net.nodes.items():
            if data["kind"] in (k.SOURCE, k.UNKNOWN) or (
                data["kind"] == k.SOCKET
                and data["port"].direction == "out"
                and self.plan.units[data["unit"]].family in ORIGIN_FAMILIES
            ):
                out.append(node)
        return tuple(out)

    @cached_property
    def heard(self) -> dict[str, int]:
        """For each node, the ends it reaches (bits over `ends`)."""
        return self._spread(self.ends, tuple(reversed(self.order)), self.net.succ)

    @cached_property
    def feeds(self) -> dict[str, int]:
        """For each node, the origins that reach it (bits over `origins`)."""
        return self._spread(self.origins, self.order, self.net.pred)

    def _spread(self, marks: tuple[str, ...], order: tuple[str, ...], ahead: Beside) -> dict[str, int]:
        bits = {name: 1 << i for i, name in enumerate(marks)}

        def at(node: str, got: dict[str, int]) -> int:
            value = bits.get(node, 0)
            for other in ahead[node]:
                value |= got.get(other, 0)
            return value

        return self._settled(order, at)

    def _settled(self, order: tuple[str, ...], at: Callable[[str, dict[str, int]], int]) -> dict[str, int]:
        """What `at` gives for each node from those before it; round and round where there are loops."""
        got: dict[str, int] = {}
        while True:
            moved = False
            for node in order:
                value = at(node, got)
                moved |= value != got.get(node, 0)
                got[node] = value
            if not (moved and self.loops):
                return got

    @cached_property
    def driven(self) -> frozenset[str]:
        """Every node that something is patched or plugged to: a bus, a channel, a source or a player stands before it.

        Unlike `feeds` this asks for no signal: the socket of a bus that nothing is sent to is driven.
        """
        starts = set(self.origins)

        def at(node: str, got: dict[str, int]) -> int:
            begins = node in starts or self.net.nodes[node]["kind"] in k.DESK or self._phones(node)
            return int(begins or any(got.get(before) for before in self.net.pred[node]))

        return frozenset(n for n, on in self._settled(self.order, at).items() if on)

    def _phones(self, node: str) -> bool:
        """A headphone socket: the desk feeds it from whatever is listened to."""
        port = self.net.nodes[node].get("port")
        return port is not None and port.level == "headphone"

    @cached_property
    def legs(self) -> tuple[str, ...]:
        """Every bus leg."""
        return tuple(n for n, d in self.net.nodes.items() if d["kind"] == k.BUS)

    @cached_property
    def legs_at(self) -> dict[str, int]:
        """For each node outside the desks, the bus legs that leave towards it (bits over `legs`)."""
        bits = {leg: 1 << i for i, leg in enumerate(self.legs)}

        def at(node: str, got: dict[str, int]) -> int:
            value = 0
            for edge, data in self.edges_in(node):
                if data["kind"] == k.LEAVE:
                    value |= bits[edge[0]]
                elif data["kind"] in k.WIRES:
                    value |= got.get(edge[0], 0)
            return value

        return self._settled(self.order, at)

    def legs_of(self, node: str) -> tuple[str, ...]:
        """The bus legs that leave towards a node with no other desk in between."""
        return members(self.legs_at.get(node, 0), self.legs)

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """What hangs in the air, each start with the ends that it was probably meant for."""
        from rigbook.graph.gaps import gaps

        return gaps(self)

    def ends_of(self, node: str) -> tuple[str, ...]:
        """The ends that a node reaches, in order."""
        return members(self.heard.get(node, 0), self.ends)

    def boxes_of(self, node: str) -> tuple[str, ...]:
        """The speakers that a node reaches."""
        return tuple(n for n in self.ends_of(node) if n in self._box_set)

    @cached_property
    def _box_set(self) -> frozenset[str]:
        return frozenset(self.boxes)

    def origins_of(self, node: str) -> tuple[str, ...]:
        """The origins that reach a node, in order."""
        return members(self.feeds.get(node, 0), self.origins)

    def edges_in(self, node: str) -> Iterator[tuple[Edge, dict[str, Any]]]:
        """Edges that end at a node."""
        return self.net.edges_in(node)

    def edges_out(self, node: str) -> Iterator[tuple[Edge, dict[str, Any]]]:
        """Edges that begin at a node."""
        return self.net.edges_out(node)

    def last_feeds(self, box: str) -> tuple[tuple[Edge, dict[str, Any]], ...]:
        """The bus outputs that reach an end with no other desk in between: `leave` edges found walking back."""
        found, seen, todo = [], {box}, [box]
        while todo:
            node = todo.pop()
            for edge, data in self.edges_in(node):
                if data["kind"] == k.LEAVE:
                    found.append((edge, data))
                elif edge[0] not in seen:
                    seen.add(edge[0])
                    todo.append(edge[0])
        return tuple(sorted(found, key=lambda f: f[0]))

    @cached_property
    def feeds_of_box(self) -> dict[str, tuple[tuple[Edge, dict[str, Any]], ...]]:
        """`last_feeds` of every end."""
        return {end: self.last_feeds(end) for end in self.ends}

    def by_cable(self) -> dict[str, list[Edge]]:
        """What is on each sheath: its own lines, and whatever a network cable carries."""
        out: dict[str, list[Edge]] = {}
        for (a, b, key), data in self.net.edges():
            cable = data.get("cable")
            for sheath in (*((cable.sheath,) if cable else ()), *data["via"]):
                out.setdefault(sheath, []).append((a, b, key))
        return out

    def silent_if_cut(self, sheath: str) -> tuple[str, ...]:
        """The ends that no origin reaches once a cable is cut, though one did before."""
        cut = frozenset(self.by_cable().get(sheath, ()))
        reached = self.net.reached(self.origins, self.net.succ, cut)
        return tuple(e for e in self.ends if self.feeds.get(e) and e not in reached)

    def paths(self, start: str, end: str, most: int = 16) -> list[list[Edge]]:
        """Ways from node to node, in order, each as edges; no more than `most`."""
        reach = self.heard_of(end)
        out: list[list[Edge]] = []

        def follow(node: str, way: list[Edge], seen: frozenset[str]) -> None:
            if len(out) >= most:
                return
            if node == end:
                out.append(way)
                return
            for edge, _ in self.edges_out(node):
                if edge[1] in reach and edge[1] not in seen:
                    follow(edge[1], [*way, edge], seen | {edge[1]})

        if start in reach:
            follow(start, [], frozenset({start}))
        return out

    def heard_of(self, end: str) -> set[str]:
        """Every node from which `end` is reached, itself included."""
        return self.net.reached((end,), self.net.pred) if end in self.net else set()

    def unit(self, node: str) -> Unit | None:
        """The unit that a node belongs to."""
        return self.plan.units.get(self.net.nodes[node]["unit"])

    def channel(self, node: str) -> Channel | None:
        """The channel of a channel or source node."""
        got = self.net.nodes[node].get("channel")
        return got if isinstance(got, Channel) else None

    def cable(self, edge: Edge) -> Cable | None:
        """The cable of an edge."""
        got = self.net.edge(edge).get("cable")
        return got if isinstance(got, Cable) else None


def members(bits: int, names: Sequence[str]) -> tuple[str, ...]:
    """The names whose bit is set, in order. Takes time by what is set, not by how many names there are."""
    out = []
    while bits:
        lowest = bits & -bits
        out.append(names[lowest.bit_length() - 1])
        bits ^= lowest
    return tuple(out)
