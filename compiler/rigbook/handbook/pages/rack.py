"""Racks: elevations to scale, and what sits in them."""

from __future__ import annotations

from rigbook.handbook.anchors import anchor
from rigbook.handbook.book import Book
from rigbook.handbook.drawings import rack as drawing
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables


def page(book: Book) -> Page | None:
    """The rack page; none where the plan has no rack."""
    parts = []
    for rack in book.plan.racks.values():
        rows = []
        for side, items in (("front", rack.front), ("rear", rack.rear)):
            for low, item in items:
                unit = book.plan.units.get(item.unit)
                weight = unit.kind.get("weight") if unit and unit.kind else None
                what = (
                    Cell(unit.title, book.href("unit", unit.name)) if unit else Cell(f"{item.filler} {item.height} U")
                )
                rows.append((Cell(str(low)), Cell(side), what, Cell(str(weight or "-"))))
        drawings = tuple(drawing.draw(book.rig, rack.name, side) for side in ("front", "rear"))
        parts.append(
            Part(
                str(rack.record.get("title") or rack.name),
                anchor("rack", rack.name),
                head=("lowest unit", "side", "what", "weight"),
                rows=tuple(rows),
                drawings=drawings,
                caution="A filled rack is heavy and tips: enough people, lids off before power.",
            )
        )
    return Page("rack", "Racks", "tables.html", Tables(tuple(parts)), "crew") if parts else None
