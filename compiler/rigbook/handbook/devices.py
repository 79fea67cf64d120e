"""Devices of a rig with what is in each of their sockets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link
from rigbook.handbook.words import CONNECTORS, chosen, short
from rigbook.plan.model import Cable, Socket, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.units.quantity import Quantity

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book, Note, Racked


class End(NamedTuple):
    """A cable at a socket, seen from the socket."""

    label: Link
    kind: str
    length: str
    arrow: str
    """`to` or `from`: the way of the signal as seen from here."""
    far: Link
    tick: str


@frozen
class SocketRow:
    """A socket of a device and what is in it."""

    port: str
    anchor: str
    connector: str
    carries: str
    patched: tuple[Link, ...]
    """Desk channels that listen to it, or bus legs that leave by it."""
    source: str
    """Microphone or DI plugged straight in."""
    tick: str
    """Name of the tick box of that source."""
    ends: tuple[End, ...]


@frozen
class Device:
    """A unit with its sockets in use."""

    name: str
    anchor: str
    title: str
    """What is written on it, where that is not its name."""
    kind: str
    where: str
    rack: Link | None
    rows: tuple[SocketRow, ...]
    free: str
    """Sockets with nothing in them: `in 5–16, out 3`."""
    notes: tuple[Note, ...]
    text: Markup
    details: tuple[tuple[str, str], ...]
    """Mode, attenuation, aim, serial number …"""


DETAILS = (
    ("mode", phrase("mode")),
    ("attenuation", phrase("attenuation")),
    ("mount", phrase("mount")),
    ("stand", phrase("stand")),
    ("aim", phrase("aim")),
    ("tilt", phrase("tilt")),
    ("safety", phrase("second suspension")),
)
MARKED = (("serial", phrase("serial")), ("owner", phrase("owner")), ("returns", phrase("goes back")))


def device(book: Book, unit: Unit) -> Device:
    """A unit with its sockets in use, in the order of its kind."""
    ports = unit.kind.ports if unit.kind else {}
    names = [*ports, *(s.port for s in book.sockets_of(unit.name) if s.port not in ports)]
    used = {n for n in names if f"{unit.name}/{n}" in book.plugged or f"{unit.name}/{n}" in book.anchored}
    racked = book.racked.get(unit.name)
    marked = book.shows(unit.record)
    kind = unit.kind.title if unit.kind else phrase("a kind that is not known")
    return Device(
        name=unit.name,
        anchor=anchor("unit", unit.name),
        title=unit.title if unit.title != unit.name else "",
        kind=joined((kind, phrase("spare"))) if unit.spare else kind,
        where=where(unit),
        rack=book.link("rack", racked.rack, rack_words(racked)) if racked else None,
        rows=tuple(socket_row(book, unit, Socket(unit.name, n)) for n in names if n in used),
        free=folded([n for n in names if n not in used and ports[n].level != "mains"]),
        notes=book.notes_in(unit.name),
        text=book.note(unit.record.get("text") if marked else None),
        details=tuple(details(unit, marked)),
    )


def rack_words(racked: Racked) -> str:
    """Where in which rack: `stage-rack, unit 3, front`."""
    return joined((racked.rack, phrase("unit %(n)s", n=racked.low), chosen(racked.side)))


def where(unit: Unit) -> str:
    """Where a unit stands, as typed."""
    return unit.position.text if unit.position else chosen(unit.record.get("side"))


def details(unit: Unit, marked: bool) -> Iterator[tuple[str, str]]:
    """What else is said of a unit. Serial numbers and owners only for those who may read its note."""
    record = unit.record
    for key, word in (*DETAILS, *(MARKED if marked else ())):
        value = record.get(key)
        if value:
            shown = value.page() if isinstance(value, Quantity) else getattr(value, "text", None) or str(value)
            yield word, chosen(shown) if key == "mount" else shown


def socket_row(book: Book, unit: Unit, socket: Socket) -> SocketRow:
    """A socket with the cables in it and what the desk does with it."""
    port = unit.kind.ports.get(socket.port) if unit.kind else None
    patched, source, tick = book.desk_side(socket.id)
    return SocketRow(
        port=socket.port,
        anchor=anchor("socket", socket.id),
        connector=CONNECTORS.get(port.connector, port.connector) if port else phrase("not known"),
        carries=short(book.carried.get(socket.id, ())),
        patched=patched,
        source=source,
        tick=tick,
        ends=tuple(end(book, socket, p.cable, p.far) for p in book.plugged.get(socket.id, ())),
    )


def end(book: Book, socket: Socket, cable: Cable, far: Socket) -> End:
    """A cable as seen from one of its sockets."""
    return End(
        label=book.link("cable", cable.sheath, book.label(cable)),
        kind=cable.kind.title if cable.kind else cable.kind_name,
        length=cable.length.page() if cable.length else "",
        arrow=phrase("to") if cable.start == socket else phrase("from"),
        far=book.socket(far),
        tick=f"socket {socket.id} {cable.sheath}",
    )


def folded(names: list[str]) -> str:
    """`in 5–16, out 3` for the ports that the list holds, in order."""
    runs: list[tuple[str, str, str]] = []
    for name in names:
        stem, _, last = name.rpartition(" ")
        if runs and runs[-1][0] == stem and _next(runs[-1][2], last):
            runs[-1] = (stem, runs[-1][1], last)
        else:
            runs.append((stem, last, last))
    return ", ".join(f"{stem} {a}".strip() + (f"–{b}" if b != a else "") for stem, a, b in runs)


def _next(a: str, b: str) -> bool:
    if a.isdecimal() and b.isdecimal():
        return int(b) == int(a) + 1
    return len(a) == len(b) == 1 and a.isalpha() and ord(b) == ord(a) + 1
