"""Racks: both elevations to scale, what sits where, what it weighs and draws, and what plugs in behind."""

from __future__ import annotations

from collections.abc import Container, Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.results import results
from rigbook.handbook.anchors import anchor
from rigbook.handbook.devices import End, end, folded
from rigbook.handbook.drawings import rack as drawing
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import chosen, short
from rigbook.plan.model import Cable, Rack, Socket, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Quantity

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.compute.racks import RackFigures
    from rigbook.handbook.book import Book, Note


@frozen
class Slot:
    """What takes a run of rack units."""

    units: str
    """`3–4`, counted from the bottom."""
    side: str
    what: Link
    kind: str
    weight: str
    depth: str
    draw: str
    """Mains power at an eighth of rated output, as its kind says."""
    circuit: Link | None
    """None where the plan puts it on none."""


class Plug(NamedTuple):
    """A cable in a socket of a rack unit, or a multicore in several."""

    unit: Link
    socket: Link
    carries: str
    end: End


class Measure(NamedTuple):
    """A figure of the rack and what it rests on."""

    name: str
    text: str
    basis: str


@frozen
class RackSheet:
    """A rack."""

    name: str
    anchor: str
    title: str
    kind: str
    where: str
    wheels: bool
    lifts: str
    front: Markup
    rear: Markup
    measures: tuple[Measure, ...]
    slots: tuple[Slot, ...]
    """From the top down, as seen from the front."""
    plugs: tuple[Plug, ...]
    text: Markup
    notes: tuple[Note, ...]


@frozen
class Racks:
    """Data of the page."""

    racks: tuple[RackSheet, ...]


def page(book: Book) -> Page | None:
    """The rack page; none where the plan has no rack."""
    if not book.plan.racks:
        return None
    figures = {f.rack.name: f for f in results(book.rig).racks}
    sheets = tuple(sheet(book, rack, figures[rack.name]) for rack in book.plan.racks.values())
    return Page("rack", phrase("Racks"), "rack.html", Racks(sheets), phrase("crew"))


def sheet(book: Book, rack: Rack, figures: RackFigures) -> RackSheet:
    """A rack with all that is in it."""
    from markupsafe import Markup

    at = rack.record.get("at")
    return RackSheet(
        name=rack.name,
        anchor=anchor("rack", rack.name),
        title=str(rack.record.get("title") or rack.name),
        kind=rack.kind.title if rack.kind else "",
        where=at.text if at else "",
        wheels=bool(rack.record.get("wheels")),
        lifts=str(rack.record.get("lifts") or ""),
        front=Markup(drawing.draw(book.rig, rack.name, "front", book.tongue)),
        rear=Markup(drawing.draw(book.rig, rack.name, "rear", book.tongue)),
        measures=tuple(measures(figures)),
        slots=tuple(slots(book, figures)),
        plugs=tuple(plugs(book, rack)),
        text=book.text_of(rack.record),
        notes=book.notes_about(rack.name),
    )


def measures(figures: RackFigures) -> Iterator[Measure]:
    """Size, weight, heat and current of a rack, with what was assumed."""
    used = figures.used.text
    words = phrase("%(used)s of %(all)s", used=used, all=figures.units) if figures.units else used
    yield Measure(phrase("Rack units"), words, "")
    unknown = figures.unknown_weight
    missing = phrase("without %(names)s, whose weight is not known", names=short(unknown)) if unknown else ""
    yield Measure(phrase("Weight"), figures.weight.text, missing)
    for name, figure in (
        (phrase("Weight for each lifter"), figures.per_lifter),
        (phrase("Deepest place"), figures.depth),
        (phrase("Heat at 1/8 power"), figures.heat),
        (phrase("Current at 1/8 power"), figures.current),
    ):
        assumed = getattr(figure, "assumptions", ())
        yield Measure(name, figure.text, joined(assumed, "; ") or getattr(figure, "why", ""))


def slots(book: Book, figures: RackFigures) -> Iterator[Slot]:
    """Everything in a rack from the top down, the front before the rear."""
    mains = results(book.rig).mains
    circuits = {d.unit: d.circuit for d in mains.draws}
    for item in sorted(figures.items, key=lambda i: (-i.high, i.side, i.name)):
        unit = None if item.panel else book.plan.units.get(item.name)
        kind = unit.kind if unit else None
        yield Slot(
            units=str(item.low) if item.low == item.high else f"{item.low}–{item.high}",
            side=chosen(item.side),
            what=book.link("unit", item.name, unit.title) if unit else Link(chosen(item.name), ""),
            kind=kind.title if kind else "",
            weight=_typed(kind.get("weight") if kind else None),
            depth=_typed(kind.get("depth") if kind else None),
            draw=_typed((kind.get("draw-eighth") or kind.get("draw-idle")) if kind else None),
            circuit=_circuit(book, circuits.get(item.name, ""), mains.circuit_records),
        )


def _circuit(book: Book, name: str, known: Container[str]) -> Link | None:
    """A circuit with its place; a name that the plan gives no circuit has none."""
    if not name:
        return None
    return book.link("circuit", name) if name in known else Link(name, "")


def _typed(value: Quantity | None) -> str:
    return value.page() if value else ""


def plugs(book: Book, rack: Rack) -> Iterator[Plug]:
    """Every cable that goes into the rack, from the top down, in the order of the sockets; a multicore once a unit."""
    for _, item in sorted((*rack.front, *rack.rear), key=lambda row: -row[0]):
        unit = book.plan.units.get(item.unit)
        if unit is None or unit.kind is None:
            continue
        sheaths: dict[tuple[str, bool], list[tuple[Socket, Cable, Socket]]] = {}
        for port in unit.kind.ports:
            socket = Socket(unit.name, port)
            for cable, far in book.plugged.get(socket.id, ()):
                sheaths.setdefault((cable.sheath, cable.start == socket), []).append((socket, cable, far))
        for lines in sheaths.values():
            yield _plug(book, unit, lines)


def _plug(book: Book, unit: Unit, lines: list[tuple[Socket, Cable, Socket]]) -> Plug:
    """A cable, or the lines of a multicore, at a unit."""
    socket, cable, far = lines[0]
    seen = end(book, socket, cable, far)._replace(tick=f"rack {socket.id} {cable.sheath}")
    here, carried = book.socket(socket), book.carried
    if len(lines) > 1:
        seen = seen._replace(far=seen.far._replace(text=folded([f.id for _, _, f in lines])))
    carries = dict.fromkeys(name for s, _, _ in lines for name in carried.get(s.id, ()))
    return Plug(
        book.link("unit", unit.name),
        here._replace(text=folded([s.port for s, _, _ in lines])),
        short(tuple(carries)),
        seen,
    )
