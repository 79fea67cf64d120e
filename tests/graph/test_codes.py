"""Short codes of cables: unique, from the ends alone, the plan's own label first."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.check_pages import compile_text
from helpers.tools import ROOT
from rigbook.graph import codes as module
from rigbook.graph.codes import ALPHABET, bare, codes
from rigbook.graph.find import find_node
from rigbook.pipeline import compile_plan

PLAN = """
plan: 1
show: Codes
units: {desk: desk-24, box: stage-box-16, amp: amplifier-2x500, top, fill: {kind: top-12}}
wiring:
  xlr: [%s]
  speaker-2.5-mm2: [amp/out A -> top, "amp/out B -> fill, label W7"]
  network: [desk/net A -> box/net A]
"""
LINES = [f"box/out {n} -> desk/line {n}" for n in range(1, 17)]


def made(lines: list[str], folder: Path) -> dict[str, str]:
    plan = compile_text(PLAN % ", ".join(lines), folder).plan
    assert plan is not None
    return dict(codes(plan))


def test_the_letter_says_what_it_carries_and_a_label_of_ones_own_stands(tmp_path: Path) -> None:
    got = made(["desk/out 1 -> amp/in A"], tmp_path)
    assert got["amp/out B -> fill/in"] == "W7"
    assert [c[0] for s, c in got.items() if c != "W7"] == ["L", "S", "N"]
    for code in got.values():
        assert code == "W7" or (len(bare(code)) == 6 and set(bare(code)[1:]) <= set(ALPHABET))


@settings(max_examples=25, deadline=None)
@given(lines=st.lists(st.sampled_from(LINES), unique=True))
def test_no_code_changes_because_of_another_cable(tmp_path_factory: pytest.TempPathFactory, lines: list[str]) -> None:
    """In any order, with any others."""
    every = made(LINES, tmp_path_factory.mktemp("every"))
    some = made(lines, tmp_path_factory.mktemp("some"))
    assert some.items() <= every.items()
    assert len(set(every.values())) == len(every)


def test_the_direction_does_not_matter(tmp_path: Path) -> None:
    one = made(["desk/out 1 -> amp/in A"], tmp_path)
    other = made(["amp/in A -> desk/out 1"], tmp_path)
    assert one["desk/out 1 -> amp/in A"] == other["amp/in A -> desk/out 1"]


def test_codes_that_clash_grow_and_keep_their_beginning(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = made(LINES, tmp_path)
    monkeypatch.setattr(module, "LENGTH", 1)
    got = made(LINES, tmp_path)
    assert len(set(got.values())) == len(got)
    assert any(len(bare(c)) > 2 for c in got.values())
    assert {bare(got[s])[:2] for s in got} == {bare(before[s])[:2] for s in before}


def test_two_cables_with_one_label_get_codes(tmp_path: Path) -> None:
    got = made(['"desk/out 1 -> amp/in A, label X"', '"desk/out 2 -> amp/in B, label x"'], tmp_path)
    assert "X" not in got.values() and "x" not in got.values()


@pytest.mark.parametrize("show", ["festival/meadow", "rural-hall/reel-night", "chapel/lessons-and-songs"])
def test_every_code_of_the_shows_leads_to_its_cable(show: str) -> None:
    got = compile_plan(ROOT / "shows" / f"{show}.yaml")
    assert got.plan is not None and got.rig is not None
    for sheath, code in codes(got.plan).items():
        for typed in (code, bare(code).lower()):
            assert find_node(got.rig, typed).matches == (f"sheath {sheath}",)
