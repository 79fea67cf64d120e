"""Ten minutes: the whole system on one printed sheet, for the engineer who walks in an hour before doors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.compute.results import results
from rigbook.graph import kinds as k
from rigbook.handbook.contacts import Contact, contacts
from rigbook.handbook.devices import folded
from rigbook.handbook.key_figures import levels, mains
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import both, bus_words, chosen, role_words
from rigbook.plan.model import Bus, Channel, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Amount

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book

MIDDLE = ("desk", "stage box", "splitter", "tie line", "processor", "amplifier", "radio", "player", "recorder")
"""Families that a visitor looks for, in the order of the signal. Stands, cables and cases are found by themselves."""
FEW = 8
"""Channels with phantom power that are named; more are told by their numbers."""
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
    rest: str
    """What its kind has of what, which a crowded sheet leaves to other pages."""
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
    switching: tuple[Link, ...]
    """Units in the order of switching on."""
    boxes: tuple[Thing, ...]
    devices: tuple[Thing, ...]
    inputs: tuple[Fact, ...]
    limits: tuple[Fact, ...]
    hazards: Markup
    contacts: tuple[Contact, ...]

    @property
    def crowd(self) -> int:
        """How much is on the sheet, 0 to 3: the print style sheet sets it the closer, so that it stays one sheet.

        The steps are those at which A4 and Letter were found to overflow; `build --pdf` measures besides. Nothing is
        smaller than 7 pt: a crowded sheet leaves out what kind of box a speaker is and how many sockets a device has.
        """
        lines = len(self.buses) + len(self.boxes) + len(self.devices) + max(len(self.inputs), len(self.limits))
        lines += 3 if self.switching else 0
        return sum(lines > step for step in CROWDED)


def page(book: Book) -> Page | None:
    """The ten-minutes page."""
    room = book.section("room")
    units = [u for u in book.units if u.family in MIDDLE]
    data = TenMinutes(
        buses=tuple(bus_line(book, b) for b in book.plan.buses.values()),
        switching=tuple(book.link("unit", name) for name in results(book.rig).mains.order),
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
        joined((*((chosen(o.leg),) if several and o.leg else ()), both(s.id for s, _ in o.sockets)), ": ")
        for o in outputs
    ]
    into = [phrase("into %(bus)s", bus=s.bus) for s in bus.sends if not s.off]
    # what plays through another bus stands in the line of that bus
    nodes = [s.id for o in outputs for s, _ in o.sockets]
    nodes = nodes if nodes or into else [k.bus_node(bus.desk, bus.name, leg) for leg in bus.legs]
    ends = dict.fromkeys(e for n in nodes for e in book.rig.ends_of(n) if e in book.plan.units)
    link = book.bus(bus)
    return BusLine(
        bus=link._replace(text=book.desk_name(bus.desk, bus.name)),
        role=joined((role_words(bus), phrase("stereo"))) if bus.stereo else role_words(bus),
        sockets=joined((*sockets, *into)) or phrase("leaves nowhere"),
        reaches=joined(in_rows(tuple(ends))),
        processing=bus_words(bus),
    )


def thing(book: Book, unit: Unit) -> Thing:
    """A device with its place: where it stands, or in which rack."""
    racked = book.racked.get(unit.name)
    place = unit.position.text if unit.position else ""
    if racked:
        place = phrase("rack %(name)s, unit %(n)s", name=racked.rack, n=racked.low)
    fed = ", ".join(book.carried.get(unit.name, ())) if unit.is_speaker else ""
    kind, _, rest = (book.say(unit.kind.title) if unit.kind else "").partition(", ")
    return Thing(book.link("unit", unit.name), kind, rest, place, fed)


def inputs(book: Book) -> Iterator[Fact]:
    """Channels in use, the sockets they come in by, and the sockets that are free."""
    plan = book.plan
    for desk in book.desks:
        own = [c for c in plan.channels if c.desk == desk]
        name = phrase("Channels of %(desk)s", desk=desk) if len(book.desks) > 1 else phrase("Channels")
        if own:
            numbers = folded([f"ch {c.number}" for c in own]).replace("ch ", "")
            yield Fact(name, phrase("%(number)s in use, ch %(channels)s", number=len(own), channels=numbers))
    full = []
    for unit in book.units:
        if unit.family not in ("desk", "stage box", "splitter") or unit.kind is None:
            continue
        ports = [p.name for p in unit.kind.ports.values() if p.direction == "in" and p.level in ("mic", "mic or line")]
        plugged = {s.port for c in plan.channels for s in c.plugged if s.unit == unit.name}
        plugged |= {p for p in ports if f"{unit.name}/{p}" in book.plugged}
        free = [p for p in ports if p not in plugged]
        if free:
            used = folded([p for p in ports if p in plugged])
            words = phrase("free %(free)s; in use %(used)s", free=folded(free), used=used or phrase("none"))
            yield Fact(unit.name, words)
        elif ports:
            full.append(unit.name)
    if full:
        yield Fact(phrase("No input free"), joined(full))
    for desk in book.desks:
        phantom = [c for c in plan.channels if c.desk == desk and c.record.get("phantom")]
        if phantom:
            yield Fact(book.desk_name(desk, Amount("48", "V")), phantom_words(phantom))


def phantom_words(channels: list[Channel]) -> str:
    """Channels with phantom power: a few by number and name, many by number alone, as the desk has them."""
    if len(channels) <= FEW:
        return joined(f"{c.number} {c.name}" for c in channels)
    return phrase("ch %(numbers)s", numbers=folded([f"ch {c.number}" for c in channels]).replace("ch ", ""))


def in_rows(names: tuple[str, ...]) -> Iterator[str]:
    """Names, three and more that are counted on told by the first and the last: `fill-1 to fill-4`."""
    rows: list[list[str]] = []
    for name in names:
        stem, dash, n = name.rpartition("-")
        last = rows[-1][-1] if rows else ""
        if dash and n.isdigit() and last == f"{stem}-{int(n) - 1}":
            rows[-1].append(name)
        else:
            rows.append([name])
    for row in rows:
        yield from row if len(row) < 3 else (phrase("%(first)s to %(last)s", first=row[0], last=row[-1]),)


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
    circuits = book.entries(book.section("power"), "circuits")
    ratings = Counter(c.get("rating").page() for _, c in circuits if c.get("rating"))
    if ratings:
        alike = (joined((str(n), rating), " × ") for rating, n in ratings.items())
        yield Fact(phrase("Mains circuits"), joined(alike))
