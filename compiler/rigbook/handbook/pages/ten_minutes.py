"""Ten minutes: the system on one sheet for a visiting engineer."""

from __future__ import annotations

from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables
from rigbook.walk.steps import steps


def page(book: Book) -> Page | None:
    """The ten-minute page."""
    rows = tuple(
        (Cell(s.title.removesuffix(" alone"), book.href("step", s.key)), Cell(", ".join(e.end for e in s.expect)))
        for s in steps(book.rig)
        if s.bus is not None
    )
    where = tuple(
        (Cell(u.title, book.href("unit", u.name)), Cell(u.position.text)) for u in book.units if u.position is not None
    )
    return Page(
        "ten-minutes",
        "Ten minutes",
        "tables.html",
        Tables(
            (
                Part("Which bus goes where", head=("bus", "heard from"), rows=rows),
                Part("What stands where", head=("what", "where"), rows=where),
            )
        ),
        "visitor",
    )
