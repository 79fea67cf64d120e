"""Rigs for the tests of the walk test, without the checks, and a listener who knows nothing of the engine.

The listener is the oracle: it applies a fault to a networkx graph, walks every simple path from the signal to each box
(`networkx.all_simple_edge_paths`, a general-purpose library) and adds up what the paths do. The engine works on
numbered wires, from the fault on only, and never looks at paths.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import networkx as nx

from rigbook.findings.place import Source
from rigbook.graph.rig import Rig
from rigbook.language.read import read_plan
from rigbook.plan.compose import compose
from rigbook.plan.files import Files
from rigbook.plan.resolve import resolve
from rigbook.plan.root import root_of
from rigbook.text.yaml_reader import read
from rigbook.walk.cones import State
from rigbook.walk.hear import HUMS, judge, judge_pair
from rigbook.walk.plays import Play
from rigbook.walk.propagate import joined
from rigbook.walk.sounding import Range
from rigbook.walk.table import FADER, HEAR, PAIR, Seen
from rigbook.walk.trial import METER, Trial
from rigbook.walk.wires import Change, Wire


def rig_of(text: str) -> Rig:
    """The rig of a plan text; it must have no finding of the reader."""
    source = Source("plan.yaml", text)
    node, wrong = read(source)
    record, more = read_plan(node)
    draft, found = compose([("plan.yaml", record)], {"plan.yaml": source})
    plan, last = resolve(draft)
    assert not [*wrong, *more, *found, *last], [*wrong, *more, *found, *last]
    return Rig.of(plan)


def rig_at(path: Path) -> Rig:
    """The rig of a plan file."""
    files = Files(root_of(path).resolve())
    draft, _ = compose(files.chain(path), files.sources)
    plan, _ = resolve(draft)
    return Rig.of(plan)


Run = tuple[int, ...]
"""A path as numbers of wires."""


class Planned(NamedTuple):
    """A play as planned."""

    ends: dict[int, Range]
    paths: dict[int, list[Run]]
    """By box."""
    through: dict[int, set[int]]
    """By wire: the boxes of the paths that run through it."""
    planned: dict[int, State]


class Listener:
    """Someone who hears each play of a rig once as planned, and then with one fault after another.

    Every simple path as planned is found once; one that runs through a wire that a fault cuts or alters is added up
    anew. Where a fault adds a wire, paths are looked for again, to each box that the wire leads to.
    """

    def __init__(self, trial: Trial) -> None:
        self.trial, self.wires = trial, trial.wires
        self.graph = nx.MultiDiGraph()
        self.graph.add_nodes_from(range(len(self.wires.names)))
        for i, wire in enumerate(self.wires.wires):
            self.graph.add_edge(wire.tail, wire.head, wire=wire, number=i)
        self.ahead: dict[int, frozenset[int]] = {}
        self.reach: dict[str, frozenset[int]] = {}
        self.plays: dict[str, Planned] = {}

    def listen(self, change: Change, play: Play) -> dict[Seen, str]:
        """What a listener says of every box and pair of a play that is not as planned with a fault."""
        heard, names = self._play(play), self.wires.names
        anew, reached = self._opened(change, play)
        there = {
            b: self._along(heard.paths[b], change, play)
            for b in {b for i in change.replaced for b in heard.through.get(i, ())} - anew
        }
        if not anew.isdisjoint(heard.ends):
            graph = self._with(change, reached)
            there |= {b: rounded(arriving(graph, play, b)) for b in anew & heard.ends.keys()}
        out = {
            Seen(FADER if play.down else HEAR, play.step, names[b]): judge(
                state, heard.planned[b], heard.ends[b], play.coarse or heard.ends[b] is METER
            )
            for b, state in there.items()
        }
        if play.down:  # with the fader down it is asked what falls silent, not how it sounds
            out = {seen: value for seen, value in out.items() if value != HUMS}
        for pair in play.pairs:
            two = (self.wires.index[pair.a], self.wires.index[pair.b])
            plan, now = (heard.planned[n] for n in two), (there.get(n, heard.planned[n]) for n in two)
            out[Seen(PAIR, play.step, f"{pair.a}|{pair.b}")] = judge_pair(tuple(now), tuple(plan), pair.low_hz)
        return {seen: value for seen, value in out.items() if value}

    def _play(self, play: Play) -> Planned:
        """Every simple path of a play from where it starts to each box, open or not, and what arrives by them."""
        if play.key not in self.plays:
            graph = self.graph.subgraph(self._reach(play))
            ends = dict(self.trial.ends) | dict.fromkeys(play.also, METER)
            paths = {b: [tuple(w["number"] for w in path) for path in simple(graph, play, b)] for b in ends}
            through: dict[int, set[int]] = {}
            for box, every in paths.items():
                for number in {i for path in every for i in path}:
                    through.setdefault(number, set()).add(box)
            planned = {b: self._along(every, Change(), play) for b, every in paths.items()}
            self.plays[play.key] = Planned(ends, paths, through, planned)
        return self.plays[play.key]

    def _along(self, paths: list[Run], change: Change, play: Play) -> State:
        parts = []
        for path in paths:
            wires = [change.replaced.get(i, self.wires.wires[i]) for i in path]
            whole = [w for w in wires if w is not None and passes(play, w)]
            if len(whole) == len(path) and play.closed.isdisjoint(path):
                parts.append(along(whole))
        return rounded(joined(parts) if len(parts) > 1 else tuple(parts))

    def _reach(self, play: Play) -> frozenset[int]:
        if play.key not in self.reach:
            self.reach[play.key] = frozenset().union(*(self._ahead(n) for n in play.starts))
        return self.reach[play.key]

    def _ahead(self, node: int) -> frozenset[int]:
        if node not in self.ahead:
            self.ahead[node] = frozenset(nx.descendants(self.graph, node) | {node})
        return self.ahead[node]

    def _opened(self, change: Change, play: Play) -> tuple[frozenset[int], frozenset[int]]:
        """Nodes to which added wires open a way in a play, and all that it can reach with them."""
        anew, reached, left = frozenset[int](), self._reach(play), list(change.added)
        while now := [w for w in left if w.tail in reached]:
            left = [w for w in left if w not in now]
            anew = anew.union(*(self._ahead(w.head) for w in now))
            reached |= anew
        return anew, reached

    def _with(self, change: Change, nodes: frozenset[int]) -> nx.MultiDiGraph:
        """The wires among some nodes as a graph, a fault put in."""
        graph = nx.MultiDiGraph()
        graph.add_nodes_from(nodes)
        for node in nodes:
            for i in self.wires.out[node]:
                now = change.replaced.get(i, self.wires.wires[i])
                if now is not None:
                    graph.add_edge(now.tail, now.head, wire=now, number=i)
        for wire in change.added:
            if wire.tail in nodes:
                graph.add_edge(wire.tail, wire.head, wire=wire, number=None)
        return graph


def simple(graph: nx.MultiDiGraph, play: Play, box: int) -> Iterator[list[dict[str, object]]]:
    """Every simple path from where the signal starts to a box, as what the graph says of its wires."""
    if box not in graph:
        return
    near = nx.ancestors(graph, box) | {box}
    for start in play.starts & near:
        inside = graph.subgraph(near - (play.starts - {start})).copy()
        for path in nx.all_simple_edge_paths(inside, start, box):
            yield [inside.edges[edge] for edge in path]


def arriving(graph: nx.MultiDiGraph, play: Play, box: int) -> State:
    """What arrives at a box by every open path from where the signal starts."""
    parts = [
        along([w["wire"] for w in wires])
        for wires in simple(graph, play, box)
        if all(passes(play, w["wire"]) and w["number"] not in play.closed for w in wires)
    ]
    return joined(parts) if len(parts) > 1 else tuple(parts)


def passes(play: Play, wire: Wire) -> bool:
    """An open fader, or none."""
    if not wire.gate:
        return True
    return wire.tail in play.opened and not (wire.gate == play.down and wire.pick == "post")


def along(wires: list[Wire]) -> tuple[float, bool, float, tuple[object, ...]]:
    """Gain, polarity, delay and filters of a path."""
    return (
        sum(w.gain for w in wires),
        sum(w.flip for w in wires) % 2 == 1,
        round(sum(w.delay for w in wires), 6),
        tuple(sorted(c for w in wires for c in w.cuts)),
    )


def rounded(state: State) -> State:
    """Without the noise of adding in another order."""
    return tuple(sorted((round(g, 2), f, round(d, 5), c) for g, f, d, c in state))
