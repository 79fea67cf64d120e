"""The cables of a rig by kind and length."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigbook.graph import kinds as k
from rigbook.graph.codes import bare
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link
from rigbook.handbook.words import short
from rigbook.plan.model import Cable
from rigbook.records import frozen
from rigbook.text.phrase import counted
from rigbook.units.quantity import format_si

if TYPE_CHECKING:
    from rigbook.handbook.book import Book


@frozen
class CableRow:
    """A physical cable."""

    anchor: str
    label: str
    short: str
    """The label as an address ends in it: capitals and figures only. What a square code leads to."""
    length: str
    start: tuple[Link, ...]
    end: tuple[Link, ...]
    carries: str
    tick: str


@frozen
class CableKind:
    """All cables of a kind."""

    title: str
    rows: tuple[CableRow, ...]
    totals: tuple[tuple[str, int], ...]
    """How many of each length; an empty length where the plan gives none."""


def by_kind(book: Book) -> Iterator[CableKind]:
    """Cables by kind, shortest first, with how many of each length."""
    kinds: dict[str, list[tuple[Cable, ...]]] = {}
    for lines in book.sheaths.values():
        kinds.setdefault(lines[0].kind_name, []).append(lines)
    for name, sheaths in kinds.items():
        sheaths.sort(key=lambda lines: (lines[0].length.value if lines[0].length else -1.0, lines[0].sheath))
        totals: dict[str, int] = {}
        for lines in sheaths:
            text = format_si(lines[0].length.value, "length", page=True) if lines[0].length else ""
            totals[text] = totals.get(text, 0) + 1
        title = sheaths[0][0].kind.title if sheaths[0][0].kind else name
        yield CableKind(title, tuple(row(book, lines) for lines in sheaths), tuple(totals.items()))


def row(book: Book, lines: tuple[Cable, ...]) -> CableRow:
    """A physical cable with all its lines."""
    first = lines[0]
    carries = dict.fromkeys(name for c in lines for name in book.carried.get(c.start.id, ()))
    return CableRow(
        anchor=anchor("cable", first.sheath),
        label=book.label(first),
        short=bare(book.label(first)),
        length=first.length.page() if first.length else "",
        start=tuple(dict.fromkeys(book.socket(c.start) for c in lines)),
        end=tuple(dict.fromkeys(book.socket(c.end) for c in lines)),
        carries=short(tuple(carries)) or network(book, first),
        tick=f"cable {first.sheath}",
    )


def network(book: Book, cable: Cable) -> str:
    """How many sockets are patched over a network cable; empty for any other cable."""
    if cable not in book.rig.carriers.cables:
        return ""
    nodes = book.rig.net.nodes
    sockets = {n for a, b, _ in book.on_cable.get(cable.sheath, ()) for n in (a, b) if nodes[n]["kind"] == k.SOCKET}
    return counted(len(sockets), "%(num)s socket patched over it", "%(num)s sockets patched over it")
