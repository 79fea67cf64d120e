"""What every page says around its own facts: the show, the pages there are, the state of the plan."""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType
from typing import Final, NamedTuple

from rigbook.findings.finding import Severity
from rigbook.handbook.anchors import slug
from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.words import VIEW_TITLES
from rigbook.records import frozen
from rigbook.text.phrase import counted, joined, phrase

TITLES: Final = MappingProxyType(
    {
        "clean": phrase("Checked"),
        "noted": phrase("Checked, with notes"),
        "warnings": phrase("Warnings"),
        "failing": phrase("Failing"),
    }
)


class Leaf(NamedTuple):
    """A page in the contents."""

    slug: str
    title: str
    href: str
    reader: str
    number: int


@frozen
class State:
    """How the plan stands against its checks."""

    word: str
    """`clean`, `noted`, `warnings` or `failing`."""
    title: str
    text: str
    """`2 errors, 1 warning`."""
    href: str
    accepted: int


@frozen
class Site:
    """The handbook as a whole."""

    title: str
    venue: str
    date: str
    """`2027-02-06`; empty where the plan gives none."""
    day: str
    """`Saturday 6 February 2027`."""
    revision: str
    view: str
    view_title: str
    leaves: tuple[Leaf, ...]
    state: State | None
    """None where the reader is no concern of it."""
    key: str
    """What ticks and records kept on a device are filed under."""


def site_of(book: Book, pages: Iterable[Page]) -> Site:
    """The frame of a book's pages."""
    plan = book.plan
    date = plan.get("date")
    leaves = tuple(Leaf(p.slug, p.title, f"{p.slug}.html", p.reader, n) for n, p in enumerate(pages, 1))
    return Site(
        title=plan.title,
        venue=plan.venue if plan.venue != plan.title else "",
        date=date.isoformat() if date else "",
        day=book.tongue.day(date) if date else "",
        revision=str(plan.get("revision") or ""),
        view=book.view,
        view_title=VIEW_TITLES[book.view],
        leaves=leaves,
        state=None if book.view == "public" else state_of(book),
        key=slug(plan.title).lower() or "plan",
    )


def state_of(book: Book) -> State:
    """Clean, noted, warnings or failing, with the counts."""
    tally = {s: sum(f.severity is s for f in book.compiled.findings) for s in reversed(Severity)}
    worst = next((s for s, n in tally.items() if n), None)
    word = {None: "clean", Severity.NOTE: "noted", Severity.WARNING: "warnings", Severity.ERROR: "failing"}[worst]
    text = joined(_counted(s, n) for s, n in tally.items() if n) or phrase("nothing wrong found")
    return State(word, TITLES[word], text, "checks.html" if "checks" in book.slugs else "", len(book.compiled.accepted))


def _counted(severity: Severity, number: int) -> str:
    match severity:
        case Severity.ERROR:
            return counted(number, "%(num)s error", "%(num)s errors")
        case Severity.WARNING:
            return counted(number, "%(num)s warning", "%(num)s warnings")
        case _:
            return counted(number, "%(num)s note", "%(num)s notes")
