"""The signal-flow drawing: from 6 to 400 devices no two blocks overlap, no line touches a block or its words, and the
same rig gives the same drawing. Modules signal_flow, layout, blocks, svg.
"""

from __future__ import annotations

import json
import re
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigbook.handbook.book import Book
from rigbook.handbook.drawings import flow_strips, signal_flow, svg
from rigbook.handbook.drawings import layout as lay
from rigbook.handbook.drawings.blocks import Block, Bundle, Sheet, Wire, connections, rows, sheet_of
from rigbook.handbook.make import make
from rigbook.handbook.pages import front
from rigbook.handbook.themes import find_theme

Box = tuple[float, float, float, float]


def made(count: int, joins: list[tuple[int, int]]) -> Sheet:
    """A sheet of `count` devices with names of different lengths, joined as said."""
    sheet = Sheet()
    for i in range(count):
        key = f"device-{i}" + "-with-a-long-name" * (i % 5 == 0)
        under = f"{i} in, {i} out" if i % 3 else ""
        sheet.blocks[key] = Block(key, key, "speaker", "patch.html", under=under)
    names = list(sheet.blocks)
    for a, b in dict.fromkeys(joins):
        start, end = names[a % count], names[b % count]
        if start != end:
            sheet.bundles.append(Bundle(start, end, "line", [len(sheet.wires)]))
            sheet.wires.append(Wire(start, f"{start}/out", end, f"{end}/in", "line"))
            sheet.blocks[start].outs[f"{start}/out"] = ("out", "")
            sheet.blocks[end].ins[f"{end}/in"] = ("in", "")
    return sheet


@st.composite
def sheets(draw: st.DrawFn, least: int = 6, most: int = 60) -> Sheet:
    """Random rigs, rings and all."""
    count = draw(st.integers(least, most))
    number = st.integers(0, count - 1)
    return made(count, draw(st.lists(st.tuples(number, number), min_size=count // 2, max_size=count * 2)))


def chained(count: int) -> Sheet:
    """A large rig as rigs are: sources to a desk, from there to amplifiers with four boxes each, one line back."""
    amps = count // 6
    joins = [(i, 0) for i in range(1, amps)] + [(0, amps + i) for i in range(amps)]
    joins += [(amps + i % amps, i) for i in range(2 * amps, count)] + [(amps, 1)]
    return made(count, joins)


def boxes_of(sheet: Sheet, layout: lay.Layout) -> dict[str, Box]:
    out = {}
    for key, block in sheet.blocks.items():
        c, item = layout.column[key], layout.items[key]
        out[key] = (layout.lefts[c], item.y, layout.lefts[c] + layout.widths[c], item.y + lay.height(block))
    return out


def points(d: str) -> list[tuple[float, float]]:
    """Points along a path of M, H and C, close enough to see it touch a block."""
    out: list[tuple[float, float]] = []
    for command, text in re.findall(r"([MHC])([^MHC]*)", d):
        n = [float(v) for v in text.split()]
        if command == "M":
            out.append((n[0], n[1]))
        elif command == "H":
            x, y = out[-1]
            out += [(x + (n[0] - x) * t / 8, y) for t in range(1, 9)]
        else:
            (x0, y0), (x1, y1, x2, y2, x3, y3) = out[-1], n
            for t in (i / 16 for i in range(1, 17)):
                u = 1 - t
                weights = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
                out.append((sum(w * x for w, x in zip(weights, (x0, x1, x2, x3), strict=True)),
                            sum(w * y for w, y in zip(weights, (y0, y1, y2, y3), strict=True))))
    return out


def faults(sheet: Sheet) -> list[str]:
    """Blocks that overlap, lines that pass over a block, words that stick out."""
    layout = lay.lay_out(sheet)
    boxes = boxes_of(sheet, layout)
    found = []
    columns: dict[float, list[Box]] = {}
    for box in boxes.values():
        columns.setdefault(box[0], []).append(box)
    for (left, column), (right, _) in pairwise(sorted(columns.items())):
        found += [f"columns at {left} and {right} overlap" for box in column if box[2] > right]
    for column in columns.values():
        column.sort(key=lambda b: b[1])
        found += [f"blocks at {a[1]} and {b[1]} overlap" for a, b in pairwise(column) if a[3] > b[1] + 0.1]
    for block in sheet.blocks.values():
        wide = boxes[block.key][2] - boxes[block.key][0]
        if svg.wide(block.title, lay.TITLE, True) > wide - 19 or svg.wide(block.under, lay.SMALL) > wide - 19:
            found.append(f"the words of {block.key} stick out")
    for path, bundle in zip(signal_flow.routes(sheet, layout), sheet.bundles, strict=True):
        for x, y in points(path):
            if not (0 <= x <= layout.width and 0 <= y <= layout.height):
                found.append(f"{bundle.start} -> {bundle.end} leaves the sheet")
            for left, c in columns.items():
                if left + 0.2 < x < c[0][2] - 0.2:
                    found += [f"{bundle.start} -> {bundle.end} passes over a block"
                              for box in c if box[1] + 0.2 < y < box[3] - 0.2]
    return found


@settings(max_examples=60, deadline=None)
@given(sheets())
def test_nothing_overlaps_and_no_line_crosses_a_label(sheet: Sheet) -> None:
    assert faults(sheet) == []


@settings(max_examples=4, deadline=None)
@given(sheets(300, 400))
def test_nor_do_they_with_hundreds_of_devices(sheet: Sheet) -> None:
    assert faults(sheet) == []


@pytest.mark.parametrize("count", [6, 12, 50, 150, 400])
def test_a_rig_of_any_size(count: int) -> None:
    sheet = chained(count)
    assert faults(sheet) == []
    layout = lay.lay_out(sheet)
    assert lay.crossings(layout) == 0, "a tree can be drawn without crossings"
    assert layout.height < count * 44, "no column is longer than all devices in one"


@settings(max_examples=20, deadline=None)
@given(sheets())
def test_the_same_rig_gives_the_same_drawing(sheet: Sheet) -> None:
    one, two = lay.lay_out(sheet), lay.lay_out(sheet)
    assert signal_flow.drawn(sheet, one, "x") == signal_flow.drawn(sheet, two, "x")
    assert signal_flow.data(sheet, one) == signal_flow.data(sheet, two)


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=9), st.data())
def test_heights_keep_their_order_and_their_gaps(want: list[float], data: st.DataObject) -> None:
    gaps = data.draw(st.lists(st.floats(1, 30), min_size=len(want) - 1, max_size=len(want) - 1))
    got = lay.spread(want, gaps)
    assert all(b - a >= g - 1e-9 for a, b, g in zip(got, got[1:], gaps, strict=False))
    assert sum(got) == pytest.approx(sum(want)), "least squares keep the mean"
    kept = lay.spread(got, gaps)
    assert kept == pytest.approx(got), "what fits is left alone"


def test_the_shipped_rig(hall) -> None:
    sheet = sheet_of(hall.rig)
    assert faults(sheet) == []
    assert {b.end for b in sheet.blocks.values()} - {""} == set(hall.rig.ends)
    for key, wires in sheet.ways.items():
        assert wires, f"{key} is fed"
        assert any(sheet.wires[w].end == key for w in wires)
    top = {(sheet.wires[w].start_node, sheet.wires[w].end_node) for w in sheet.ways["top-left"]}
    assert top == {
        ("desk bus main left", "box/out 7"), ("box/out 7", "amp-tops/in A"), ("amp-tops/out A", "top-left/in")}


def test_what_the_script_is_given_names_every_socket(hall) -> None:
    sheet = sheet_of(hall.rig)
    data = json.loads(signal_flow.data(sheet, lay.lay_out(sheet)))
    assert len(data["rows"]) == len(sheet.blocks)
    for a, row_a, b, row_b in data["wires"]:
        assert data["rows"][a][row_a] != ["", "", "", ""]
        assert data["rows"][b][row_b] != ["", "", "", ""]
    words = {cell for block in data["rows"] for row in block for cell in row}
    assert {"13 Lead vocal", "main left", "in 13", "out 7"} <= words
    assert sorted(w for _, wires in data["bundles"] for w in wires) == list(range(len(data["wires"])))


def test_a_socket_that_a_signal_goes_through_is_one_row() -> None:
    block = Block("box in", "box", "stage box", "", ins={"box/in 1": ("in 1", "")}, outs={"box/in 1": ("in 1", "")})
    assert rows(block) == [("box/in 1", "box/in 1")]


def test_the_drawing_in_words_is_the_whole_drawing(hall) -> None:
    flow = front.page(Book.of(hall, "crew")).data.flow
    sheet = sheet_of(hall.rig)
    assert len(flow.joined) == len(list(connections(sheet))) == flow.drawing.count('class="wire')
    assert sum(j.number for j in flow.joined) == len(sheet.wires)
    assert {j.start.text for j in flow.joined} | {j.end.text for j in flow.joined} == {
        b.title for b in sheet.blocks.values()}


def test_the_way_to_a_speaker_on_the_routing_page_leads_to_the_drawing(hall) -> None:
    files = make(hall, "crew", find_theme("plain"))
    asked = set(re.findall(r'href="index\.html#(flow-[^"]+)"', files["routing.html"].decode()))
    assert len(asked) == len(hall.rig.ends)
    assert asked <= set(re.findall(r'id="(flow-[^"]+)"', files["index.html"].decode()))


@pytest.mark.parametrize("count", [60, 150, 400])
def test_a_drawing_too_tall_for_one_sheet_is_printed_in_strips(count: int) -> None:
    """Each block is whole on some strip, each strip fits its sheet, and the type is large enough to be read."""
    sheet = chained(count)
    layout = lay.lay_out(sheet)
    got = flow_strips.strips(sheet, layout, "Flow")
    whole = min(267 / layout.width, 148 / layout.height) * flow_strips.TYPE
    assert bool(got) == (whole < 1.5), "only where one sheet on its side would not do"
    views = [[float(v) for v in re.findall(r'viewBox="([^"]+)"', s)[0].split()] for s in got]
    for _, _, wide, high in views:
        assert 180 / wide * flow_strips.TYPE > whole
        assert 180 / wide * high <= 226
    for box in boxes_of(sheet, layout).values() if got else ():
        assert any(y <= box[1] and box[3] <= y + high for _, y, _, high in views)
    assert all(block.title in "".join(got) for block in sheet.blocks.values()) or not got


def test_the_shipped_rig_is_printed_whole(hall) -> None:
    files = make(hall, "crew", find_theme("plain"))
    assert b'class="flow-strips"' not in files["index.html"]
