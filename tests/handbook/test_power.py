"""The power page: figures by hand, overloads, what is not known, and who may read the notes."""

from __future__ import annotations

from rigbook.handbook.book import Book
from rigbook.handbook.drawings import bars
from rigbook.handbook.pages import power

RIG = """\
plan: 1
show: Power
units:
  desk: desk-16
  amp: {kind: amplifier-2x500}
  left, right: top-12
wiring: {speaker-2.5-mm2: [amp/out A -> left, amp/out B -> right]}
power:
  supplies: {house: {rating: 63 A, phases: 3, text: Ask for the key}}
  circuits:
    stage: {supply: house, phase: L2, rating: 16 A, feeds: amp, other-load: 3 kW, length: 40 m, area: 1.5 mm2}
  text: Nothing on the kitchen ring
racks: {cabinet: {kind: rack-6u, front: {1: amp, 3: vent 1 U}}}
"""


def test_a_circuit_by_hand(book) -> None:
    """Draws of the kind and the other load over 230 V; 80 % of 16 A (NEC (NFPA 70) 210.20(A))."""
    b = book(RIG)
    (row,) = power.page(b).data.circuits
    kind = b.plan.units["amp"].kind
    amps = {key: (kind.get(key).value + 3000) / 230 for key in ("draw-idle", "draw-eighth", "draw-full")}
    assert (row.idle, row.eighth, row.full) == tuple(f"{a:.1f} A" for a in amps.values())
    assert (row.allowed, row.over, row.left) == ("12.8 A", True, f"{amps['draw-eighth'] - 12.8:.1f} A over")
    assert [u.unit.text for u in row.units] == ["amp"]
    assert row.other == "3 kW"
    assert row.eighth in row.bar


def test_what_hangs_on_no_circuit_is_said(book) -> None:
    data = power.page(book(RIG)).data
    assert [u.unit.text for u in data.loose] == ["desk"]
    assert [s.unit.text for s in data.order] == ["desk", "amp"]
    assert data.order[0].circuit is None
    assert data.order[1].circuit.href == "power.html#circuit-stage"


def test_the_drop_of_a_feed_by_hand(book) -> None:
    """2·L·R'·I with 13.3 Ω/km for 1.5 mm² (IEC 60228:2004, table 3)."""
    b = book(RIG)
    (feed,) = power.page(b).data.feeds
    amps = (b.plan.units["amp"].kind.get("draw-eighth").value + 3000) / 230
    lost = 2 * 40 * 0.0133 * amps
    assert (feed.volts, feed.drop, feed.over) == (f"{lost:.1f} V", f"{100 * lost / 230:.1f} %", True)


def test_phases_and_racks(book) -> None:
    data = power.page(book(RIG)).data
    (house,) = data.supplies
    assert [(p.name, len(p.circuits)) for p in house.rows] == [("L1", 0), ("L2", 1), ("L3", 0)]
    assert house.neutral == house.rows[1].load  # one phase alone comes back whole by the neutral
    assert house.unbalance == ""
    (rack,) = data.racks
    assert rack.open == "4 U"  # six, less an amplifier of two; the vent lets air through


def test_notes_are_for_the_crew(book) -> None:
    crew, guest = (power.page(book(RIG, view)).data for view in ("crew", "guest"))
    assert "kitchen" in crew.text
    assert "key" in crew.supplies[0].text
    assert (guest.text, guest.supplies[0].text) == ("", "")


def test_every_assumption_stands_once(hall) -> None:
    data = power.page(Book.of(hall, "crew")).data
    assert len(set(data.assumptions)) == len(data.assumptions)
    assert {"power factor 1, where a kind states none", "230 V, where the supply states none"} <= set(data.assumptions)


def test_nothing_to_say_no_page(book) -> None:
    assert power.page(book("plan: 1\nshow: Nothing\n")) is None


def test_a_bar_keeps_to_its_width_and_says_it_in_words() -> None:
    text = bars.load(8, 48, 12.8, 16, 24, "8 A <of> 12.8 A")
    reach = (bars.WIDE - 2 * bars.EDGE) / 24
    assert f'width="{16 * reach:.1f}"'.replace(".0", "") in text  # the frame
    assert "l5 4" in text  # full power ends in an arrow: it goes beyond the drawing
    assert "l5 4" not in bars.load(8, 20, 12.8, 16, 24, "")
    assert 'aria-label="8 A &lt;of&gt; 12.8 A"' in text


def test_the_racks_page_leads_to_the_circuit(book) -> None:
    """The amplifier of the rack hangs on the circuit; a unit that is on none has no circuit there."""
    from rigbook.handbook.pages import rack

    (sheet,) = rack.page(book(RIG)).data.racks
    found = {s.what.text: s.circuit for s in sheet.slots}
    assert found["amp"] == ("stage", "power.html#circuit-stage")
    (bare,) = rack.page(book(RIG.replace("feeds: amp, ", ""))).data.racks
    assert {s.circuit for s in bare.slots} == {None}


def test_what_feeds_carry_and_lose_on_both_cables(book) -> None:
    """IEC 60364-5-52, tables B.52.2 and B.52.4 (from memory): 1.5 mm² 19.5 A, three loaded cores of 35 mm² 119 A."""
    text = RIG.replace("{rating: 63 A, phases: 3,", "{rating: 125 A, phases: 3, length: 50 m, area: 35 mm2,")
    data = power.page(book(text)).data
    rows = [(r.feed.text, r.breaker, r.carries, r.least, r.thin) for r in data.carrying]
    assert rows == [("house", "125 A", "119.0 A", "50 mm²", True), ("stage", "16 A", "19.5 A", "", False)]
    assert data.whole
    house, stage = data.feeds
    assert house.whole == ""
    lost = [float(x.split()[0]) for x in (house.drop, stage.drop, stage.whole)]
    assert abs(lost[0] + lost[1] - lost[2]) < 0.11
