"""Needs against stock: by hand, and against the largest matching that networkx finds."""

from __future__ import annotations

from pathlib import Path

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from helpers.check_pages import compile_text
from rigbook.compute.stock import Need, Owned, _lacking, needs, shortages
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


@given(wanted=st.lists(st.integers(1, 9), max_size=7), have=st.lists(st.integers(1, 9), max_size=7))
def test_as_few_cables_lack_as_can_be(wanted: list[int], have: list[int]) -> None:
    stock = Owned("xlr", NOWHERE, 0, sorted(map(float, have)))
    lacking = _lacking(stock, [Need("xlr", str(i), NOWHERE, float(m)) for i, m in enumerate(wanted)])
    graph = nx.Graph()
    left = [("need", i) for i in range(len(wanted))]
    graph.add_nodes_from(left)
    graph.add_nodes_from(("piece", j) for j in range(len(have)))
    graph.add_edges_from(
        (("need", i), ("piece", j)) for i, m in enumerate(wanted) for j, p in enumerate(have) if p >= m
    )
    pairs = len(nx.bipartite.maximum_matching(graph, top_nodes=left)) // 2
    assert len(lacking) == len(wanted) - pairs
