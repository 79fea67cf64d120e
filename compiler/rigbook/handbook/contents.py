"""The pages of the handbook, in reading order, and who may read each."""

from __future__ import annotations

import importlib
from importlib.util import find_spec
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.handbook.views import CREW, INSIDE
from rigbook.language.keys.rig import VIEWS

if TYPE_CHECKING:
    from rigbook.handbook.book import Book
    from rigbook.handbook.page import Page


class Entry(NamedTuple):
    """A page of the contents."""

    module: str
    """Module of `pages/`."""
    slug: str
    views: tuple[str, ...]


CONTENTS: Final = (
    Entry("front", "index", VIEWS),
    Entry("ten_minutes", "ten-minutes", INSIDE),
    Entry("pull_list", "pull-list", (CREW,)),
    Entry("rack", "rack", INSIDE),
    Entry("stage", "stage", INSIDE),
    Entry("patch", "patch", INSIDE),
    Entry("labels", "labels", (CREW,)),
    Entry("routing", "routing", INSIDE),
    Entry("set_up", "set-up", INSIDE),
    Entry("speakers", "speakers", INSIDE),
    Entry("power", "power", INSIDE),
    Entry("radio", "radio", INSIDE),
    Entry("walk_test", "walk-test", INSIDE),
    Entry("tuning_sheet", "tuning-sheet", (CREW,)),
    Entry("commissioning", "commissioning", (CREW,)),
    Entry("venue", "venue", VIEWS),
    Entry("checks", "checks", (CREW,)),
    Entry("changes", "changes", (CREW,)),
)


def entries(view: str) -> tuple[Entry, ...]:
    """The pages that a view has."""
    return tuple(e for e in CONTENTS if view in e.views and find_spec(f"rigbook.handbook.pages.{e.module}"))


def pages(book: Book, *known: Page) -> list[Page]:
    """Every page of a book, in reading order, but for those that are known. A page that has nothing to say is left
    out.
    """
    have = {page.slug: page for page in known}
    made = (
        have.get(e.slug) or importlib.import_module(f"rigbook.handbook.pages.{e.module}").page(book)
        for e in entries(book.view)
    )
    return [page for page in made if page is not None]
