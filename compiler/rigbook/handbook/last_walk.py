"""The last walk test, for the pages that show it: when, by whom, with what result, and what to walk again.

Who walked, and what people wrote, carries no mark: it is for the crew. Others read the day and the counts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from rigbook.handbook.page import Link
from rigbook.handbook.views import CREW
from rigbook.records import frozen
from rigbook.text.phrase import counted, phrase
from rigbook.walk.record import Stale, last_walk, stale_steps, title_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup

    from rigbook.handbook.book import Book
    from rigbook.walk.line_check import Line
    from rigbook.walk.step import Step


class Heard(NamedTuple):
    """A step that was not as expected."""

    step: Link
    said: str
    """What people wrote; empty where this view may not read it."""


class Again(NamedTuple):
    """A step to walk again, and why."""

    step: Link
    why: str


@frozen
class LastWalk:
    """The newest day of walking."""

    date: str
    by: str
    """Who walked; empty where nobody is named, or this view may not read it."""
    result: str
    """`7 of 8 steps as expected`."""
    wrong: tuple[Heard, ...]
    notes: tuple[Markup, ...]
    judged: bool
    """True where a record says which rig was walked, so that `again` means something."""
    again: tuple[Again, ...]


def shown(book: Book, titles: Mapping[str, str] | None = None) -> LastWalk | None:
    """The last walk as this view may read it; None where the plan holds no record."""
    from rigbook.walk.prints import fingerprints
    from rigbook.walk.record import records

    if not records(book.rig):
        return None
    now = fingerprints(book.rig)
    walk = last_walk(book.rig, now)
    assert walk is not None
    names = _titles(book) if titles is None else titles
    crew = book.view == CREW
    good = sum(w.good for w in walk.words)
    return LastWalk(
        walk.date,
        ", ".join(walk.by) if crew else "",
        counted(
            len(walk.words), "%(good)s of %(num)s step as expected", "%(good)s of %(num)s steps as expected", good=good
        ),
        tuple(
            Heard(_step(book, w.step, names), w.said if crew else phrase("not as expected"))
            for w in walk.words
            if not w.good
        ),
        tuple(book.note(r.get("text")) for r in walk.notes) if crew else (),
        walk.known,
        tuple(Again(_step(book, s.key, names), _why(book, s)) for s in stale_steps(book.rig, now)),
    )


def _titles(book: Book) -> dict[str, str]:
    from rigbook.walk.line_check import line_check
    from rigbook.walk.steps import steps

    every: list[Step | Line] = [*steps(book.rig), *line_check(book.rig)]
    return {item.key: title_of(item) for item in every}


def _step(book: Book, key: str, names: Mapping[str, str]) -> Link:
    """A step by its title; by its key, without a place, where the plan no longer has it."""
    return book.link("step", key, names[key]) if key in names else Link(key, "")


def _why(book: Book, stale: Stale) -> str:
    if stale.said and book.view == CREW:
        return phrase("not as expected: %(what)s", what=stale.said)
    return stale.why
