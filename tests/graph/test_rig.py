"""Answers of the rig against networkx's own algorithms, on random rigs.

Source of the oracle: networkx 3 (`descendants`, `all_simple_edge_paths`, `simple_cycles`), a general-purpose library.
"""

from __future__ import annotations

from pathlib import Path

import networkx as nx
from hypothesis import given, settings

from helpers.random_rigs import KINDS, RandomRig, rigs
from rigbook.findings.place import Source
from rigbook.graph.rig import Rig
from rigbook.language.read import read_plan
from rigbook.plan.compose import compose
from rigbook.plan.resolve import resolve
from rigbook.text.yaml_reader import read


def rig_of(text: str) -> Rig:
    """The rig of a plan text; it must have no finding of the reader."""
    source = Source("plan.yaml", text)
    node, wrong = read(source)
    record, more = read_plan(node)
    draft, found = compose([("plan.yaml", record)], {"plan.yaml": source})
    plan, last = resolve(draft)
    assert not [*wrong, *more, *found, *last], [*wrong, *more, *found, *last]
    return Rig.of(plan)


@settings(max_examples=25, deadline=None)
@given(rigs())
def test_reach_is_descendants(random: RandomRig) -> None:
    rig = rig_of(random.text)
    for node in rig.graph:
        below = nx.descendants(rig.graph, node) | {node}
        assert set(rig.ends_of(node)) == below & set(rig.ends)
        above = nx.ancestors(rig.graph, node) | {node}
        assert set(rig.origins_of(node)) == above & set(rig.origins)


@settings(max_examples=15, deadline=None)
@given(rigs(most_buses=3))
def test_paths_are_all_simple_paths(random: RandomRig) -> None:
    rig = rig_of(random.text)
    for start in rig.origins[:2]:
        for end in rig.boxes:
            mine = {tuple(p) for p in rig.paths(start, end, most=10_000)}
            assert mine == {tuple(p) for p in nx.all_simple_edge_paths(rig.graph, start, end)}


@settings(max_examples=15, deadline=None)
@given(rigs(most_buses=3))
def test_silent_if_cut_is_what_a_cut_graph_says(random: RandomRig) -> None:
    rig = rig_of(random.text)
    for sheath, edges in rig.by_cable().items():
        cut = rig.graph.copy()
        cut.remove_edges_from(edges)
        dead = {e for e in rig.ends if not any(o in nx.ancestors(cut, e) for o in rig.origins)}
        before = {e for e in rig.ends if not rig.origins_of(e)}
        assert set(rig.silent_if_cut(sheath)) == dead - before


def test_the_network_cable_carries_every_patched_socket() -> None:
    rig = rig_of(SMALL)
    assert len(rig.by_cable()["desk/net A -> box/net A"]) == 2
    assert rig.silent_if_cut("desk/net A -> box/net A") == ("top-a", "top-b")


def test_a_chain_goes_on_from_the_link() -> None:
    rig = rig_of(SMALL)
    (way,) = rig.paths("source desk 1", "top-b")
    assert [e[1] for e in way][-4:] == ["top-a/in", "top-a/link", "top-b/in", "top-b"]


def test_a_loop_is_found_and_reach_goes_round_it() -> None:
    looped = SMALL.replace(
        "  spk-cable:\n", "    - amp/link A -> amp/in B, 1 m\n    - amp/link B -> amp/in A, 1 m\n  spk-cable:\n"
    )
    rig = rig_of(looped)
    (ring,) = rig.loops
    assert {"amp/in A", "amp/link A", "amp/in B", "amp/link B"} == set(ring)
    assert [set(ring)] == [set(c) for c in nx.simple_cycles(nx.DiGraph(rig.graph))]
    assert rig.origins_of("amp/link B") == ("source desk 1",)


def test_every_node_and_edge_knows_its_place() -> None:
    rig = rig_of(SMALL)
    assert all(d["span"].file == "plan.yaml" for _, d in rig.graph.nodes(data=True))
    assert all(d["span"].file == "plan.yaml" for *_, d in rig.graph.edges(data=True))


@settings(max_examples=25, deadline=None)
@given(rigs())
def test_the_net_and_the_graph_are_the_same(random: RandomRig) -> None:
    rig = rig_of(random.text)
    assert list(rig.net.nodes.items()) == list(rig.graph.nodes(data=True))
    assert list(rig.net.edges()) == [((a, b, n), d) for a, b, n, d in rig.graph.edges(keys=True, data=True)]
    for node in rig.net:
        for mine, theirs in ((rig.edges_in, rig.graph.in_edges), (rig.edges_out, rig.graph.out_edges)):
            assert list(mine(node)) == [((a, b, n), d) for a, b, n, d in theirs(node, keys=True, data=True)]
        assert rig.net.reached([node], rig.net.succ) == {node, *nx.descendants(rig.graph, node)}
    assert rig.order == tuple(nx.topological_sort(rig.graph))


SMALL = (
    KINDS
    + """\
units: {desk: desk, box: box, amp: amp, "top-a, top-b": top}
inputs: {1: {name: Fiddle, from: box/in 1, mic: mic, to: main}}
buses: {main: {}}
outputs: {main: box/out 3}
wiring:
  net-cable: ["desk/net A -> box/net A, 30 m"]
  line-cable:
    - box/out 3 -> amp/in A, 2 m
  spk-cable:
    - amp/out A -> top-a -> top-b, 9 m
"""
)


def test_words(tmp_path: Path) -> None:
    from rigbook.graph.trace import trace

    lines = list(trace(rig_of(SMALL), "top-b"))
    assert lines[0].startswith("top-b")
    assert "      -> top-a/link    [link-through]" in lines
    assert any("fed by channel 1 Fiddle" in line for line in lines)
