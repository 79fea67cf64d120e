"""Matrices of a desk: channels × buses, and buses × sockets; cut into blocks that fit a sheet of paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.handbook.page import Link
from rigbook.handbook.words import chosen, level
from rigbook.language.values.sends import Send
from rigbook.plan.model import Bus
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

COLUMNS: Final = 16
"""Columns of a block. With row heads and one-figure cells sixteen still fit the 180 mm of an A4 sheet."""


class Column(NamedTuple):
    """The head of a column: a name, and what holds for the whole column."""

    head: Link
    sub: str


class Row(NamedTuple):
    """A row: its number or mark, its name, and a text for each column, empty where there is nothing."""

    mark: str
    head: Link
    cells: tuple[str, ...]


@frozen
class Matrix:
    """A block of a matrix."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


def blocks(columns: Sequence[Column], rows: Sequence[Row]) -> Iterator[Matrix]:
    """A matrix in blocks of columns. In all but the first block, rows without an entry are left out."""
    for start in range(0, len(columns), COLUMNS):
        cut = slice(start, start + COLUMNS)
        kept = (Row(r.mark, r.head, r.cells[cut]) for r in rows if not start or any(r.cells[cut]))
        yield Matrix(tuple(columns[cut]), tuple(kept))


def sends(book: Book, desk: str) -> tuple[Matrix, ...]:
    """Channels × buses: the level of each send in dB, and where it departs from the pick-off of its bus.

    Buses that feed other buses stand below the channels.
    """
    buses = [b for (d, _), b in book.plan.buses.items() if d == desk]
    columns = [Column(book.bus(b), chosen(b.pick)) for b in buses]
    rows = [
        Row(str(c.number), book.channel(c, c.name), _cells(c.sends, buses))
        for c in book.plan.channels
        if c.desk == desk
    ]
    rows += [Row(phrase("bus"), book.bus(b), _cells(b.sends, buses, "post")) for b in buses if b.sends]
    return tuple(blocks(columns, rows))


def _cells(sent: tuple[Send, ...], buses: list[Bus], pick: str = "") -> tuple[str, ...]:
    """The send to each bus. `pick` is the pick-off of a send that does not say; without it, as its bus says."""
    by_bus: dict[str, list[Send]] = {}
    for send in sent:
        by_bus.setdefault(send.bus, []).append(send)
    # most cells of a large desk are empty
    return tuple(
        joined(_send(s, b.pick, pick) for s in by_bus[b.name]) if b.name in by_bus else "" for b in buses
    )


def _send(send: Send, usual: str, default: str) -> str:
    if send.off:
        return phrase("off")
    pick = send.pick or default or usual
    words = (level(send.level.value if send.level else 0.0), chosen(send.leg), chosen(pick) if pick != usual else "")
    return joined((w for w in words if w), " ")


def outputs(book: Book, desk: str) -> tuple[Matrix, ...]:
    """Bus legs × sockets: where each leg leaves the desk, and from which side of its fader."""
    mine = [o for o in book.plan.outputs if o.desk == desk]
    sockets = dict.fromkeys(s for o in mine for s, _ in o.sockets)
    columns = [Column(book.socket(s), "") for s in sockets]
    rows = []
    for output in mine:
        used = {s for s, _ in output.sockets}
        name = book.desk_name(desk, output.name)
        head = book.link("output", name, output.name)
        rows.append(Row("", head, tuple(chosen(output.pick) if s in used else "" for s in sockets)))
    return tuple(blocks(columns, rows))
