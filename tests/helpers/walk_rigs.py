"""Rigs for the tests of the walk test, without the checks, and a listener who knows nothing of the engine.

The listener is the oracle: it applies a fault to a networkx graph, walks every simple path from the signal to each box
(`networkx.all_simple_edge_paths`, a general-purpose library) and adds up what the paths do. The engine works on
numbered wires, from the fault on only, and never looks at paths.
"""

from __future__ import annotations

from pathlib import Path

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
from rigbook.walk.hear import judge, judge_pair
from rigbook.walk.plays import Play
from rigbook.walk.propagate import joined
from rigbook.walk.table import FADER, HEAR, PAIR, Seen
from rigbook.walk.trial import METER, Trial
from rigbook.walk.wires import Change, Wire, Wires


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


def with_fault(wires: Wires, change: Change) -> nx.MultiDiGraph:
    """The wires as a graph, a fault put in."""
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(range(len(wires.names)))
    for i, wire in enumerate(wires.wires):
        now = change.replaced.get(i, wire)
        if now is not None:
            graph.add_edge(now.tail, now.head, wire=now, number=i)
    for wire in change.added:
        graph.add_edge(wire.tail, wire.head, wire=wire, number=None)
    return graph


def arriving(graph: nx.MultiDiGraph, play: Play, box: int) -> State:
    """What arrives at a box by every open path from where the signal starts."""
    near = nx.ancestors(graph, box) | {box}
    parts = []
    for start in play.starts & near:
        inside = graph.subgraph(near - (play.starts - {start}))
        for path in nx.all_simple_edge_paths(inside, start, box):
            wires = [inside.edges[edge] for edge in path]
            if all(passes(play, w["wire"]) and w["number"] not in play.closed for w in wires):
                parts.append(along([w["wire"] for w in wires]))
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


def listen(trial: Trial, change: Change, play: Play) -> dict[Seen, str]:
    """What a listener says of every box and pair of a play with a fault; the empty text where it is as planned."""
    now, plan = with_fault(trial.wires, change), with_fault(trial.wires, Change())
    ends = dict(trial.ends) | dict.fromkeys(play.also, METER)
    there = {b: rounded(arriving(now, play, b)) for b in ends}
    before = {b: rounded(arriving(plan, play, b)) for b in ends}
    kind = FADER if play.down else HEAR
    out = {
        Seen(kind, play.step, trial.wires.names[b]): judge(there[b], before[b], box, play.coarse or box is METER)
        for b, box in ends.items()
    }
    for pair in play.pairs:
        a, b = trial.wires.index[pair.a], trial.wires.index[pair.b]
        out[Seen(PAIR, play.step, f"{pair.a}|{pair.b}")] = judge_pair(
            (there[a], there[b]), (before[a], before[b]), pair.low_hz
        )
    return out


def rounded(state: State) -> State:
    """Without the noise of adding in another order."""
    return tuple(sorted((round(g, 2), f, round(d, 5), c) for g, f, d, c in state))
