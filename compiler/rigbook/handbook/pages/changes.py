"""Changes: this revision against an earlier one, what to do because of it, and what to walk again. For the crew, where
somebody asked for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.compute.changes import ADDED, GONE, GROUPS, Change, changes
from rigbook.handbook.page import Link, Page
from rigbook.handbook.words import CHOICES, chosen
from rigbook.records import frozen
from rigbook.text.phrase import joined, phrase
from rigbook.walk.again import again, no_more

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

SORTS: Final = MappingProxyType(
    {
        "inputs": "channel",
        "buses": "bus",
        "outputs": "output",
        "cables": "cable",
        "units": "unit",
        "racks": "rack",
        "circuits": "circuit",
        "channels": "carrier",
        "contacts": "contact",
    }
)
"""Sorts of places in the handbook, by group."""


class Row(NamedTuple):
    """A change."""

    how: str
    """`new`, `gone`, or empty."""
    subject: Link
    what: str
    before: str
    after: str
    task: str
    tick: str


class Group(NamedTuple):
    """Changes of one sort."""

    key: str
    title: str
    rows: tuple[Row, ...]


class Step(NamedTuple):
    """A step of the walk test that is asked again."""

    step: Link
    new: bool
    tick: str


@frozen
class Changes:
    """Data of the page."""

    number: int
    to_do: int
    """Changes because of which something has to be done."""
    before: str
    """Revision of the earlier plan as it says itself; empty where it says none."""
    groups: tuple[Group, ...]
    steps: tuple[Step, ...]
    gone: tuple[str, ...]
    """Steps that there are no more."""


class Since(NamedTuple):
    """How much is otherwise, for the front page."""

    number: int
    to_do: int
    again: int
    """Steps to walk."""


def since(book: Book) -> Since | None:
    """What the page of changes holds; none where there is no such page."""
    if book.since is None or "changes" not in book.slugs:
        return None
    found = changes(book.since.plan, book.plan)
    return Since(len(found), _to_do(found), len(again(book.since, book.rig)))


def _to_do(found: tuple[Change, ...]) -> int:
    return sum(bool(c.task) for c in found)


def page(book: Book) -> Page | None:
    """The page of changes; none where nothing earlier was given."""
    if book.since is None:
        return None
    found = changes(book.since.plan, book.plan)
    data = Changes(
        len(found),
        _to_do(found),
        str(book.since.plan.get("revision") or ""),
        tuple(_groups(book, found)),
        tuple(Step(book.link("step", a.key, a.title), a.new, f"again {a.key}") for a in again(book.since, book.rig)),
        no_more(book.since, book.rig),
    )
    return Page("changes", phrase("Changes"), "changes.html", data, phrase("engineer"))


def _groups(book: Book, found: tuple[Change, ...]) -> Iterator[Group]:
    for key, title in GROUPS.items():
        rows = tuple(_row(book, c) for c in found if c.group == key)
        if rows:
            yield Group(key, title, rows)


def _row(book: Book, change: Change) -> Row:
    how = {ADDED: phrase("new"), GONE: phrase("gone")}.get(change.how, "")
    tick = f"change {change.group} {change.name} {change.what} {change.after}"
    before, after = (chosen(text) if text in CHOICES else text for text in (change.before, change.after))
    return Row(how, _place(book, change), change.what, before, after, change.task, tick)


def _place(book: Book, change: Change) -> Link:
    """The thing with its place, where this plan has one."""
    sort = SORTS.get(change.group, "")
    if change.how == GONE or not sort:
        return Link(change.subject, "")
    if change.group == "cables":
        return book.link(sort, change.name, joined((book.codes[change.name], change.subject), " "))
    desk, _, name = change.name.partition(" ")
    if sort in ("bus", "output"):
        return book.link(sort, book.desk_name(desk, name), change.subject)
    return book.link(sort, change.name, change.subject)
