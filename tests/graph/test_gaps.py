"""Loose ends joined to gaps; sides of the house; reach in loops, with networkx as oracle."""

from __future__ import annotations

from pathlib import Path

import networkx as nx
import pytest

from helpers.check_pages import compile_text
from rigbook.graph.rig import Rig
from rigbook.graph.sides import side_of

HEAD = "plan: 1\nbuilds-on: common/pair.yaml\n"


def rig_of(text: str, folder: Path) -> Rig:
    compiled = compile_text(text, folder)
    assert compiled.rig is not None
    return compiled.rig


def test_a_good_rig_has_no_gap(tmp_path: Path) -> None:
    assert rig_of("plan: 1\nbuilds-on: common/house.yaml\n", tmp_path).gaps == ()


def test_two_missing_cables_are_two_gaps_each_with_its_own_side(tmp_path: Path) -> None:
    rig = rig_of(HEAD + "changes: {Struck: {remove: [box/out 7 -> top-left, box/out 8 -> top-right]}}\n", tmp_path)
    assert {(g.start.side, g.wants[0].ends) for g in rig.gaps if g.start} == {
        ("left", ("top-left",)), ("right", ("top-right",)),
    }  # fmt: skip


def test_a_feed_that_hangs_is_not_offered_to_a_wedge(tmp_path: Path) -> None:
    text = (
        "units: {wedge: powered-wedge-12}\nbuses: {tape: {role: record}}\noutputs: {tape: box/out 1}\n"
        "changes: {Recorded: {buses: {main: {to: tape}}}}\n"
    )
    gaps = rig_of(HEAD + text, tmp_path).gaps
    assert [(g.start.node if g.start else "", [w.ends for w in g.wants]) for g in gaps] == [
        ("box/out 1", []), ("", [("wedge",)]),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "side"),
    [
        ("a: {kind: powered-top-12, side: left, at: 3 m right}", "left"),
        ("a: {kind: powered-top-12, at: 3 m left}", "left"),
        ("a: {kind: powered-top-12, at: 0.2 m left 1 m out}", "centre"),
        ("top-left: {kind: powered-top-12, at: 3 m right}", "right"),
        ("top-right: powered-top-12", "right"),
        ("top-r: powered-top-12", "right"),
        ("stage-left: powered-top-12", ""),
        ("left-right: powered-top-12", ""),
        ("outright: powered-top-12", ""),
        ("a: {kind: powered-top-12, at: corner}", "right"),
    ],
)
def test_sides(unit: str, side: str, tmp_path: Path) -> None:
    text = f"plan: 1\nplaces: {{corner: 4 m right 2 m back}}\nunits:\n  {unit}\n"
    plan = rig_of(text, tmp_path).plan
    assert side_of(plan, next(iter(plan.units.values()))) == side


def test_reach_in_a_ring_whose_names_run_against_the_signal(tmp_path: Path) -> None:
    names = ["z", "y", "x", "w", "v", "u"]
    sends = ", ".join(f"{a}: {{role: effects, to: {b}}}" for a, b in zip(names, [*names[1:], names[0]], strict=True))
    change = "changes: {Ring: {inputs: {1: {to: [main, x]}}, buses: {v: {to: [u, main]}}}}"
    rig = rig_of(f"{HEAD}buses: {{{sends}}}\n{change}\n", tmp_path)
    for node in rig.graph:
        above, below = nx.ancestors(rig.graph, node) | {node}, nx.descendants(rig.graph, node) | {node}
        assert set(rig.origins_of(node)) == above & set(rig.origins)
        assert set(rig.ends_of(node)) == below & set(rig.ends)
