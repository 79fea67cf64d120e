"""Power: what hangs on each circuit and phase, the order of switching, long feeds, heat in the racks."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.draws import heat_flow
from rigbook.compute.figure import Figure, Result
from rigbook.compute.results import results
from rigbook.handbook.anchors import anchor
from rigbook.handbook.circuits import CircuitRow, UnitRow, amps, circuit, shown, unit_row
from rigbook.handbook.drawings import bars
from rigbook.handbook.feeds import CarryRow, FeedRow, carrying, feeds
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.compute.mains import Circuit, Mains, Supply
    from rigbook.compute.results import Results
    from rigbook.handbook.book import Book


class PhaseRow(NamedTuple):
    """One phase of a supply."""

    name: str
    load: str
    circuits: tuple[Link, ...]
    bar: Markup


@frozen
class SupplyRow:
    """A supply."""

    name: str
    anchor: str
    phases: int
    volts: str
    rating: str
    rows: tuple[PhaseRow, ...]
    """None where no circuit of the plan comes from it."""
    unbalance: str
    """Empty where one phase alone is in use."""
    unbalance_limit: str
    neutral: str
    text: Markup


class Switch(NamedTuple):
    """A unit to be switched on or off."""

    unit: Link
    kind: str
    circuit: Link | None
    on_tick: str
    off_tick: str


class Hot(NamedTuple):
    """A rack and its heat."""

    rack: Link
    heat: str
    flow: str
    current: str
    open: str
    """Rack units in front that let air through; empty where there are none."""
    over: bool


@frozen
class Power:
    """Data of the page."""

    supplies: tuple[SupplyRow, ...]
    circuits: tuple[CircuitRow, ...]
    loose: tuple[UnitRow, ...]
    """Units that the plan puts on no circuit."""
    order: tuple[Switch, ...]
    feeds: tuple[FeedRow, ...]
    whole: bool
    """True where a supply's own feed is known, so that circuits lose more than along their own."""
    carrying: tuple[CarryRow, ...]
    racks: tuple[Hot, ...]
    share: str
    """The rule for lasting loads, with its source."""
    drop_limit: str
    heat_limit: str
    assumptions: tuple[str, ...]
    text: Markup


def page(book: Book) -> Page | None:
    """The power page; none where the plan has neither circuits, supplies nor anything that draws power."""
    got = results(book.rig)
    mains = got.mains
    if not (mains.draws or mains.circuits or mains.supplies):
        return None
    section = book.section("power")
    data = Power(
        supplies=tuple(supply(book, got, s) for s in mains.supplies),
        circuits=tuple(circuit(book, mains, c) for c in mains.circuits),
        loose=tuple(unit_row(book, d) for d in mains.draws if d.circuit not in mains.circuit_records),
        order=tuple(switches(book, mains)),
        feeds=tuple(feeds(book, got)),
        whole=any(isinstance(s.feed.drop, Figure) for s in mains.supplies),
        carrying=tuple(carrying(book, got)),
        racks=tuple(racks(book, got)),
        share=got.limits.said("circuit-share"),
        drop_limit=got.limits.said("voltage-drop"),
        heat_limit=got.limits.said("rack-heat"),
        assumptions=tuple(assumptions(book, got)),
        text=book.text_of(section),
    )
    return Page("power", book.say("Power"), "power.html", data, book.say("crew"))


def supply(book: Book, got: Results, s: Supply) -> SupplyRow:
    """A supply with its phases."""
    from markupsafe import Markup

    scale = max((s.rating or 0.0, *(a.value for _, a in s.by_phase)))
    rows = []
    used = any(c.supply == s.name for c in got.mains.circuits)
    for phase, load in s.by_phase if used else ():
        mine = [c.name for c in got.mains.circuits if c.supply == s.name and c.phase == phase]
        words = book.say("%(phase)s: %(load)s with loud music", phase=phase, load=load.text)
        bar = Markup(bars.load(load.value, load.value, None, s.rating, scale, words)) if scale else Markup("")
        rows.append(PhaseRow(phase, load.text, tuple(book.link("circuit", n) for n in mine), bar))
    volts = s.record.get("voltage")
    return SupplyRow(
        name=s.name,
        anchor=anchor("supply", s.name),
        phases=s.phases,
        volts=volts.page() if volts else "",
        rating=amps(s.rating),
        rows=tuple(rows),
        unbalance=shown(s.unbalance),
        unbalance_limit=got.limits.said("phase-unbalance"),
        neutral=shown(s.neutral) if used else "",
        text=book.text_of(s.record),
    )


def switches(book: Book, mains: Mains) -> Iterator[Switch]:
    """Units in the order of switching on."""
    for name in mains.order:
        unit = book.plan.units[name]
        on = mains.circuit_of.get(name, "")
        where = book.link("circuit", on) if on in mains.circuit_records else None
        kind = unit.kind.title if unit.kind else ""
        yield Switch(book.link("unit", name, unit.title), kind, where, f"power {name}", f"off {name}")


def racks(book: Book, got: Results) -> Iterator[Hot]:
    """Racks with the heat of their units."""
    for f in got.racks:
        title = str(f.rack.record.get("title") or f.rack.name)
        over = f.heat.value > got.limits["rack-heat"]
        yield Hot(
            book.link("rack", f.rack.name, title), f.heat.text, heat_flow(f.heat.value).text, f.current.text,
            shown(f.air) if f.air.value else "", over,
        )  # fmt: skip


def assumptions(book: Book, got: Results) -> Iterator[str]:
    """What the figures rest on besides the plan, each once."""
    figures: list[Result] = []
    for c in got.mains.circuits:
        figures += [c.eighth, c.feed.drop, c.feed.carries]
    for s in got.mains.supplies:
        figures += [s.unbalance, s.neutral, s.feed.drop, s.feed.carries]
    figures += [d.heat for d in got.mains.draws] + [x.carries for x in got.mains.leads]
    yield from dict.fromkeys(a for f in figures if isinstance(f, Figure) for a in f.assumptions)
    volts = {c.volts for c in got.mains.circuits if not _typed_volts(got.mains, c)}
    for value in sorted(volts):
        yield book.say("%(volts)s V, where the supply states none", volts=f"{value:g}")
    fed = [c.feed for c in got.mains.circuits] + [s.feed for s in got.mains.supplies]
    if any(isinstance(feed.drop, Figure) for feed in fed):
        yield book.say("copper at %(degrees)s °C", degrees=f"{got.limits['temperature']:g}")


def _typed_volts(mains: Mains, c: Circuit) -> bool:
    supply_record = mains.supply_records.get(c.supply)
    return bool(supply_record and supply_record.get("voltage"))
