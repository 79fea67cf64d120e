"""Ten minutes: the whole system on one printed sheet, for the engineer who walks in an hour before doors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.graph import kinds as k
from rigbook.handbook.contacts import Contact, contacts
from rigbook.handbook.devices import folded
from rigbook.handbook.key_figures import levels, mains
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import both, chosen, processing_words, role_words
from rigbook.plan.model import Bus, Unit
from rigbook.records import frozen
from rigbook.text.phrase import counted, joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

MIDDLE = ("desk", "stage box", "splitter", "tie line", "processor", "amplifier", "radio", "player", "recorder")
"""Families that a visitor looks for, in the order of the signal. Stands, cables and cases are found by themselves."""
CROWDED = (34, 50, 60)
"""Lines on the sheet from which it is set smaller."""


class BusLine(NamedTuple):
    """Where a bus goes."""

    bus: Link
    role: str
    sockets: str
    reaches: str
    processing: str


class Thing(NamedTuple):
    """A device or box: what it is and where it stands."""

    unit: Link
    kind: str
    where: str
    fed: str
    """Bus legs that come out of it, for a speaker."""


class Fact(NamedTuple):
    """A limit, or a fact about the inputs."""

    name: str
    text: str


@frozen
class TenMinutes:
    """Data of the page."""

    buses: tuple[BusLine, ...]
    boxes: tuple[Thing, ...]
    devices: tuple[Thing, ...]
    inputs: tuple[Fact, ...]
    limits: tuple[Fact, ...]
    hazards: Markup
    contacts: tuple[Contact, ...]

    @property
    def crowd(self) -> int:
        """How much is on the sheet, 0 to 3: the print style sheet sets it the smaller, so that it stays one sheet.

        The steps are those at which A4 and Letter were found to overflow; `build --pdf` measures instead.
        """
        lines = len(self.buses) + len(self.boxes) + len(self.devices) + max(len(self.inputs), len(self.limits))
        return sum(lines > step for step in CROWDED)


def page(book: Book) -> Page | None:
    """The ten-minutes page."""
    room = book.section("room")
    units = [u for u in book.units if u.family in MIDDLE]
    data = TenMinutes(
        buses=tuple(bus_line(book, b) for b in book.plan.buses.values()),
        boxes=tuple(thing(book, book.plan.units[b]) for b in book.rig.boxes),
        devices=tuple(thing(book, u) for u in sorted(units, key=lambda u: MIDDLE.index(u.family))),
        inputs=tuple(inputs(book)),
        limits=tuple(limits(book)),
        hazards=book.note(room.get("hazards") if room else None),
        contacts=contacts(book),
    )
    return Page("ten-minutes", phrase("Ten minutes"), "ten-minutes.html", data, phrase("engineer"))


def bus_line(book: Book, bus: Bus) -> BusLine:
    """A bus from socket to box, in one line."""
    outputs = [o for o in book.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name)]
    several = len(outputs) > 1
    sockets = [
        joined((*((chosen(o.leg),) if several and o.leg else ()), both(s.id for s, _ in o.sockets)), " ")
        for o in outputs
    ]
    into = [phrase("into %(bus)s", bus=s.bus) for s in bus.sends if not s.off]
    nodes = [k.bus_node(bus.desk, bus.name, leg) for leg in bus.legs]
    link = book.bus(bus)
    return BusLine(
        bus=link._replace(text=book.desk_name(bus.desk, bus.name)),
        role=joined((role_words(bus), phrase("stereo"))) if bus.stereo else role_words(bus),
        sockets=joined((*sockets, *into)) or phrase("leaves nowhere"),
        reaches=", ".join(dict.fromkeys(e for n in nodes for e in book.rig.ends_of(n) if e in book.plan.units)),
        processing=processing_words(bus.record),
    )


def thing(book: Book, unit: Unit) -> Thing:
    """A device with its place: where it stands, or in which rack."""
    racked = book.racked.get(unit.name)
    place = unit.position.text if unit.position else ""
    if racked:
        place = phrase("rack %(name)s, unit %(n)s", name=racked.rack, n=racked.low)
    fed = ", ".join(book.carried.get(unit.name, ())) if unit.is_speaker else ""
    return Thing(book.link("unit", unit.name), unit.kind.title if unit.kind else "", place, fed)


def inputs(book: Book) -> Iterator[Fact]:
    """Channels in use, the sockets they come in by, and the sockets that are free."""
    plan = book.plan
    for desk in book.desks:
        own = [c for c in plan.channels if c.desk == desk]
        name = phrase("Channels of %(desk)s", desk=desk) if len(book.desks) > 1 else phrase("Channels")
        if own:
            numbers = folded([f"ch {c.number}" for c in own]).replace("ch ", "")
            yield Fact(name, phrase("%(number)s in use, ch %(channels)s", number=len(own), channels=numbers))
    for unit in book.units:
        if unit.family not in ("desk", "stage box", "splitter") or unit.kind is None:
            continue
        ports = [p.name for p in unit.kind.ports.values() if p.direction == "in" and p.level in ("mic", "mic or line")]
        plugged = {s.port for c in plan.channels for s in c.plugged if s.unit == unit.name}
        plugged |= {p for p in ports if f"{unit.name}/{p}" in book.plugged}
        free = [p for p in ports if p not in plugged]
        if ports:
            used = folded([p for p in ports if p in plugged])
            none = phrase("none")
            words = phrase("in use %(used)s; free %(free)s", used=used or none, free=folded(free) or none)
            yield Fact(unit.name, words)
    for desk in book.desks:
        phantom = [f"{c.number} {c.name}" for c in plan.channels if c.desk == desk and c.record.get("phantom")]
        if phantom:
            yield Fact(book.desk_name(desk, Amount("48", "V")), ", ".join(phantom))


def limits(book: Book) -> Iterator[Fact]:
    """What a visitor must keep to."""
    room = book.section("room")
    if room and room.get("noise-limit"):
        over = room.get("noise-limit-over")
        words = phrase(
            "%(level)s A-weighted, averaged over %(time)s",
            level=room.get("noise-limit").page(),
            time=over.page() if over else Amount("15", "min"),
        )
        yield Fact(phrase("Level at the mix position"), words)
    loud = [joined((figure.number, figure.words), " ") for figure in (*levels(book), *mains(book))]
    if loud:
        yield Fact(phrase("Loud music, estimate"), joined(loud))
    limited = [b for b in book.plan.buses.values() if b.record.get("limiter")]
    if limited:
        each = (joined((book.desk_name(b.desk, b.name), b.record.get("limiter").page()), " ") for b in limited)
        yield Fact(phrase("Limiters"), joined(each))
    circuits = book.entries(book.section("power"), "circuits")
    ratings = Counter(c.get("rating").page() for _, c in circuits if c.get("rating"))
    if ratings:
        alike = (phrase("%(number)s of %(rating)s", number=n, rating=rating) for rating, n in ratings.items())
        number = counted(len(circuits), "%(num)s circuit", "%(num)s circuits")
        yield Fact(phrase("Mains"), joined((number, joined(alike)), ": "))
