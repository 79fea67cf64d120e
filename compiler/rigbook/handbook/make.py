"""A compiled plan to the files of its handbook: the stages of this room in order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigbook.handbook.book import Book
from rigbook.handbook.contents import pages
from rigbook.handbook.render import render
from rigbook.handbook.site import site_of
from rigbook.handbook.statics import used
from rigbook.handbook.themes import Theme

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled


def make(compiled: Compiled, view: str, theme: Theme) -> dict[str, bytes]:
    """Every file of the handbook by its name, with `/`. ThemeError where a template cannot be used."""
    book = Book.of(compiled, view)
    made = pages(book)
    files = render(made, book, site_of(book, made), theme)
    return {**files, **used(theme.static(), tuple(files.values())), **book.pictures.files}
