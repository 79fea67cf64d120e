"""Checks: what the compiler found, and what the plan accepts with reasons."""

from __future__ import annotations

from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.tables import Cell, Part, Tables


def page(book: Book) -> Page | None:
    """The checks page."""
    found = tuple(
        (
            Cell(f.severity.word),
            Cell(f.message),
            Cell(f.primary.span.human()),
            Cell(f.effect or "-"),
            Cell(f.remedy or "-"),
        )
        for f in book.compiled.findings
    )
    accepted = tuple((Cell(f.check), Cell(f.message), Cell(reason)) for f, reason in book.compiled.accepted)
    parts = [
        Part(
            "Findings",
            text="" if found else "Nothing was found.",
            head=("severity", "what", "where", "on stage", "do this") if found else (),
            rows=found,
        )
    ]
    if accepted:
        parts.append(Part("Accepted in the plan", head=("check", "what", "reason"), rows=accepted))
    return Page("checks", "Checks", "tables.html", Tables(tuple(parts)), "engineer")
