"""Checks: every finding with the lines of the plan and its explanation; what the plan accepts, and why."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.checks.catalogue import Explanation, explain, names
from rigbook.findings.finding import Finding, Label
from rigbook.findings.place import Span
from rigbook.handbook.anchors import anchor
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from collections.abc import Container

    from rigbook.handbook.book import Book

SHOWN: Final = (phrase("What it finds"), phrase("Why it matters on stage"), phrase("Put it right"))
"""Parts of an explanation that the page shows; the example plans stay with `rigbook explain`."""

GROUPS: Final = MappingProxyType(
    {
        "language": phrase("language"),
        "routing": phrase("routing"),
        "ports": phrase("ports"),
        "loudspeakers": phrase("loudspeakers"),
        "places": phrase("places"),
        "power": phrase("power"),
        "publishing": phrase("publishing"),
        "themes": phrase("themes"),
    }
)


class Line(NamedTuple):
    """A line of a plan, cut around what a finding points at."""

    number: int
    before: str
    marked: str
    after: str


@frozen
class Spot:
    """A place in a plan file."""

    place: str
    """`shows/barn.yaml:41:7`."""
    words: str
    lines: tuple[Line, ...]


@frozen
class Found:
    """A finding."""

    anchor: str
    check: Link
    severity: str
    message: str
    spots: tuple[Spot, ...]
    path: str
    effect: str
    remedy: str
    things: tuple[Link, ...]
    """Places in the handbook of what the finding is about."""


class Accepted(NamedTuple):
    """A finding that the plan accepts."""

    check: Link
    message: str
    place: str
    reason: str


@frozen
class Check:
    """A check that found something."""

    name: str
    anchor: str
    title: str
    parts: tuple[tuple[str, str], ...]


@frozen
class Checks:
    """Data of the page."""

    found: tuple[Found, ...]
    accepted: tuple[Accepted, ...]
    explained: tuple[Check, ...]
    """Of the checks that speak on this page."""
    groups: tuple[tuple[str, tuple[str, ...]], ...]
    """Every check there is, by group."""


def page(book: Book) -> Page | None:
    """The page of the checks."""
    compiled, known = book.compiled, names()
    speaking = {f.check for f in (*compiled.findings, *(f for f, _ in compiled.accepted))}
    groups: dict[str, list[str]] = {}
    for name, group in known.items():
        groups.setdefault(group, []).append(name)
    data = Checks(
        found=tuple(found(book)),
        accepted=tuple(
            Accepted(_link(f.check, known), f.message, f.primary.span.human(), reason)
            for f, reason in compiled.accepted
        ),
        explained=tuple(_check(explain(name)) for name in sorted(speaking) if name in known),
        groups=tuple((GROUPS[group], tuple(members)) for group, members in groups.items()),
    )
    return Page("checks", phrase("Checks"), "checks.html", data, phrase("engineer"))


def _link(check: str, known: Container[str]) -> Link:
    return Link(check, f"#{anchor('check', check)}" if check in known else "")


def _check(told: Explanation) -> Check:
    parts = tuple((heading, " ".join(told.part(heading).split())) for heading in SHOWN if told.part(heading))
    # the titles of the checks are gathered from their modules (tests/helpers/catalogue.py)
    return Check(told.name, anchor("check", told.name), phrase(told.title), parts)


def found(book: Book) -> Iterator[Found]:
    """The findings, the worst first, each with an anchor of its own."""
    known = names()
    used: dict[str, int] = {}
    for f in sorted(book.compiled.findings, key=lambda f: -f.severity):
        ident = anchor("finding", f"{f.check} {f.primary.span.human()}")
        used[ident] = used.get(ident, 0) + 1
        yield Found(
            anchor=ident if used[ident] == 1 else f"{ident}.{used[ident]}",
            check=_link(f.check, known),
            severity=f.severity.word,
            message=f.message,
            spots=tuple(spot(book, label) for label in (f.primary, *f.secondary)),
            path=f.path,
            effect=f.effect,
            remedy=f.remedy,
            things=tuple(things(book, f)),
        )


def spot(book: Book, label: Label) -> Spot:
    """A label with the lines of the file that it points at."""
    source = book.compiled.sources.get(label.span.file)
    return Spot(label.span.human(), label.text, tuple(lines(source.lines, label.span)) if source else ())


def lines(text: tuple[str, ...], span: Span, most: int = 4) -> Iterator[Line]:
    """The lines of a span, cut where it begins and ends; the first few of many."""
    for row in range(span.line, min(span.end_line, span.line + most - 1) + 1):
        if row < len(text):
            line = text[row]
            start = span.column if row == span.line else len(line) - len(line.lstrip())
            stop = span.end_column if row == span.end_line else len(line)
            yield Line(row + 1, line[:start], line[start:stop], line[stop:])


def things(book: Book, finding: Finding) -> Iterator[Link]:
    """What a finding is about, as far as it has a place in the handbook."""
    for name in sorted(finding.objects):
        if name in book.plan.units:
            yield book.link("unit", name)
        elif name in book.anchored or name in book.plugged:
            yield book.link("socket", name)
        elif name in book.sheaths:
            yield book.link("cable", name)
