"""Labels of cables, units and amplifier channels: what each says, and how large it can say it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.graph.codes import bare
from rigbook.handbook.anchors import href
from rigbook.handbook.devices import folded, rack_words, where
from rigbook.handbook.qr import Code, code
from rigbook.handbook.words import short
from rigbook.plan.model import Cable, Channel, Socket, Unit
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.compute.label_stock import LabelStock
    from rigbook.handbook.book import Book

GLYPH: Final = 0.6
"""Mean width of a character of the sheet's bold type, in its size; wide ones stand beside narrow ones (measured)."""
MONO: Final = 0.62
"""Width of a character of the type of codes."""
FINEST_MM: Final = 0.33
"""Least size of a module that a phone reads at arm's length (common practice)."""
SMALLEST: Final = 0.5
"""Least share of its size that a line shrinks to; below that it breaks."""


class Line(NamedTuple):
    """A line of a label."""

    key: str
    text: str
    fit: float
    """Share of the usual size at which it takes one line."""


@frozen
class Label:
    """One label."""

    head: str
    head_fit: float
    lines: tuple[Line, ...]
    foot: str
    qr: Markup | None


@frozen
class Measures:
    """Sizes on one label, in mm."""

    unit: float
    """1 on a label of 70 x 37 mm; type, padding and gaps follow it."""
    code: float
    """Side of a square code."""
    text: float
    """Width that is left for text beside it."""


def measures(stock: LabelStock) -> Measures:
    """Sizes on the labels of a stock."""
    unit = min(stock.size.width / 70, stock.size.height / 37)
    pad = 2.5 * unit
    square = min(stock.size.height - 2 * pad, 0.34 * stock.size.width) if stock.codes else 0.0
    return Measures(unit, square, stock.size.width - 2 * pad - square - 1.5 * unit)


class Labels:
    """Makes the labels of a book."""

    def __init__(self, book: Book, stock: LabelStock) -> None:
        self.book, self.stock, self.sizes = book, stock, measures(stock)
        self.published = str(book.plan.get("published") or "")

    def every(self) -> Iterator[Label]:
        """All of them: cables, leads of microphones, units, amplifier channels."""
        for lines in self.book.sheaths.values():
            yield from self.cable(lines)
        for channel in self.book.plan.channels:
            yield from self.lead(channel)
        for unit in self.book.plan.units.values():
            yield self.unit(unit)
            yield from self.amplifier(unit)

    def cable(self, lines: tuple[Cable, ...]) -> Iterator[Label]:
        """Both ends of a cable."""
        first = lines[0]
        name = self.book.codes[first.sheath]
        starts, ends = together(c.start for c in lines), together(c.end for c in lines)
        carries = tuple(dict.fromkeys(n for c in lines for n in self.book.carried.get(c.start.id, ())))
        length = first.length.page() if first.length else ""
        foot = joined(t for t in (length, short(carries, 2)) if t)
        qr = self.square(name, f"patch.html#{bare(name)}")
        for here, far in ((starts, ends), (ends, starts)):
            yield self.label(name, ((phrase("here"), here), (phrase("far end"), far)), foot, qr)

    def lead(self, channel: Channel) -> Iterator[Label]:
        """Both ends of the cable of a microphone, DI or line source, which the plan names by its channel only."""
        if not channel.source_key:
            return
        book, kind = self.book, channel.source_kind
        name = book.desk_name(channel.desk, str(channel.number))
        foot = [kind.title] if kind else []
        qr = self.square(f"ch {name}", href("channel", f"{channel.desk} {channel.number}"))
        if channel.record.get("cable"):
            foot.insert(0, channel.record.get("cable").page())
        for socket in channel.plugged:
            for here, far in ((channel.name, socket.id), (socket.id, channel.name)):
                lines = ((phrase("here"), here), (phrase("far end"), far))
                yield self.label(phrase("Ch %(number)s", number=name), lines, joined(foot), qr)

    def unit(self, unit: Unit) -> Label:
        """A unit: its name, what it is, where it goes."""
        book = self.book
        racked = book.racked.get(unit.name)
        place = rack_words(racked) if racked else where(unit)
        lines = [(phrase("spare") if unit.spare else phrase("what"), unit.kind.title if unit.kind else "")]
        if place:
            lines.append((phrase("where"), place))
        foot = unit.title if unit.title != unit.name else ""
        rows = 2 if place else 4  # what has no place has the room of it
        return self.label(unit.name, lines, foot, self.square(unit.name, href("unit", unit.name)), rows)

    def amplifier(self, unit: Unit) -> Iterator[Label]:
        """Each channel of an amplifier in use: what goes in, which box hangs on it."""
        if unit.family != "amplifier" or unit.kind is None:
            return
        for port in (p for p in unit.kind.ports if p.startswith("out ")):
            out, into = Socket(unit.name, port), Socket(unit.name, f"in {port[4:]}")
            boxes = together(far for _, far in self.book.plugged.get(out.id, ()))
            fed = together(far for _, far in self.book.plugged.get(into.id, ()))
            if boxes or fed:
                lines = ((phrase("from"), fed or "–"), (phrase("to"), boxes or "–"))
                carries = short(self.book.carried.get(out.id, ()), 2)
                qr = self.square(out.id, href("socket", out.id))
                yield self.label(f"{unit.name} {port[4:]}", lines, carries, qr)

    def label(self, head: str, lines: Iterable[tuple[str, str]], foot: str, qr: Code | None, rows: int = 1) -> Label:
        """A label with its sizes; each line may take so many rows."""
        unit, text = self.sizes.unit, self.sizes.text + (0.0 if qr else self.sizes.code)
        # of two rows, the first ends where a word does not fit any more
        wide = text if rows == 1 else 0.8 * rows * text
        return Label(
            head,
            fit(head, 6.0 * unit * MONO / GLYPH, text),
            tuple(Line(key, said, fit(said, 3.5 * unit, wide)) for key, said in lines),
            foot,
            qr.svg if qr else None,
        )

    def square(self, name: str, place: str) -> Code | None:
        """The code that leads to a thing's line: its address where the handbook is published; else, and where that
        would be too fine to read, its short name, which the Find field takes. None where that is too fine as well.
        """
        address = (f"{self.published}/{place}",) if self.published else ()
        made = (_code(text) for text in (*address, name) if self.sizes.code)
        return next((c for c in made if self.sizes.code / c.modules >= FINEST_MM), None)


@lru_cache(maxsize=1024)
def _code(text: str) -> Code:
    return code(text)


def fit(text: str, size: float, width: float) -> float:
    """Share of a type size (mm) at which a text takes one line of a width (mm)."""
    return round(max(min(width / (GLYPH * size * max(len(text), 1)), 1.0), SMALLEST), 3)


def together(sockets: Iterable[Socket]) -> str:
    """Sockets in one text: `split-1/a 1–8`."""
    by_unit: dict[str, list[str]] = {}
    for socket in dict.fromkeys(sockets):
        by_unit.setdefault(socket.unit, []).append(socket.port)
    return ", ".join(f"{unit}/{folded(ports)}" for unit, ports in by_unit.items())
