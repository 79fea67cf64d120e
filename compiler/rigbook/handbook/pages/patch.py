"""Patch: every device by socket, inputs by channel, cables by kind."""

from __future__ import annotations

from rigbook.handbook.anchors import anchor
from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables
from rigbook.plan.model import Unit


def page(book: Book) -> Page | None:
    """The patch page."""
    parts = [_inputs(book), *(_device(book, u) for u in book.units if u.kind), _cables(book)]
    return Page("patch", "Patch", "tables.html", Tables(tuple(parts)), "crew")


def _inputs(book: Book) -> Part:
    rows = []
    for c in book.plan.channels:
        source = c.source_kind.title if c.source_kind else "cabled"
        sockets = c.plugged or c.sockets
        rows.append(
            (
                Cell(str(c.number), ident=anchor("channel", f"{c.desk} {c.number}")),
                Cell(c.name),
                Cell(source),
                Cell(", ".join(s.id for s in sockets), book.href("socket", sockets[0].id) if sockets else ""),
                Cell("48 V" if c.record.get("phantom") else "-"),
                Cell(str(c.record.get("stand") or "-")),
            )
        )
    return Part("Inputs", head=("channel", "name", "source", "socket", "phantom", "stand"), rows=tuple(rows), tick="in")


def _device(book: Book, unit: Unit) -> Part:
    rows = []
    assert unit.kind is not None
    for port in unit.kind.ports.values():
        name = f"{unit.name}/{port.name}"
        ends = book.plugged.get(name, ())
        if ends or (name in book.rig.graph and book.rig.graph.degree(name)):
            far = ", ".join(p.far.id for p in ends) or "-"
            cable = ", ".join(p.cable.kind_name + (f" {p.cable.length}" if p.cable.length else "") for p in ends) or "-"
            rows.append(
                (
                    Cell(port.name, ident=anchor("socket", name)),
                    Cell(far, book.href("socket", far) if ends else ""),
                    Cell(cable),
                )
            )
    return Part(
        f"{unit.title}: {unit.kind.title}",
        anchor("unit", unit.name),
        head=("socket", "far end", "cable"),
        rows=tuple(rows),
        tick=unit.name,
    )


def _cables(book: Book) -> Part:
    rows = tuple(
        (Cell(sheath, ident=anchor("cable", sheath)), Cell(lines[0].kind_name), Cell(str(lines[0].length or "-")))
        for sheath, lines in book.sheaths.items()
    )
    return Part("Cables", head=("cable", "kind", "length"), rows=rows, tick="cable")
