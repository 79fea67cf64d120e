"""Needs against stock: by hand, and against the largest matching that networkx finds."""

from __future__ import annotations

from pathlib import Path

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_pages import compile_text
from rigbook.compute.stock import Need, Owned, needs, shortages, use, uses
from rigbook.findings.place import NOWHERE


def test_everything_that_comes_out_of_the_store(tmp_path: Path) -> None:
    got = compile_text(
        """
        plan: 1
        builds-on: common/desk.yaml
        units:
          top, spare-top: {kind: powered-top-12, spare: yes, stand: speaker-stand}
          keys: {kind: player-2, owner: band}
        inputs:
          1: {name: Voice, from: box/in 1, mic: dynamic-vocal, stand: boom-stand, cable: 10 m, to: main}
          3: {name: Keys, from: box/in 3+4, di: di-passive, line: keyboard, to: main}
        buses: {main: {}}
        wiring: {multicore-8: ["box/out 1-8 -> box-2/in 1-8, 5 m"], xlr: ["keys/out 1-2 -> box/in 9-10, 2 m"]}
        racks: {side: {kind: rack-4u}}
        """,
        tmp_path,
    )
    assert got.plan is not None
    found = [(n.kind, n.length_m) for n in needs(got.plan)]
    count = {kind: sum(k == kind for k, _ in found) for kind, _ in found}
    assert count == {
        "desk-16": 1, "stage-box-16": 1, "powered-top-12": 2, "speaker-stand": 2, "rack-4u": 1, "dynamic-vocal": 1,
        "boom-stand": 1, "di-passive": 2, "xlr": 1 + 2 + 2, "network": 1, "multicore-8": 1,
    }  # fmt: skip
    assert ("xlr", 10.0) in found and ("multicore-8", 5.0) in found


def test_kinds_that_the_stock_does_not_name_are_not_judged(tmp_path: Path) -> None:
    got = compile_text("plan: 1\nbuilds-on: common/pair.yaml\nstock: {xlr: 0}\n", tmp_path)
    assert got.plan is not None
    (short,) = shortages(got.plan)
    assert short.owned.kind == "xlr" and len(short.lacking) == len(short.needs) == 3


@settings(deadline=None)
@given(wanted=st.lists(st.integers(1, 9), max_size=7), have=st.lists(st.integers(1, 9), max_size=7))
def test_as_few_cables_lack_as_can_be(wanted: list[int], have: list[int]) -> None:
    stock = Owned("xlr", NOWHERE, 0, sorted(map(float, have)))
    lacking = use(stock, "xlr", [Need("xlr", str(i), NOWHERE, float(m)) for i, m in enumerate(wanted)]).lacking
    graph = nx.Graph()
    left = [("need", i) for i in range(len(wanted))]
    graph.add_nodes_from(left)
    graph.add_nodes_from(("piece", j) for j in range(len(have)))
    graph.add_edges_from(
        (("need", i), ("piece", j)) for i, m in enumerate(wanted) for j, p in enumerate(have) if p >= m
    )
    pairs = len(nx.bipartite.maximum_matching(graph, top_nodes=left)) // 2
    assert len(lacking) == len(wanted) - pairs


RUNS = """
plan: 1
room: {stage: 8 x 5 x 1 m}
builds-on: common/desk.yaml
places: {voice: 3 m left 1 m back 2 m up}
units: {top: {kind: powered-top-12, at: 4 m left 1 m out 2 m up}, sub: {kind: powered-sub-15, at: 1 m left 1 m out}}
racks: {side: {kind: rack-4u, at: 5 m right 2 m back 1 m up, front: {1: box}}}
inputs:
  1: {name: Voice, from: box/in 1, mic: dynamic-vocal, at: voice, to: main}
buses: {main: {}}
outputs: {main: box/out 1}
wiring: {xlr: [box/out 1 -> top/in, "top/link -> sub/in, 3 m"], network: [box/net B -> desk/net B]}
"""


def test_runs_without_a_length_are_reckoned_from_places(tmp_path: Path) -> None:
    """By hand: 8 m across, 1 m along, 1 m down to boards 1 m high, 2 m spare; the box stands where its rack does, on
    the boards. From there to a box before the stage: 9 m across, 3 m along, 1 m down, 2 m up, 2 m spare.
    """
    got = compile_text(RUNS, tmp_path)
    assert got.plan is not None
    found = {n.what: (n.length_m, n.reckoned) for n in needs(got.plan) if n.kind in ("xlr", "network")}
    assert found["Voice"] == (12.0, True)
    assert found["box/out 1 -> top/in"] == (17.0, True)
    assert found["top/link -> sub/in"] == (3.0, False)


def test_what_serves_each_need(tmp_path: Path) -> None:
    """By hand: 17 m takes 15 + 5, so that 12 m takes 10 + 5; two joints, two couplers, and the last 5 m for 3 m."""
    stock = "stock: {xlr: {lengths: [10 m, 4 x 5 m, 15 m], join: 2, joiner: xlr-turned-male}}\n"
    got = compile_text(RUNS + stock, tmp_path)
    assert got.plan is not None
    by_kind = {u.kind: u for u in uses(got.plan)}
    xlr = by_kind["xlr"]
    assert {g.need.what: g.pieces for g in xlr.given} == {
        "box/out 1 -> top/in": (5.0, 15.0), "Voice": (5.0, 10.0), "top/link -> sub/in": (5.0,)}
    assert xlr.left == (5.0,) and xlr.proven and not xlr.lacking
    assert [n.what for n in by_kind["xlr-turned-male"].needs] == ["Voice", "box/out 1 -> top/in"]
    assert by_kind["dynamic-vocal"].owned is None and not by_kind["dynamic-vocal"].lacking


def test_pieces_without_a_length_go_to_the_longest_run_that_found_none() -> None:
    wanted = [Need("xlr", str(m), NOWHERE, float(m)) for m in (4, 30, 20)] + [Need("xlr", "any", NOWHERE)] * 2
    got = use(Owned("xlr", NOWHERE, 4, [5.0, 8.0]), "xlr", wanted)
    assert {(g.need.what, g.pieces) for g in got.given} == {("4", (5.0,)), ("30", ()), ("20", ()), ("any", (8.0,))}
    assert [n.what for n in got.lacking] == ["any"] and not got.left and not got.left_loose


def test_a_di_of_two_channels_serves_a_pair(tmp_path: Path) -> None:
    got = compile_text(
        """
        plan: 1
        builds-on: common/desk.yaml
        inputs:
          1: {name: Keys, from: box/in 1+2, di: di-passive, line: keyboard, to: main}
          3: {name: Music, from: box/in 3+4, di: di-stereo-passive, line: laptop, to: main}
          5: {name: Bass, from: box/in 5, di: di-stereo-passive, line: bass-guitar, to: main}
        buses: {main: {}}
        """,
        tmp_path,
    )
    assert got.plan is not None
    kinds = [n.kind for n in needs(got.plan)]
    assert (kinds.count("di-passive"), kinds.count("di-stereo-passive"), kinds.count("xlr")) == (2, 2, 5)
