"""Strips for the socket panels of desks, stage boxes, splitters and tie lines, at the pitch of the panel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.compute.label_stock import LabelStock, pitch
from rigbook.handbook.devices import folded
from rigbook.handbook.label_sheets import GLYPH, SMALLEST
from rigbook.handbook.words import short
from rigbook.plan.model import Channel, Socket, Unit
from rigbook.records import frozen

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

FAMILIES: Final = ("desk", "stage box", "splitter", "tie line", "processor")
"""Families with rows of like sockets."""
MARGIN_MM: Final = 8.0
"""Edge of the sheet that a printer may leave white."""
NARROWEST_MM: Final = 3.0
TEXT: Final = 0.27
"""Size of the words in a cell, of the height of the strip: two lines below the number."""


class Cell(NamedTuple):
    """A socket on a strip."""

    number: str
    text: str
    fit: float


@frozen
class Strip:
    """A row of cells, cut out in one piece."""

    title: str
    """`box/in 1–8`."""
    pitch: float
    """mm from cell to cell."""
    cells: tuple[Cell, ...]


def strips(book: Book, stock: LabelStock) -> Iterator[Strip]:
    """A strip for every row of sockets of which one at least has something in it."""
    wide, said = max(stock.sheet.width, stock.sheet.height) - 2 * MARGIN_MM, words(book)
    for unit in book.plan.units.values():
        if unit.kind is None or unit.family not in FAMILIES:
            continue
        step = min(max(pitch(book.plan, unit), NARROWEST_MM), wide)
        number = int(wide / step)
        number = number // 8 * 8 or number
        for ports in rows(book, unit):
            for at in range(0, len(ports), number):
                here = ports[at : at + number]
                cells = tuple(cell(book, Socket(unit.name, port), said, step, stock.strip) for port in here)
                if any(c.text for c in cells):
                    yield Strip(f"{unit.name}/{folded(here)}", step, cells)


def rows(book: Book, unit: Unit) -> Iterator[list[str]]:
    """Runs of numbered sockets of one name, mains and network left out."""
    ports = unit.kind.ports if unit.kind else {}
    names = [n for n, p in ports.items() if p.level not in ("mains", "network") and " " in n]
    for _, run in groupby(names, key=lambda n: n.rpartition(" ")[0]):
        found = list(run)
        if any(f"{unit.name}/{n}" in book.plugged or f"{unit.name}/{n}" in book.anchored for n in found):
            yield found


def cell(book: Book, socket: Socket, said: Mapping[str, str], step: float, high: float) -> Cell:
    """A socket: its number, and what is in it, or else what it carries."""
    text = said[socket.id] if socket.id in said else short(book.carried.get(socket.id, ()), 1)
    size, room = TEXT * high, step - 1.6
    longest = max((len(w) for w in text.split()), default=1)
    # two lines, of which a word at the end of the first may leave a tenth empty
    fit = min(room / (GLYPH * size * longest), 1.8 * room / (GLYPH * size * max(len(text), 1)), 1.0)
    return Cell(socket.port.rpartition(" ")[2], text, round(max(fit, SMALLEST), 3))


def words(book: Book) -> Mapping[str, str]:
    """By `unit/port`: `7 Whistle` where a channel listens or a source is plugged, else the bus legs that leave."""
    plan = book.plan
    legs: dict[str, list[str]] = {}
    for output in plan.outputs:
        for socket in dict.fromkeys(socket.id for socket, _ in output.sockets):
            legs.setdefault(socket, []).append(output.name)
    out = {socket: ", ".join(names) for socket, names in legs.items()}
    for channel in reversed(plan.channels):  # of several, the first says it
        out |= dict.fromkeys((socket.id for socket in (*channel.plugged, *channel.sockets)), _channel(book, channel))
    return out


def _channel(book: Book, channel: Channel) -> str:
    return f"{book.desk_name(channel.desk, str(channel.number))} {channel.name}"
