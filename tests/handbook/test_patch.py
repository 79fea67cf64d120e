"""The patch page, and the lists that it is made of: devices, input_list, cable_list, signals."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigbook.handbook.book import Book
from rigbook.handbook.devices import Device, folded
from rigbook.handbook.make import make
from rigbook.handbook.pages.patch import Patch, page
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan


@pytest.fixture
def patch(book) -> Patch:
    return page(book()).data


def device(patch: Patch, name: str) -> Device:
    return next(d for d in patch.devices if d.name == name)


def test_inputs_say_source_socket_and_preamp(patch: Patch) -> None:
    ((desk, (fiddle, keys)),) = patch.desks
    assert desk == "", "one desk needs no name"
    assert (fiddle.number, fiddle.name, [s.text for s in fiddle.plugged]) == ("1", "Fiddle", ["box/in 5"])
    assert fiddle.switches.replace("\u00a0", " ") == "48 V, low cut 120 Hz"
    assert [s.text for s in keys.plugged] == ["desk/line 3", "desk/line 4"]
    assert keys.switches == "stereo"


def test_inputs_by_socket_follow_the_sockets(patch: Patch) -> None:
    assert [(r.socket.text, r.name) for _, rows in patch.by_socket for r in rows] == [
        ("desk/line 3", "Keys"), ("desk/line 4", "Keys"), ("box/in 5", "Fiddle")]


def test_a_cable_is_seen_from_both_ends(patch: Patch) -> None:
    out = next(r for r in device(patch, "box").rows if r.port == "out 1")
    into = next(r for r in device(patch, "amp").rows if r.port == "in A")
    assert (out.ends[0].arrow, out.ends[0].far.text, out.ends[0].label.text) == ("to", "amp/in A", "W7")
    assert (into.ends[0].arrow, into.ends[0].far.text, into.ends[0].label.text) == ("from", "box/out 1", "W7")
    assert out.carries == into.carries == "main left"
    assert [p.text for p in out.patched] == ["bus main left"]


def test_a_cable_bears_the_label_of_the_plan_else_its_code(patch: Patch) -> None:
    labels = {r.label for k in patch.kinds for r in k.rows}
    assert "W7" in labels
    assert all(len(label) == 7 for label in labels - {"W7"})


def test_cables_are_counted_by_kind_and_length(patch: Patch) -> None:
    totals = {k.rows[0].start[0].text: k.totals for k in patch.kinds}
    assert totals["box/out 1"] == (("2 m", 2), ("10 m", 1))
    assert totals["amp/out B"] == (("", 1), ("15 m", 1)), "a length that is not given is not made up"


def test_one_tick_for_one_plug(patch: Patch) -> None:
    ((_, (fiddle, _)),) = patch.desks
    assert next(r for r in device(patch, "box").rows if r.port == "in 5").tick == fiddle.tick


def test_free_sockets_are_folded_to_runs(patch: Patch) -> None:
    assert device(patch, "box").free.startswith("in 1–4, in 6–16")
    assert folded(["in 1", "in 2", "in 4", "out A", "out B", "link"]) == "in 1–2, in 4, out A–B, link"


def test_every_place_is_named_once_and_every_name_leads_to_its_place(book) -> None:
    b: Book = book()
    patch = page(b).data
    anchors = [a for d in patch.devices for a in (d.anchor, *(r.anchor for r in d.rows))]
    anchors += [r.anchor for _, rows in patch.desks for r in rows] + [r.anchor for k in patch.kinds for r in k.rows]
    assert len(anchors) == len(set(anchors))
    for node, data in b.rig.graph.nodes(data=True):
        if data["kind"] == "socket" and b.rig.graph.degree(node) and (node in b.plugged or node in b.anchored):
            assert b.href("socket", node).partition("#")[2] in anchors


def test_a_source_cabled_from_a_unit_is_named(book) -> None:
    plan = """\
plan: 1
show: Cabled
units: {desk: desk-16, pc: player-2, top: powered-top-12}
inputs: {1: {name: Music, from: desk/line 1, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["pc/out A -> desk/line 1, 2 m", "desk/out 1 -> top/in"]}
"""
    b = book(plan)
    if "unknown-name" in {f.check for f in b.compiled.findings}:
        pytest.skip("the gear library has no such player")
    ((_, (music,)),) = page(b).data.desks
    assert music.source == "pc"


def test_a_source_that_comes_by_cable_leads_to_its_unit(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "plan: 1\nshow: Supper\nunits: {desk: desk-16, player: player-2, left: powered-top-12}\n"
        "inputs: {1: {name: Music, from: desk/line 1+2, source: playback, to: main}}\nbuses: {main: {}}\n"
        "outputs: {main: desk/out 1}\nwiring: {xlr: [player/out 1-2 -> desk/line 1-2, desk/out 1 -> left/in]}\n",
        "utf-8",
    )
    page = make(compile_plan(plan, tmp_path), "crew", find_theme("plain"))["patch.html"].decode()
    row = page[page.index('id="channel-desk-1"') :]
    assert 'href="patch.html#unit-player"' in row[: row.index("</tr>")]
