"""The radio page: what stands near what, what lands on what, where it could go; and its drawing."""

from __future__ import annotations

import re

from rigbook.handbook.book import Book
from rigbook.handbook.drawings import spectrum
from rigbook.handbook.pages import radio
from rigbook.handbook.words import tight

RIG = """\
plan: 1
show: Radio
units: {desk: desk-16, rx-1: radio-receiver, rx-2: radio-receiver, rx-3: radio-receiver, rx-4: radio-receiver}
inputs: {1: {name: Reader, from: desk/line 1, source: speech, to: main}}
buses: {main: {}}
outputs: {main: desk/out 1}
wiring: {xlr: ["rx-1/out -> desk/line 1, 2 m"]}
radio:
  bands: [606 MHz - 614 MHz]
  spacing: 300 kHz
  text: Ask the steward for the licence
  channels:
    rx-1: {frequency: 607 MHz, transmitter: radio-handheld, text: Spare in the drawer}
    rx-2: {frequency: 608 MHz}
    rx-3: {frequency: 609 MHz}
    rx-4: {frequency: 620.2 MHz}
"""


def test_channels_by_hand(book) -> None:
    rows = radio.page(book(RIG)).data.channels
    assert [(r.unit.text, r.frequency, r.nearest) for r in rows] == [
        ("rx-1", "607.000 MHz", "1000 kHz"), ("rx-2", "608.000 MHz", "1000 kHz"),
        ("rx-3", "609.000 MHz", "1000 kHz"), ("rx-4", "620.200 MHz", "11200 kHz")]
    assert [r.outside for r in rows] == ["", "", "", "outside the bands of the plan"]
    assert (rows[0].carries, rows[1].carries) == ("Reader", "")
    assert "Spare" in rows[0].text


def test_products_by_hand(book) -> None:
    """2·608 - 607 = 609 and 2·608 - 609 = 607 (W. C. Babcock, BSTJ 32, 1953)."""
    data = radio.page(book(RIG)).data
    assert [(p.victim.text, p.frequency, p.offset, p.kind, [s.text for s in p.sources]) for p in data.products] == [
        ("rx-1", "607.000 MHz", "0 kHz", "2a-b", ["rx-2", "rx-3"]),
        ("rx-3", "609.000 MHz", "0 kHz", "2a-b", ["rx-2", "rx-1"])]
    assert [r.hit for r in data.channels] == [True, False, True, False]
    assert data.looked_at == str(4 * 3 + 4 * 3 * 2 // 2)
    assert data.close == ()


def test_a_proposal_says_how_far_each_moves(book) -> None:
    data = radio.page(book(RIG)).data
    assert not data.clean
    moves = {r.unit.text: (r.stays, r.moved) for r in data.proposal}
    assert moves["rx-1"] == (True, "")
    assert moves["rx-4"][0] is False
    assert re.fullmatch(r"\d+ kHz down", moves["rx-4"][1])
    for row in data.proposal:
        assert 606 <= float(row.proposed.partition(" ")[0]) <= 614


def test_a_clean_set_stays(book) -> None:
    clean = RIG.replace("609 MHz", "609.4 MHz").replace("620.2 MHz", "612.9 MHz")
    data = radio.page(book(clean)).data
    assert (data.clean, data.products, data.close) == (True, (), ())


def test_notes_are_for_the_crew(book) -> None:
    crew, guest = (radio.page(book(RIG, view)).data for view in ("crew", "guest"))
    assert "licence" in crew.text
    assert (guest.text, guest.channels[0].text) == ("", "")


def test_the_festival_is_clean_and_says_who_sings(compiled) -> None:
    from helpers.tools import ROOT
    from rigbook.pipeline import compile_plan

    data = radio.page(Book.of(compile_plan(ROOT / "shows" / "festival" / "meadow.yaml"), "crew")).data
    assert data.clean
    ears = [f"ears-{n} left, ears-{n} right" for n in (1, 2)]
    assert [c.carries for c in data.channels][3:] == ["Compere", *ears]
    assert data.bands == ("606–614 MHz", "630–646 MHz")


def test_no_radio_no_page(book) -> None:
    assert radio.page(book()) is None


def test_the_drawing_is_to_one_scale() -> None:
    """A megahertz is as wide in one panel as in another; what moves out of a panel ends in an arrow at its edge."""
    marks = [spectrum.Mark("a", 607e6, 200e3, "#a", 607e6, False), spectrum.Mark("b", 621e6, 200e3, "#b", 612e6, True)]
    bands = [spectrum.Stretch(606e6, 614e6)]
    shown = [spectrum.Stretch(605e6, 615e6), spectrum.Stretch(620e6, 622e6)]
    text = spectrum.draw(shown, bands, marks, [608e6], "t", "d")
    per_mhz = (spectrum.WIDE - 2 * spectrum.EDGE) / 10
    numbers = {n: float(x) for x, n in re.findall(r'<text x="([\d.]+)"[^>]*class="spec-number"[^>]*>([\d.]+)', text)}
    assert abs(numbers["614"] - numbers["607"] - 7 * per_mhz) < 0.2
    assert abs(numbers["622"] - numbers["621"] - per_mhz) < 0.2
    assert text.count("spec-hit") == 1
    assert text.count("spec-proposed") == 0
    assert 'href="#b"' in text


def test_names_in_a_crowd_take_lanes() -> None:
    lanes = spectrum._lanes([(100, "rx-1"), (110, "rx-2"), (120, "rx-3"), (400, "rx-4")])
    assert lanes[:3] == [2, 1, 0]
    assert len(set(lanes[:3])) == 3


def test_a_band_is_printed_without_a_break() -> None:
    assert tight("606–614 MHz") == "606–614\u00a0MHz"
