"""Walk test: one leg of one bus at a time, what must sound and what must stay silent; the line check."""

from __future__ import annotations

from rigbook.handbook.anchors import anchor
from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables
from rigbook.walk.line_check import line_check
from rigbook.walk.steps import steps


CAUTION = "Begin quiet, at -40 dB, and raise slowly. Loud noise damages hearing at once and for good: warn everyone first."


def page(book: Book) -> Page | None:
    """The walk-test page."""
    parts = [Part("Before the first step", text="Mute everything. One person at the desk, one walks.", caution=CAUTION)]
    for step in steps(book.rig):
        heard = tuple((Cell(e.end, book.href("unit", e.end)), Cell("must sound"), Cell(e.how)) for e in step.expect)
        silent = tuple((Cell(b, book.href("unit", b)), Cell("must stay silent"), Cell("-")) for b in step.silent)
        into = f" into channel {step.channel.number} {step.channel.name}" if step.channel else ""
        parts.append(
            Part(
                step.title,
                anchor("step", step.key),
                text=f"Play {step.signal}{into}, pan {step.pan}.",
                head=("box", "what", "how"),
                rows=heard + silent,
                tick=step.key,
            )
        )
    rows = tuple(
        (Cell(str(x.channel.number)), Cell(x.channel.name), Cell(x.socket), Cell("48 V" if x.phantom else "-"), Cell(", ".join(x.heard)))
        for x in line_check(book.rig)
    )
    parts.append(Part("Line check", head=("channel", "name", "socket", "phantom", "must be heard from"), rows=rows, tick="line"))
    return Page("walk-test", "Walk test", "tables.html", Tables(tuple(parts)), "engineer")
