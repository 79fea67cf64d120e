"""Tuning sheet: for each bus leg that drives loudspeakers what the plan sets and works out, and room to write down what
was found and what was set, in third octaves too. For the crew: what is typed stays on the device.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.compute.figure import Figure, Missing
from rigbook.compute.results import results
from rigbook.compute.tuning import Leg, Line, legs
from rigbook.graph.words import node_words
from rigbook.handbook.anchors import anchor
from rigbook.handbook.level_tables import band_name
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import chosen
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

SIDE_BY_SIDE: Final = 3
"""Tables that the bands of a leg stand in, of like height, so that a sheet holds them beside one another."""


class Setting(NamedTuple):
    """A line to hold against the plan."""

    key: str
    """Its field on the device."""
    what: str
    where: Link
    boxes: tuple[Link, ...]
    """Boxes that it is for, where it is not for all of the sheet."""
    planned: str
    worked: str
    against: Link


class Band(NamedTuple):
    """A third-octave band."""

    key: str
    name: str


class Part(NamedTuple):
    """Bands that stand in one table."""

    title: str
    bands: tuple[Band, ...]


@frozen
class Sheet:
    """What is written down of one leg."""

    anchor: str
    title: str
    role: str
    bus: Link
    boxes: tuple[Link, ...]
    microphone: str
    settings: tuple[Setting, ...]
    parts: tuple[Part, ...]


@frozen
class TuningSheet:
    """Data of the page."""

    sheets: tuple[Sheet, ...]
    basis: tuple[str, ...]
    """How figures were found, each once."""
    assumed: tuple[str, ...]
    missing: tuple[str, ...]
    file: str
    """What the file of what was typed is called, without its date."""


def page(book: Book) -> Page | None:
    """The tuning sheet; none where no bus drives a loudspeaker."""
    found = legs(results(book.rig))
    if not found:
        return None
    worked = [x.worked for leg in found for x in leg.lines if x.worked]
    figures = [w for w in worked if isinstance(w, Figure)]
    data = TuningSheet(
        tuple(sheet(book, leg) for leg in found),
        tuple(basis(found)),
        tuple(dict.fromkeys(a for f in figures for a in f.assumptions)),
        tuple(dict.fromkeys(w.why for w in worked if isinstance(w, Missing))),
        f"{book.plan.files[0].rpartition('/')[2].removesuffix('.yaml')}.tuning",
    )
    return Page("tuning-sheet", phrase("Tuning sheet"), "tuning-sheet.html", data, phrase("engineer"))


def basis(found: tuple[Leg, ...]) -> Iterator[str]:
    """How each sort of figure was found: `Delay in all: …`."""
    how: dict[str, dict[str, None]] = {}
    for leg in found:
        for line in leg.lines:
            if isinstance(line.worked, Figure):
                how.setdefault(line.what, {})[line.worked.formula] = None
    for what, formulas in how.items():
        yield joined((what, joined(formulas, "; ")), ": ")


def sheet(book: Book, leg: Leg) -> Sheet:
    """The sheet of one leg."""
    title = node_words(book.rig, leg.node)
    return Sheet(
        anchor=anchor("tuning", leg.node),
        title=title,
        role=joined(filter(None, (leg.bus.title if leg.bus.title != leg.bus.name else "", chosen(leg.bus.role)))),
        bus=book.bus(leg.bus),
        boxes=tuple(book.link("box", b) for b in leg.boxes),
        microphone=leg.microphone,
        settings=tuple(setting(book, leg, line) for line in leg.lines),
        parts=tuple(parts(book, leg)),
    )


def setting(book: Book, leg: Leg, line: Line) -> Setting:
    """A line as printed."""
    return Setting(
        f"{leg.node} {line.key}",
        line.what,
        _place(book, line.where),
        tuple(book.link("box", b) for b in line.boxes),
        line.planned,
        line.worked.text if isinstance(line.worked, Figure) else "",
        book.link("box", line.against) if line.against else Link("", ""),
    )


def _place(book: Book, where: str) -> Link:
    """A point of the signal with its place, where it is a socket or a unit."""
    if where in book.rig.net:
        return book.node(where)
    return book.link("unit", where) if where in book.plan.units else Link(where, "")


def parts(book: Book, leg: Leg) -> Iterator[Part]:
    """The bands of a leg in tables that stand side by side."""
    rows = -(-len(leg.bands) // SIDE_BY_SIDE)
    for first in range(0, len(leg.bands), rows or 1):
        mine = tuple(Band(f"{leg.node} {hz:g} Hz", band_name(book, hz)) for hz in leg.bands[first : first + rows])
        yield Part(book.say("%(first)s to %(last)s", first=mine[0].name, last=mine[-1].name), mine)
