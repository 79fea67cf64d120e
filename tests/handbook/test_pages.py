"""Pages front, ten_minutes, rack, venue, checks: their facts, and what each view may not read."""

from __future__ import annotations

from helpers.tools import ROOT
from rigbook.compute.results import results
from rigbook.handbook.book import Book
from rigbook.handbook.make import make
from rigbook.handbook.pages import checks, front, rack, set_up, ten_minutes, venue
from rigbook.handbook.themes import find_theme
from rigbook.handbook.words import change_words
from rigbook.pipeline import compile_plan

BROKEN = """\
plan: 1
show: Broken
units: {desk: desk-16, top: powered-top-12, odd: powered-top-12}
inputs: {1: {name: Voice, from: desk/line 1, mic: dynamic-vocal, source: vocal, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["desk/out 1 -> topp/in, 5 m"]}
"""


def test_front_counts_what_the_plan_holds(book) -> None:
    data = front.page(book()).data
    counts = {c.words: c.number for c in data.counts}
    assert counts["input channels"] == "2"
    assert counts["cables"] == "6"
    assert counts["stage monitor"] == "1"
    assert all(c.number != "0" for c in data.counts)
    assert 'id="signal-flow"' in data.flow.drawing


def test_front_tells_load_and_level_by_the_figures(hall) -> None:
    data = front.page(Book.of(hall, "crew")).data
    got = results(hall.rig)
    told = {str(e.words): str(e.number) for e in data.estimates}
    assert told["at the mix position, all boxes together"] == got.levels.programme.text == got.levels.spots[0][1].text
    assert told["in the first row of floor"] == got.levels.by_area[0].first_row.text
    (load,) = got.mains.supplies[0].by_phase
    assert told["mains, phase L1"] == load[1].text
    assert front.page(Book.of(hall, "public")).data.estimates == ()


def test_front_says_what_to_put_back(hall) -> None:
    data = front.page(Book.of(hall, "crew")).data
    assert len([c for r in data.changes for c in r.things]) == len(hall.plan.changes) > 0
    assert front.page(Book.of(hall, "guest")).data.changes == ()


def test_front_of_the_public_site_holds_no_rig(hall) -> None:
    data = front.page(Book.of(hall, "public")).data
    assert (data.flow, data.counts, data.order, data.cautions) == (None, (), (), ())


def test_ten_minutes_say_which_bus_goes_where(book) -> None:
    data = ten_minutes.page(book()).data
    assert [(b.bus.text, b.sockets, b.reaches) for b in data.buses] == [
        ("main", "left: box/out 1, right: box/out 2", "top-left, top-right"),
        ("mix", "box/out 3", "wedge"),
    ]
    assert [(t.unit.text, t.fed) for t in data.boxes] == [
        ("top-left", "main left"),
        ("top-right", "main right"),
        ("wedge", "mix"),
    ]
    assert {f.name: f.text for f in data.inputs}["box"] == "free in 1–4, in 6–16; in use in 5"


def test_ten_minutes_say_what_to_switch_on_in_which_order(hall) -> None:
    names = [u.text for u in ten_minutes.page(Book.of(hall, "guest")).data.switching]
    assert names == ["desk", "box", "wedge-3", "wedge-4", "amp-tops", "amp-subs", "amp-wedges"]


def test_three_boxes_that_are_counted_on_are_told_by_the_first_and_the_last() -> None:
    rows = ten_minutes.in_rows(("fill-1", "fill-2", "fill-3", "sub-1", "sub-2", "top", "wedge-4", "wedge-6"))
    assert list(rows) == ["fill-1 to fill-3", "sub-1", "sub-2", "top", "wedge-4", "wedge-6"]


def test_many_channels_with_phantom_power_are_told_by_their_numbers(hall) -> None:
    channels = [c for c in hall.plan.channels if c.record.get("phantom")]
    assert ten_minutes.phantom_words(channels).startswith("3 Overhead, 4 Upright bass, 5 Fiddle")
    assert ten_minutes.phantom_words(channels * 2).startswith("ch 3–6, 8, 10")


def test_ten_minutes_name_limits_and_people(hall) -> None:
    crew, guest = (ten_minutes.page(Book.of(hall, v)).data for v in ("crew", "guest"))
    assert crew.limits[0].text == "97 dB A-weighted, averaged over 15 min"
    assert [c.name for c in guest.contacts] == ["Ada Fennimore"]
    assert len(crew.contacts) == 3
    assert "2.9 m" in guest.hazards


def test_a_rack_from_the_top_down_with_what_plugs_in(hall) -> None:
    (sheet,) = rack.page(Book.of(hall, "crew")).data.racks
    assert [s.what.text for s in sheet.slots] == ["box", "drawer", "vent", "amp-wedges", "vent", "amp-tops", "amp-subs"]
    assert [s.units for s in sheet.slots][:2] == ["11–12", "9–10"]
    assert {p.unit.text for p in sheet.plugs} == {"box", "amp-wedges", "amp-tops", "amp-subs"}
    # the weights of the kinds added by hand: what the page says must be the same sum
    kinds = [hall.plan.units[n].kind for n in ("box", "amp-wedges", "amp-tops", "amp-subs")]
    rack_kg = hall.plan.racks["stage-rack"].kind.get("weight").value
    total = sum(k.get("weight").value for k in kinds) + rack_kg
    assert f"{total:.1f} kg" in {m.text for m in sheet.measures}


def test_a_multicore_is_one_line_with_one_box_to_tick() -> None:
    """A person pushes in one multi-pin fan after the other, not one line after the other."""
    stage = Book.of(compile_plan(ROOT / "shows" / "festival" / "meadow.yaml"), "crew")
    (split,) = [s for s in rack.page(stage).data.racks if s.name == "split-rack"]
    lines = [(p.socket.text, p.end.far.text) for p in split.plugs if p.unit.text == "foh-box-2"]
    assert lines == [("in 1–8", "split-2/a 9–16"), ("in 9–16", "split-2/a 17–24"), ("net A", "foh-box-1/net B")]
    ticks = [p.end.tick for s in rack.page(stage).data.racks for p in s.plugs]
    assert len(ticks) == len(set(ticks))


def test_what_hangs_is_placed_before_what_stands_and_racked_units_come_in_their_rack(hall) -> None:
    """Common practice: nobody works below a load, the stage stays free until the heavy boxes are in."""
    data = set_up.page(Book.of(hall, "crew")).data
    (place,) = [t for t in data.tasks if t.key == "place"]
    names = [i.name for i in place.items]
    assert names == ["stage-rack", "top-left", "top-right", "sub-left", "sub-right", "wedge-4", "wedge-1", "wedge-2",
                     "wedge-3", "desk"]
    keys = [t.key for t in data.tasks]
    assert keys[-5:] == ["test", "line", "hand", "show", "strike"]


def test_what_has_no_place_in_the_plan_is_asked_for(book) -> None:
    units = "desk: {kind: desk-16, at: 8 m out}, box: stage-box-16, old: {kind: stage-box-16, spare: yes}"
    data = set_up.page(book(f"plan: 1\nunits: {{{units}}}\n")).data
    (place,) = [t for t in data.tasks if t.key == "place"]
    assert [(i.name, "ask where" in i.words) for i in place.items] == [("desk", False), ("box", True)]


def test_strike_leads_to_the_pull_list_where_the_view_has_one(hall) -> None:
    pages = {view: set_up.page(Book.of(hall, view)).data.tasks[-1].items[-1].href for view in ("crew", "guest")}
    assert pages["crew"] == "pull-list.html"
    assert pages["guest"] != "pull-list.html"


def test_changes_are_said_without_the_keys_of_the_language() -> None:
    assert change_words("monitor-for: Fiddles") == "for Fiddles"
    assert change_words("at: 1.8 m right 0.4 m back, aim: back, tilt: 40 deg up") == (
        "at 1.8 m right, 0.4 m back, aim back, tilt 40° up")
    assert change_words("taken out") == "taken out"


def test_no_rack_no_page(book) -> None:
    assert rack.page(book()) is None


def test_the_venue_counts_equipment_by_kind(hall) -> None:
    data = venue.page(Book.of(hall, "crew")).data
    kit = {k.title: k.number for _, rows in data.kit for k in rows}
    units = [u for u in hall.plan.units.values() if u.kind and not u.spare]
    assert sum(kit.values()) == len(units)
    assert kit[hall.plan.units["top-left"].kind.title] == 2


def test_the_public_specification_holds_what_is_marked_public(hall) -> None:
    book = Book.of(hall, "public")
    page = venue.page(book)
    assert page.title == "Technical specification"
    assert (page.data.kit, page.data.contacts, page.data.access, page.data.supplies) == ((), (), "", ())
    assert [n.title for n in book.notes_on("venue", frozenset({"index", "venue"}))] == ["Doors"]
    assert {f.name for f in page.data.facts} >= {"People", "Level limit"}


def test_checks_show_the_lines_of_the_plan(book) -> None:
    b = book(BROKEN)
    data = checks.page(b).data
    assert len(data.found) == len(b.compiled.findings) > 0
    unknown = next(f for f in data.found if f.check.text == "unknown-name")
    (line,) = unknown.spots[0].lines
    assert line.marked == "topp"
    assert line.before + line.marked + line.after == BROKEN.splitlines()[line.number - 1]
    assert len({f.anchor for f in data.found}) == len(data.found)
    worst_first = [("error", "warning", "note").index(f.severity) for f in data.found]
    assert worst_first == sorted(worst_first)


def test_accepted_findings_keep_their_reason(book) -> None:
    plan = BROKEN.replace("topp", "top") + (
        'exceptions: [{check: silent-speaker, at: odd, reason: "Comes at noon."}]\n'
    )
    data = checks.page(book(plan)).data
    accepted = {a.check.text: a.reason for a in data.accepted}
    if accepted:  # another check may speak of the silent box before silent-speaker does
        assert accepted == {"silent-speaker": "Comes at noon."}
        assert any(c.name == "silent-speaker" for c in data.explained)


NOTED = (
    BROKEN.replace("topp", "top")
    + """\
racks: {side: {kind: rack-6u, front: {1: odd}}}
notes:
  A: {text: NB the channel, about: channel 1}
  B: {text: NB the voice, about: Voice}
  C: {text: NB the bus, about: bus main}
  D: {text: NB the socket, about: desk/out 1}
  E: {text: NB the rack, about: side}
  F: {text: NB no radio, page: radio}
  G: {text: NB nothing}
"""
)


def test_a_note_stands_where_its_thing_does(tmp_path) -> None:
    """Said as people say it; a note on a page that this plan has not stands on the front page, not nowhere."""
    plan = tmp_path / "plan.yaml"
    plan.write_text(NOTED, "utf-8")
    got = compile_plan(plan, tmp_path)
    files = make(got, "crew", find_theme("plain"))
    at = {
        word: {n.removesuffix(".html") for n, data in files.items() if n.endswith(".html") and word.encode() in data}
        for word in (
            "NB the channel",
            "NB the voice",
            "NB the bus",
            "NB the socket",
            "NB the rack",
            "NB no radio",
            "NB nothing",
        )
    }
    assert at == {
        "NB the channel": {"patch"},
        "NB the voice": {"patch"},
        "NB the bus": {"routing"},
        "NB the socket": {"patch"},
        "NB the rack": {"rack"},
        "NB no radio": {"index"},
        "NB nothing": {"index"},
    }
