"""The routing page, its matrices and its traces."""

from __future__ import annotations

import pytest

from rigbook.handbook import matrices
from rigbook.handbook.matrices import COLUMNS, Column, Row
from rigbook.handbook.page import Link
from rigbook.handbook.pages.routing import Routing, page


@pytest.fixture
def routing(book) -> Routing:
    return page(book()).data


def test_sends_stand_in_the_matrix_with_what_departs_from_the_bus(routing: Routing) -> None:
    (block,) = routing.desks[0].sends
    assert [(c.head.text, c.sub) for c in block.columns] == [("main", "post"), ("mix", "pre")]
    assert [(r.mark, r.head.text, r.cells) for r in block.rows] == [
        ("1", "Fiddle", ("0", "−6 post")), ("2", "Keys", ("0 left", "off"))]


def test_each_leg_leaves_by_its_socket(routing: Routing) -> None:
    (block,) = routing.desks[0].outputs
    assert [c.head.text for c in block.columns] == ["box/out 1", "box/out 2", "box/out 3"]
    assert [(r.head.text, r.cells) for r in block.rows] == [
        ("main left", ("post", "", "")), ("main right", ("", "post", "")), ("mix", ("", "", "post"))]


def test_a_bus_says_what_it_is_for_and_what_it_reaches(routing: Routing) -> None:
    main, mix = routing.desks[0].buses
    assert (main.width, main.pick, [b.text for b in main.reaches]) == ("stereo", "post", ["top-left", "top-right"])
    assert (mix.role, mix.pick, [o.text for o in mix.outputs]) == ("monitor for Fiddle", "pre", ["mix"])
    assert main.processing.replace("\u00a0", " ") == "low cut 100 Hz Linkwitz-Riley 24 dB/oct"


def test_the_way_to_a_speaker_in_steps(routing: Routing) -> None:
    left = next(b for b in routing.boxes if b.name == "top-left")
    (way,) = left.ways
    assert way.start.text == "bus main left"
    assert [s.place.text for s in way.steps] == ["box/out 1", "amp/in A", "amp/out A", "top-left/in"]
    assert [s.by for s in way.steps][1:2] == ["microphone cable, XLR ends, 2 m"]
    assert [c.text for c in way.channels] == ["1 Fiddle", "2 Keys"]
    right = next(b for b in routing.boxes if b.name == "top-right")
    assert [c.text for c in right.ways[0].channels] == ["1 Fiddle"], "Keys are sent to the left alone"


def test_where_an_input_is_heard(routing: Routing) -> None:
    ((_, (fiddle, keys)),) = routing.inputs
    assert [b.text for b in fiddle.heard] == ["top-left", "top-right", "wedge"]
    assert [b.text for b in keys.heard] == ["top-left"]
    assert [(bus.text, at) for bus, at in fiddle.sends] == [("main", "0 dB post"), ("mix", "−6 dB post")]
    assert [s.place.text for s in keys.way] == ["desk/line 3", "desk/line 4"]


def test_traces_agree_with_the_graph(hall, book) -> None:
    from rigbook.handbook.book import Book

    b = Book.of(hall, "crew")
    for box in page(b).data.boxes:
        feeds = {f"bus {data['output'].name}" for _, data in b.rig.feeds_of_box[box.name]}
        assert {w.start.text for w in box.ways} == feeds


def test_a_wide_matrix_is_cut_into_blocks_that_fit_a_sheet() -> None:
    columns = [Column(Link(f"b{i}", ""), "") for i in range(COLUMNS * 2 + 3)]
    rows = [Row("", Link("a", ""), ("0",) * len(columns)), Row("", Link("b", ""), ("0",) + ("",) * (len(columns) - 1))]
    blocks = list(matrices.blocks(columns, rows))
    assert [len(b.columns) for b in blocks] == [COLUMNS, COLUMNS, 3]
    assert [len(b.rows) for b in blocks] == [2, 1, 1], "a row without an entry stands in the first block only"
