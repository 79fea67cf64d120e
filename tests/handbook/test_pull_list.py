"""The pull list: counts by kind, cables against stock, and the same shortages as the checks find."""

from __future__ import annotations

import pytest

from helpers.tools import ROOT
from rigbook.compute.stock import shortages
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.pages.pull_list import PullList, page
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

PLAN = """\
plan: 1
show: Store
units:
  desk: desk-16
  box: stage-box-16
  top-left, top-right: {kind: powered-top-12, stand: speaker-stand}
  top-spare: {kind: powered-top-12, spare: yes}
  theirs: {kind: player-2, owner: band, returns: 2027-02-08}
inputs:
  1: {name: Fiddle, from: box/in 5, mic: condenser-clip, phantom: yes, source: instrument, cable: 12 m, to: main}
  2: {name: Voice, from: box/in 6, mic: dynamic-vocal, source: vocal, to: main}
buses: {main: {stereo: yes}}
outputs: {main left: box/out 1, main right: box/out 2}
wiring:
  network: ["desk/net A -> box/net A, 30 m"]
  xlr: ["box/out 1 -> top-left/in, 8 m", "box/out 2 -> top-right/in, 14 m"]
stock:
  xlr: {lengths: [10 m, 15 m, 5 m, 3 m], join: 2}
  network: {lengths: 20 m}
  condenser-clip: 0
"""


@pytest.fixture
def data(book) -> PullList:
    return page(book(PLAN)).data


def test_kinds_are_counted_with_spares_names_and_weight(data: PullList) -> None:
    units = next(s for s in data.sections if s.key == "units")
    tops = next(r for r in units.rows if "top" in r.title)
    assert (tops.number, tops.spares) == (3, 1)
    assert [n.text for n in tops.names] == ["top-left", "top-right", "top-spare (spare)"]
    assert tops.weight == "54 kg"  # 18 kg each, as the gear library says
    stands = next(s for s in data.sections if s.key == "stands")
    assert [(r.number, [n.text for n in r.names]) for r in stands.rows] == [(2, ["top-left", "top-right"])]
    assert [(o, u.text) for o, u, _ in data.brought] == [("band, goes back Monday 8 February 2027", "theirs")]


def test_spares_are_what_the_plan_calls_so_and_what_the_store_keeps(book) -> None:
    data = page(book(PLAN + "  dynamic-vocal: 3\n")).data
    assert [(s.title, [n.text for n in s.names], s.store) for s in data.spares] == [
        ("powered top, 12 inch and horn", ["top-spare"], 0), ("dynamic vocal microphone, cardioid", [], 2)]


def test_each_run_takes_its_piece(data: PullList) -> None:
    """By hand: one run of three goes without in any way; 15 m for 14 m and 10 m for 8 m does it without a joint."""
    xlr = next(c for c in data.cables if "XLR" in c.title)
    assert xlr.judged and xlr.proven and xlr.number == 4
    runs = {r.what[-1].text: (r.length, r.pieces, r.over) for r in xlr.runs}
    clean = {k: tuple(t.replace("\u00a0", " ") for t in v) for k, v in runs.items()}
    assert clean["top-right/in"] == ("14 m", "15 m", "1 m")
    assert clean["top-left/in"] == ("8 m", "10 m", "2 m")
    assert clean["1 Fiddle"] == ("12 m", "nothing left", "")
    assert clean["2 Voice"][:2] == ("", "5 m"), "a run without a length gets the longest that is left"
    assert [(length.number, length.text.replace("\u00a0", " ")) for length in xlr.lengths] == [
        (1, "15 m"), (1, "10 m"), (1, "5 m")]


def test_page_and_checks_say_the_same(book) -> None:
    made: Book = book(PLAN)
    data = page(made).data
    found = [f for f in made.compiled.findings if f.check.endswith("-short-of-stock")]
    assert {next(iter(f.objects)) for f in found} == {s.owned.kind for s in shortages(made.plan)}
    assert sum(s.number for s in data.short) == sum(len(s.lacking) for s in shortages(made.plan)) == 3


def test_without_a_stock_nothing_is_judged(book) -> None:
    data = page(book(PLAN.partition("stock:")[0])).data
    assert not data.judged and not data.short
    assert all(not c.judged and c.lengths for c in data.cables)


def test_only_the_crew_has_it() -> None:
    compiled = compile_plan(ROOT / "shows/rural-hall/reel-night.yaml")
    for view in ("guest", "public"):
        files = make(compiled, view, find_theme("plain"))
        assert "pull-list.html" not in files
    text = make(compiled, "crew", find_theme("plain"))["pull-list.html"].decode()
    assert "8 joints" not in text and "joints" in text and "%(" not in text


def test_cables_are_weighed_by_the_pieces_that_are_pulled(data: PullList) -> None:
    """15 m, 10 m and 5 m of microphone cable at 50 g a metre; a run without a piece weighs as it is long."""
    xlr = next(c for c in data.cables if c.anchor == "kind-xlr")
    lacking = [float(r.length.split()[0]) for r in xlr.runs if r.lacking]
    assert xlr.weight == f"{(15 + 10 + 5 + sum(lacking)) * 0.05:g} kg"
