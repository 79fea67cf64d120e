"""Venue: the technical specification that may be shown to everyone."""

from __future__ import annotations

from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables

KEYS = ("stage", "size", "capacity", "reverberation-time", "noise-limit", "background-noise")


def page(book: Book) -> Page | None:
    """The venue page."""
    room = book.section("room")
    rows = []
    for key in KEYS:
        value = room.get(key) if room else None
        if value is not None:
            rows.append((Cell(key.replace("-", " ")), Cell(str(getattr(value, "text", value)))))
    people = tuple(
        (Cell(name), Cell(str(r.get("name"))), Cell(str(r.get("does") or "-")), Cell(str(r.get("phone") or "-")))
        for name, r in ((e.name, e.value) for e in book.plan.sections.get("contacts", ()))
        if book.shows(r)
    )
    parts = [Part("Room", head=("what", "figure"), rows=tuple(rows))]
    if people:
        parts.append(Part("People", head=("role", "name", "does", "phone"), rows=people))
    return Page("venue", "Venue", "tables.html", Tables(tuple(parts)), "everyone")
