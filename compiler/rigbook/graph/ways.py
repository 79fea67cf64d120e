"""One way through the rig, the shortest, found from its beginning."""

from __future__ import annotations

from collections import deque

from rigbook.graph import kinds as k
from rigbook.graph.rig import Edge, Rig
from rigbook.graph.words import path_words


def way(rig: Rig, start: str, end: str) -> list[Edge]:
    """The shortest way from node to node; empty where there is none. Looks only at what lies behind the start."""
    came: dict[str, Edge] = {}
    queue = deque([start])
    while queue and end not in came:
        for edge, _ in rig.edges_out(queue.popleft()):
            if edge[1] not in came and edge[1] != start:
                came[edge[1]] = edge
                queue.append(edge[1])
    out: list[Edge] = []
    here = end
    while here in came:
        out.append(came[here])
        here = came[here][0]
    return out[::-1]


def way_words(rig: Rig, start: str, end: str) -> str:
    """That way in one line."""
    return path_words(rig, way(rig, start, end))


def behind(rig: Rig, node: str) -> set[str]:
    """A node and everything that its signal reaches, outside the desks: no channel is passed."""
    seen, todo = {node}, [node]
    while todo:
        here = todo.pop()
        if rig.net.nodes[here]["kind"] != k.CHANNEL:
            new = [n for n in rig.net.succ[here] if n not in seen]
            seen.update(new)
            todo += new
    return seen
