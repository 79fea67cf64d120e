"""Front page: what, where, when, the whole system on one drawing, what this show changed, cautions."""

from __future__ import annotations

from rigbook.handbook.book import Book
from rigbook.handbook.drawings import signal_flow
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables

CAUTION = (
    "Mains power, hung and lifted loads and loud sound can hurt people. What stands here are planning figures; local "
    "codes, the makers' instructions and competent, licensed people decide."
)


def page(book: Book) -> Page | None:
    """The front page."""
    plan = book.plan
    counts = (
        ("channels", len(plan.channels)),
        ("buses", len(plan.buses)),
        ("speakers", len(book.rig.boxes)),
        ("cables", len(book.sheaths)),
    )
    parts = [
        Part(
            "At a glance",
            head=("what", "how many"),
            rows=tuple((Cell(w), Cell(str(n))) for w, n in counts),
            caution=CAUTION,
        )
    ]
    if book.view != "public":
        parts.append(Part("Signal flow", drawings=(signal_flow.draw(book.rig),)))
        rows = tuple((Cell(c.what), Cell(c.before or "-"), Cell(c.after), Cell(c.reason)) for c in plan.changes)
        if rows:
            parts.append(
                Part("Changed for this show, to put back", "changes", head=("what", "house", "now", "why"), rows=rows)
            )
    return Page("index", plan.title, "tables.html", Tables(tuple(parts)), "everyone")
