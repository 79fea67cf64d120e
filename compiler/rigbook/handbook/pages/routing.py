"""Routing: which bus leaves by which socket, what is sent to it, how it is processed, which boxes it feeds."""

from __future__ import annotations

from rigbook.graph.words import path_words
from rigbook.handbook.anchors import anchor
from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.pages.set_up import processing_words
from rigbook.handbook.tables import Cell, Part, Tables


def page(book: Book) -> Page | None:
    """The routing page."""
    outs = tuple(
        (
            Cell(o.name, ident=anchor("output", book.desk_name(o.desk, o.name))),
            Cell(", ".join(s.id for s, _ in o.sockets), book.href("socket", o.sockets[0][0].id) if o.sockets else ""),
            Cell(f"{o.pick}-fader"),
        )
        for o in book.plan.outputs
    )
    buses = tuple(
        (
            Cell(b.title, ident=anchor("bus", book.desk_name(b.desk, b.name))),
            Cell(b.role),
            Cell("stereo" if b.stereo else "mono"),
            Cell(processing_words(b.record) or "-"),
            Cell(", ".join(c.name for c in book.plan.channels if any(s.bus == b.name for s in c.sends)) or "-"),
        )
        for b in book.plan.buses.values()
    )
    return Page(
        "routing",
        "Routing",
        "tables.html",
        Tables(
            (
                Part("Buses to sockets", head=("bus", "socket", "pick-off"), rows=outs),
                Part("Buses", "buses", head=("bus", "role", "width", "processing", "fed by"), rows=buses),
                _ways(book),
            )
        ),
        "engineer",
    )


def _ways(book: Book) -> Part:
    rows = []
    for box in book.rig.boxes:
        starts = sorted({edge[0] for edge, _ in book.rig.feeds_of_box[box]})
        ways = [path_words(book.rig, w) for s in starts for w in book.rig.paths(s, box)]
        rows.append((Cell(box, book.href("unit", box), anchor("box", box)), Cell("; ".join(ways) or "nothing")))
    return Part("How each box is fed", "speakers", head=("box", "way"), rows=tuple(rows))
