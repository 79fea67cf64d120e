"""The Stage page and its drawings: everything at its place, to scale, no label over another; the same in tables.
Modules stage, stage_plan, labels.
"""

from __future__ import annotations

import re
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from helpers.tools import ROOT
from rigbook.handbook.book import Book
from rigbook.handbook.drawings import labels
from rigbook.handbook.drawings.labels import Rect, Wish
from rigbook.handbook.drawings.stage_plan import Area, Scene, Symbol, Way, Window, columns, draw
from rigbook.handbook.make import make
from rigbook.handbook.pages import stage
from rigbook.handbook.stage_marks import LEAD, stage_of
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

SHOWS = [p for p in sorted((ROOT / "shows").rglob("*.yaml")) if "\nshow:" in "\n" + p.read_text("utf-8")]
PLACED = """\
plan: 1
show: Placed
room: {stage: 6 x 4 x 0.5 m}
places: {voice: 1 m back}
units:
  desk: {kind: desk-16, at: 12 m out}
  box: stage-box-16
  wedge: {kind: powered-wedge-12, at: 0.3 m out, aim: at voice}
  top: {kind: powered-top-12, at: 2 m left 1 m out 2 m up, aim: 10 deg right}
inputs:
  1: {name: Voice, from: box/in 1, mic: dynamic-vocal, stand: boom-stand, source: vocal, at: voice, to: [main, mix-1]}
  2: {name: Keys, from: box/in 2, di: di-active, line: keyboard, at: voice, to: main}
  3: {name: Talk, from: desk/line 3, mic: dynamic-vocal, source: speech, to: main}
buses: {main: {}, mix-1: {monitor-for: Voice}}
outputs: {main: box/out 1, mix-1: box/out 2}
wiring:
  network: ["desk/net A -> box/net A, 30 m"]
  xlr: ["box/out 2 -> wedge/in, 10 m", "box/out 1 -> top/in"]
racks: {side: {kind: rack-6u, at: 3.5 m left 2 m back, front: {1: box}}}
power: {supplies: {house: {}}, circuits: {left: {supply: house, rating: 16 A, feeds: [wedge, box]}}}
"""


@pytest.fixture(scope="module")
def books() -> list[Book]:
    return [Book.of(compile_plan(p), "crew") for p in SHOWS]


def test_what_stands_where(book) -> None:
    data = stage.page(book(PLACED)).data
    (place,) = data.places
    assert (place.name, place.where) == ("voice", "1 m back")
    assert [(r.number, r.channel.text, r.stand) for r in place.inputs] == [
        ("1", "Voice", "boom stand"), ("2", "Keys", "")]
    rows = {r.name.text: r for r in data.boxes}
    assert set(rows) == {"desk", "wedge", "top", "side"}
    assert (rows["wedge"].fed, rows["wedge"].aim, rows["wedge"].where) == ("mix-1", "at voice", "0.3 m out")
    assert [c.text for c in rows["wedge"].circuits] == ["left"] == [c.text for c in rows["side"].circuits]
    assert rows["side"].fed == "box", "a rack says what is in it"
    assert [link.text for link in data.loose] == ["3 Talk"]
    assert data.elsewhere == ("desk",)


def test_runs_say_kind_count_and_length(book) -> None:
    data = stage.page(book(PLACED)).data
    runs = {(r.start.text, r.end.text, r.sort): r for r in data.runs}
    assert runs["desk", "side", "network"].lengths == "30 m"
    assert (runs["side", "wedge", "line"].number, runs["side", "wedge", "line"].lengths) == (1, "10 m")
    lead = runs["voice", "side", LEAD]
    assert lead.number == 2
    # at right angles 3.5 m + 1 m, and 2 m to spare (common practice): 7 m in whole metres
    assert (lead.lengths, lead.reckoned) == ("7 m", True)


def test_the_drawing_is_to_scale(book) -> None:
    svg = str(stage.page(book(PLACED)).data.plan)
    (corners,) = re.findall(r'<path d="M([^"]+)Z" class="floor stage"', svg)
    points = [tuple(map(float, p.split())) for p in corners.split("L")]
    wide, deep = points[1][0] - points[0][0], points[2][1] - points[1][1]
    assert wide / deep == pytest.approx(6 / 4, rel=0.01)
    (centre,) = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)"', svg)
    x, y = map(float, centre)
    assert x == pytest.approx((points[0][0] + points[1][0]) / 2, abs=0.2), "in the middle"
    assert (points[2][1] - y) / deep == pytest.approx(1 / 4, rel=0.02), "1 m behind the front edge of 4 m"


def test_a_wedge_points_where_the_plan_says(book) -> None:
    marks = stage_of(book(PLACED)).marks
    assert [m.monitors[0].name for m in marks if m.monitors] == ["wedge"]
    svg = str(stage.page(book(PLACED)).data.plan)
    (arrow,) = re.findall(r'class="mark wedge"></path><path d="M([\d. ]+)L([\d. ]+)M', svg)
    (x1, y1), (x2, y2) = (tuple(map(float, p.split())) for p in arrow)
    assert x1 == pytest.approx(x2, abs=0.2)
    assert y2 < y1, "from the front edge at the voice behind it: up on the sheet"


def test_guests_get_the_stage_and_the_public_does_not(book) -> None:
    assert stage.page(book(PLACED, "guest")).data == stage.page(book(PLACED)).data
    assert "stage" not in book(PLACED, "public").slugs


def test_no_place_no_page(book) -> None:
    plan = re.sub(r", (?:at|aim): [^,}\n]+", "", PLACED)
    plan = re.sub(r"kind: (\S+), at: [^,}]+", r"kind: \1", plan).replace(", at: voice", "")
    assert stage.page(book(plan)) is None


def test_every_channel_and_unit_of_the_shows_is_drawn_or_said(books) -> None:
    for book in books:
        data = stage.page(book).data
        told = {r.name.text for r in data.boxes} | {link.text for link in data.loose}
        told |= {name for r in data.boxes for name in r.fed.split(", ")}
        assert {u.title for u in book.units} <= told | {u.title for u in book.units if u.name in told}
        numbers = [r.channel.text for p in data.places for r in p.inputs]
        placed = [c for c in book.plan.channels if c.record.get("at")]
        assert len(numbers) == len(placed)
        for channel in placed:
            assert f">{channel.number} {channel.name}<" in data.plan, "every input is drawn by number and name"


def boxes(svg: str) -> list[Rect]:
    number = r'="([-\d.]+)"'
    found = re.findall(rf'<rect x{number} y{number} width{number} height{number} class="label-ground"', svg)
    return [Rect(x, y, x + w, y + h) for x, y, w, h in (map(float, f) for f in found)]


def test_no_label_of_the_shows_lies_on_another(books) -> None:
    for book in books:
        data = stage.page(book).data
        for svg in filter(None, (str(data.plan), str(data.site))):
            grounds = boxes(svg)
            assert grounds
            assert [(a, b) for a, b in combinations(grounds, 2) if a.meets(b, -0.1)] == [], book.plan.title


MARKS = st.tuples(st.floats(0, 980), st.floats(0, 540), st.floats(20, 160), st.floats(14, 130))


@settings(max_examples=20, deadline=None)
@given(st.lists(MARKS, min_size=1, max_size=45))
def test_labels_never_overlap_whatever_the_places(marks) -> None:
    rects = [Rect(x - 8, y - 8, x + 8, y + 8) for x, y, _, _ in marks]
    wishes = [Wish(i, rects[i], w, h) for i, (_, _, w, h) in enumerate(marks)]
    sheet = Rect(0, 0, 990, 560)
    placed, bottom = labels.place(wishes, rects, sheet)
    assert placed.keys() == set(range(len(marks))), "every label is placed"
    assert (placed, bottom) == labels.place(wishes, rects, sheet), "the same twice"
    for a, b in combinations(placed.values(), 2):
        assert not a.meets(b)
    for label in placed.values():
        assert not any(label.meets(mark) for mark in rects if mark.bottom <= 560)
        assert label.left >= 0 and label.right <= 990 and label.top >= 0 and label.bottom <= bottom + 0.01


def test_a_long_label_gets_columns() -> None:
    lines = tuple(str(i) for i in range(15))
    parts = columns(lines)
    assert [len(p) for p in parts] == [5, 5, 5]
    assert tuple(x for p in parts for x in p) == lines
    assert columns(lines[:8]) == (lines[:8],)


def test_words_are_escaped_and_runs_told_apart_without_colour() -> None:
    area = Area("<b>", "audience", ((0, 1), (4, 1), (4, 3), (0, 3)))
    symbols = (Symbol(0, 0, "input", ("<Kick>",), "#a&b"), Symbol(3, 2, "box", ("x",), ""))
    svg = draw(Scene("s", "T & T", "d", Window(-2, -2, 6, 4), (area,), symbols,
                     (Way(0, 1, "speaker", "5 m", "a & b"),), "front"))
    assert "<Kick>" not in svg
    assert "&lt;Kick&gt;" in svg
    assert 'class="run speaker"' in svg
    css = (ROOT / "themes/plain/static/handbook.css").read_text("utf-8")
    looks = {m[1]: m[2] for m in re.finditer(r"\.run\.(\w+) \{ ([^}]*) \}", css)}
    assert len(set(looks.values())) == len(looks) >= 5
    assert all("color" not in look and "var(" not in look for look in looks.values())


def test_each_drawing_says_what_it_does_not_show(compiled) -> None:
    text = make(compiled(PLACED), "crew", find_theme("plain"))["stage.html"].decode()
    first, _, rest = text.partition('id="site"')
    assert "Not on this drawing, but on that of the whole site: desk." in first
    assert "Not on this" not in rest


def test_no_heading_without_an_input_that_has_a_place(compiled) -> None:
    text = make(compiled(PLACED.replace("at: voice, ", "")), "crew", find_theme("plain"))["stage.html"].decode()
    assert "Inputs by place" not in text
    assert "Measured from" in text


@pytest.mark.parametrize(("view", "there"), [("crew", True), ("guest", False)])
def test_a_note_about_a_unit_stands_where_it_is_set_up(compiled, view: str, there: bool) -> None:
    notes = "notes: {Curtain: {about: wedge, text: Keep its line clear.}, Lid: {about: box, text: Lid stays on.}}"
    plan = PLACED + notes + "\n"
    files = make(compiled(plan), view, find_theme("plain"))
    stage_page, set_up = files["stage.html"].decode(), files["set-up.html"].decode()
    assert ("Keep its line clear." in stage_page) == there
    assert set_up.count("Keep its line clear.") == set_up.count("Lid stays on.") == there
