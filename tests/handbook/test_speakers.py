"""The speakers page: every figure is one of compute's, what is not known is said, nothing grows too large."""

from __future__ import annotations

import re
from xml.etree import ElementTree as Tree

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from helpers.tools import ROOT
from rigbook.compute.figure import Figure
from rigbook.compute.results import results
from rigbook.handbook import level_tables, speaker_tables
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.pages.speakers import Speakers, page
from rigbook.handbook.tables import Table, Worded, table
from rigbook.handbook.themes import find_theme
from rigbook.pipeline import compile_plan

SHOWS = ("rural-hall/reel-night.yaml", "chapel/lessons-and-songs.yaml", "festival/meadow.yaml")


@pytest.fixture(scope="module", params=SHOWS)
def built(request: pytest.FixtureRequest) -> tuple[Book, Speakers]:
    book = Book.of(compile_plan(ROOT / "shows" / request.param), "crew")
    made = page(book)
    assert made is not None
    return book, made.data


def column(found: Table, head: str) -> list[str]:
    at = found.heads.index(head)
    return [r[at].text.replace("\u00a0", " ") for r in found.rows]


def test_tables_hold_what_was_computed(built: tuple[Book, Speakers]) -> None:
    book, data = built
    got = results(book.rig)
    assert column(data.loads, "Load") == [c.load.text for c in got.amp_channels for _ in c.boxes]
    assert column(data.limiters, "Limiter voltage") == [c.limiter.text for c in got.amp_channels]
    assert column(data.structure, "Headroom of the amplifier") == [c.headroom.text for c in got.chains]
    assert column(data.delays, "Delay to set") == [d.wanted.text for d in got.delays]
    assert column(data.subs, "Sub later by") == [s.later.text for s in got.sub_alignments]
    assert column(data.exposure, "Level") == [e.level.text for e in got.exposures]
    against = column(data.exposure, "Against the WHO value for audiences")
    # WHO global standard for safe listening venues and events, 2022, feature 1: 100 dB LAeq,15min
    assert against == [Figure(e.level.value - 100, "dB", "").text for e in got.exposures]
    assert data.summary is not None
    assert column(data.summary, "Spread") == [a.bands[0].spread.text for a in got.levels.by_area]
    for m, area in zip(data.maps, got.levels.by_area, strict=True):
        assert column(m.bands, "Highest")[0] == area.bands[0].highest.text


def test_the_margin_is_that_of_the_worst_box(built: tuple[Book, Speakers]) -> None:
    book, data = built
    loops = results(book.rig).loops
    for row in data.feedback.rows:
        number = int(row[0].links[0].text.partition(" ")[0])
        least = min(x.margin.value for x in loops if x.channel.number == number and isinstance(x.margin, Figure))
        assert row[-1].text.replace("\u00a0", " ") == Figure(least, "dB", "").text


def test_every_box_stands_in_the_table_and_leads_to_its_place(built: tuple[Book, Speakers]) -> None:
    book, data = built
    names = [b.name for b in results(book.rig).boxes.all]
    assert [r[0].links[0] for r in data.boxes.rows] == [book.link("box", n) for n in names]
    assert {h.box.text for h in data.hung} == {
        n for n in names if book.plan.units[n].record.get("mount") in ("hung", "truss", "wall")}  # fmt: skip


def test_every_table_of_estimates_says_what_it_rests_on(built: tuple[Book, Speakers]) -> None:
    _, data = built
    estimate = "direct sound only, no reflections"
    assert estimate in data.model
    assert data.summary is not None
    for found in (data.summary, data.boxes, data.exposure, *(m.bands for m in data.maps)):
        assert estimate in found.assumed, found.ident
    assert data.loads.assumed or not data.loads.rows
    assert all(found.basis for found in (data.structure, data.limiters, data.subs) if found.rows)


def test_pages_stay_small_and_carry_their_cautions(built: tuple[Book, Speakers]) -> None:
    book, data = built
    text = make(book.compiled, "crew", find_theme("plain"))["speakers.html"].decode()
    assert len(text) < 400_000
    words = re.sub(r"<[^>]*>", " ", text)
    assert "Planning estimate" in words
    assert "local law" in words
    assert ("loads above people" in words) == bool(data.hung)
    assert "hurt hearing" in words
    drawings = re.findall(r"<svg.*?</svg>", text, re.S)
    assert len(drawings) >= 3
    for drawing in drawings:
        assert re.search(r"<title[^>]*>[^<]+</title><desc[^>]*>[^<]+</desc>", drawing)


def test_on_paper_drawings_keep_their_frames(built: tuple[Book, Speakers]) -> None:
    """Bound into one document every name becomes another: what cuts a drawing to its frame follows."""
    pytest.importorskip("weasyprint")
    from rigbook.handbook.paper.bind import bind, parse
    from rigbook.handbook.site import Leaf

    page_ = parse(make(built[0].compiled, "crew", find_theme("plain"))["speakers.html"])
    leaf = Leaf("speakers", "Speakers", "speakers.html", "", 1)
    found = list(bind(page_, leaf, [leaf], "Show").iter())
    frames = {e.get("clip-path") for e in found} - {None}
    assert frames
    assert frames <= {f"url(#{e.get('id')})" for e in found if e.get("id")}


def test_without_places_the_page_says_what_is_missing(book) -> None:
    bare = "plan: 1\nshow: Bare\nunits: {desk: desk-16, top: powered-top-12}\n"
    data = page(book(bare)).data
    assert (data.plan, data.section, data.summary, data.maps, data.exposure.rows) == ("", "", None, (), ())
    said = " ".join(data.lacking)
    for word in ("`top`", "`audience`", "`mix-position`", "`reverberation-time`", "`length`"):
        assert word in said
    assert data.boxes.rows[0][1].text == "not said"


def test_without_a_room_the_boxes_are_still_drawn(book) -> None:
    data = page(book()).data
    assert 'id="plan-view"' in data.plan
    assert 'id="section-view"' in data.section
    assert data.summary is None
    assert [r[0].links[0].text for r in data.loads.rows] == ["top-left", "top-right"]
    assert "the cable `amp/out B -> top-right/in` states no length" in data.loads.missing
    assert column(data.loads, "Cable loss")[1] == "not known"


def test_a_plan_without_speakers_has_no_such_page(book) -> None:
    assert page(book("plan: 1\nshow: Silent\nunits: {desk: desk-16}\n")) is None


def test_a_main_box_of_unknown_level_is_asked_for(book) -> None:
    text = ("plan: 1\nshow: A\nunits: {box: {kind: powered-sub-15, at: 1 m out}}\n"
            "room: {audience: {floor: {from: 2 m left 2 m out, to: 2 m right 6 m out}}}\n")  # fmt: skip
    assert "a placed main box" in " ".join(page(book(text)).data.lacking)


def test_the_public_has_no_such_page(hall) -> None:
    assert "speakers.html" not in make(hall, "public", find_theme("plain"))


def test_words_for_aims(book) -> None:
    b = book()
    assert [speaker_tables.turn_words(b, d) for d in (0, 18, -18, 180, -180, 361.04, 190)] == [
        "out", "18° right", "18° left", "back", "back", "1° right", "170° left"]  # fmt: skip
    assert [speaker_tables.tilt_words(b, d) for d in (0, -12, 3.25, -0.04)] == [
        "level", "12° down", "3.2° up", "level"]  # fmt: skip
    assert [level_tables.band_name(b, hz) for hz in (0, 63, 1000, 8000)] == ["A-weighted", "63 Hz", "1 kHz", "8 kHz"]


def test_a_foot_gathers_each_formula_once() -> None:
    a, b = Figure(1, "dB", "sum", (), ("flat",)), Figure(2, "dB", "sum", (), ("flat", "dry"))
    found = table("t", "T", ("Box", "One", "Two"), [("x", a, Worded("two", b))])
    assert found.basis == (("One, Two", "sum"),)
    assert found.assumed == ("flat", "dry")
    assert [c.text for c in found.rows[0]] == ["x", "1.0 dB", "two"]


sides = st.sampled_from(["left", "right"])
lengths = st.sampled_from([0, 0.01, 0.4, 3, 25, 900])


@st.composite
def odd_plans(draw: st.DrawFn) -> str:
    """Rigs that nobody would build: boxes in one another, straight down, behind; areas of a hand or of a mile."""
    boxes = []
    for n in range(draw(st.integers(1, 5))):
        kind = draw(st.sampled_from(["powered-top-12", "powered-sub-15", "powered-fill-6", "powered-delay-8",
                                     "powered-wedge-12"]))  # fmt: skip
        place = f"{draw(lengths)} m {draw(sides)} {draw(lengths)} m {draw(st.sampled_from(['out', 'back']))}"
        aim = draw(st.sampled_from(["", ", aim: back", ", aim: 90 deg left", ", turned: yes, aim: 179 deg right"]))
        tilt = draw(st.sampled_from(["", ", tilt: 90 deg down", ", tilt: 90 deg up", ", tilt: 1 deg down"]))
        boxes.append(f"  box-{n}: {{kind: {kind}, at: {place} {draw(lengths)} m up{aim}{tilt}}}")
    room = ["room:"]
    if draw(st.booleans()):
        room.append(f"  stage: {max(draw(lengths), 0.5)} x {max(draw(lengths), 0.5)} x {draw(lengths)} m")
    if draw(st.booleans()):
        room.append(f"  mix-position: {draw(lengths)} m out")
    wide, deep, from_y = draw(lengths), draw(lengths), draw(lengths)
    room.append(f"  audience: {{a: {{from: {wide} m left {from_y} m out, to: {wide} m right {from_y + deep} m out}}}}")
    return "\n".join(["plan: 1", "show: Odd", "units:", *boxes, *room, ""])


@settings(max_examples=12, deadline=None, phases=(Phase.explicit, Phase.generate),
          suppress_health_check=[HealthCheck.function_scoped_fixture])  # fmt: skip
@given(odd_plans())
def test_whatever_stands_wherever_the_page_is_made(book, text: str) -> None:
    made = book(text)
    data = page(made).data
    for drawing in (data.plan, data.close_up, data.section, *(m.drawing for m in data.maps)):
        if drawing:
            root = Tree.fromstring(str(drawing))
            numbers = [float(n) for n in (root.get("viewBox") or "").split()]
            assert all(0 <= n < 3000 for n in numbers), numbers
            assert not re.search(r"\b(nan|inf)\b", str(drawing))
            assert len(drawing) < 200_000
