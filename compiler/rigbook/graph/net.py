"""The signal as one table of nodes and edges, indexed both ways.

It has the shape of a networkx MultiDiGraph and the same order, and answers what a check asks of it without loading
networkx, which takes longer to import than a small plan to check. `Rig.graph` is the same as a MultiDiGraph, for
drawings and algorithms; a test holds both equal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import networkx as nx

Edge = tuple[str, str, int]
"""An edge of the graph: its two nodes and the key among edges between them."""
Facts = dict[str, Any]
"""What a node or an edge carries, as `kinds.py` says."""
Beside = Mapping[str, Mapping[str, Mapping[int, Facts]]]
"""For each node its neighbours, and the edges to each of them by key."""


class Net:
    """Nodes and edges in the order in which they were made. Only `build.py` adds to it."""

    __slots__ = ("_after", "_before", "_nodes", "nodes", "pred", "succ")

    def __init__(self) -> None:
        self._nodes: dict[str, Facts] = {}
        self._after: dict[str, dict[str, dict[int, Facts]]] = {}
        self._before: dict[str, dict[str, dict[int, Facts]]] = {}
        self.nodes: Mapping[str, Facts] = self._nodes
        """Every node with what it carries."""
        self.succ: Beside = self._after
        """What each node leads to."""
        self.pred: Beside = self._before
        """What leads to each node."""

    def add_node(self, name: str, **facts: Any) -> None:
        """Make a node; one that is there gets the facts."""
        if name in self._nodes:
            self._nodes[name].update(facts)
        else:
            self._nodes[name], self._after[name], self._before[name] = facts, {}, {}

    def add_edge(self, start: str, end: str, **facts: Any) -> None:
        """Make an edge between two nodes that are there, besides those that they have."""
        between = self._after[start].setdefault(end, {})
        self._before[end][start] = between
        between[len(between)] = facts

    def __contains__(self, node: str) -> bool:
        return node in self._nodes

    def __iter__(self) -> Iterator[str]:
        return iter(self._nodes)

    def edge(self, edge: Edge) -> Facts:
        """What an edge carries."""
        start, end, key = edge
        return self._after[start][end][key]

    def edges(self) -> Iterator[tuple[Edge, Facts]]:
        """Every edge, by the node that it begins at."""
        for node in self._nodes:
            yield from self.edges_out(node)

    def edges_in(self, node: str) -> Iterator[tuple[Edge, Facts]]:
        """Edges that end at a node."""
        for start, between in self._before[node].items():
            for key, facts in between.items():
                yield (start, node, key), facts

    def edges_out(self, node: str) -> Iterator[tuple[Edge, Facts]]:
        """Edges that begin at a node."""
        for end, between in self._after[node].items():
            for key, facts in between.items():
                yield (node, end, key), facts

    def sorted(self) -> tuple[str, ...]:
        """The nodes, each after all that lead to it; what stands in a loop or after one is left out."""
        open_ends = {node: len(before) for node, before in self._before.items()}
        out = [node for node, count in open_ends.items() if not count]
        for node in out:
            for after in self._after[node]:
                open_ends[after] -= 1
                if not open_ends[after]:
                    out.append(after)
        return tuple(out)

    def reached(self, starts: Iterable[str], beside: Beside, cut: frozenset[Edge] = frozenset()) -> set[str]:
        """The starts and what comes after them (`beside` is `succ`) or before them (`pred`), but not over `cut`."""
        seen = set(starts)
        todo = list(seen)
        while todo:
            node = todo.pop()
            for other, between in beside[node].items():
                if other not in seen and not (cut and all((node, other, key) in cut for key in between)):
                    seen.add(other)
                    todo.append(other)
        return seen

    def graph(self) -> nx.MultiDiGraph[str]:
        """The same as a networkx MultiDiGraph; nodes and edges keep their order."""
        import networkx as nx

        graph: nx.MultiDiGraph[str] = nx.MultiDiGraph()
        graph.add_nodes_from(self._nodes.items())
        for (start, end, key), facts in self.edges():
            graph.add_edge(start, end, key, **facts)
        return graph
