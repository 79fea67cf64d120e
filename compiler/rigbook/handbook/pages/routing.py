"""Routing: channels × buses and buses × sockets, each bus and output in full, and the way to every speaker."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from rigbook.graph import kinds as k
from rigbook.graph.words import PICKS
from rigbook.handbook import matrices, traces
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import bus_words, chosen, processing_words, role_words
from rigbook.plan.model import Bus, Output
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from markupsafe import Markup

    from rigbook.handbook.book import Book, Note


@frozen
class BusRow:
    """A bus of a desk."""

    name: str
    anchor: str
    title: str
    """What is written on the desk, where that is not its name."""
    role: str
    width: str
    """`stereo` or `mono`."""
    pick: str
    """Pick-off of the sends to it."""
    processing: str
    outputs: tuple[Link, ...]
    reaches: tuple[Link, ...]
    text: Markup
    notes: tuple[Note, ...]


@frozen
class OutputRow:
    """A bus leg on its way out of the desk."""

    name: str
    anchor: str
    sockets: tuple[Link, ...]
    pick: str
    processing: str
    reaches: tuple[Link, ...]


@frozen
class Desk:
    """The routing of one desk."""

    name: str
    """Empty where there is one desk."""
    sends: tuple[matrices.Matrix, ...]
    outputs: tuple[matrices.Matrix, ...]
    buses: tuple[BusRow, ...]
    output_rows: tuple[OutputRow, ...]


@frozen
class Routing:
    """Data of the page."""

    desks: tuple[Desk, ...]
    boxes: tuple[traces.BoxTrace, ...]
    inputs: tuple[tuple[str, tuple[traces.InputTrace, ...]], ...]
    """By desk; the name is empty where there is one desk."""


def page(book: Book) -> Page | None:
    """The routing page."""
    data = Routing(tuple(desks(book)), tuple(traces.boxes(book)), tuple(traces.inputs(book)))
    return Page("routing", phrase("Routing"), "routing.html", data, phrase("engineer"))


def desks(book: Book) -> Iterator[Desk]:
    """Each desk that has buses."""
    names = dict.fromkeys(desk for desk, _ in book.plan.buses)
    for desk in names:
        yield Desk(
            name=desk if len(names) > 1 else "",
            sends=matrices.sends(book, desk),
            outputs=matrices.outputs(book, desk),
            buses=tuple(bus_row(book, b) for b in book.plan.buses.values() if b.desk == desk),
            output_rows=tuple(output_row(book, o) for o in book.plan.outputs if o.desk == desk),
        )


def bus_row(book: Book, bus: Bus) -> BusRow:
    """A bus with where it leaves and what it reaches."""
    name = book.desk_name(bus.desk, bus.name)
    legs = [k.bus_node(bus.desk, bus.name, leg) for leg in bus.legs]
    outputs = [book.desk_name(o.desk, o.name) for o in book.plan.outputs if (o.desk, o.bus) == (bus.desk, bus.name)]
    return BusRow(
        name=bus.name,
        anchor=anchor("bus", name),
        title=bus.title if bus.title != bus.name else "",
        role=role_words(bus),
        width=phrase("stereo") if bus.stereo else phrase("mono"),
        pick=chosen(bus.pick),
        processing=bus_words(bus),
        outputs=tuple(book.link("output", o) for o in dict.fromkeys(outputs)),
        reaches=_reached(book, legs),
        text=book.text_of(bus.record),
        notes=book.notes_about(bus.name),
    )


def output_row(book: Book, output: Output) -> OutputRow:
    """An output with what its sockets reach."""
    return OutputRow(
        name=output.name,
        anchor=anchor("output", book.desk_name(output.desk, output.name)),
        sockets=tuple(book.socket(s) for s, _ in output.sockets),
        pick=PICKS[output.pick],
        processing=processing_words(output.record),
        reaches=_reached(book, [s.id for s, _ in output.sockets]),
    )


def _reached(book: Book, nodes: Sequence[str]) -> tuple[Link, ...]:
    """Speakers, and what else the signal ends in: in-ear transmitters, recorders, feeds."""
    ends = dict.fromkeys(e for n in nodes for e in book.rig.ends_of(n) if e in book.plan.units)
    return tuple(book.link("box", e) for e in ends)
