"""A compiled plan to the files of its handbook: the stages of this room in order."""

from __future__ import annotations

import gc
import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from rigbook.handbook import find_data
from rigbook.handbook.apart import worker
from rigbook.handbook.book import Book
from rigbook.handbook.contents import pages
from rigbook.handbook.installable import icon, installable
from rigbook.handbook.render import render
from rigbook.handbook.site import Site, site_of
from rigbook.handbook.statics import used
from rigbook.handbook.themes import Theme
from rigbook.handbook.tongue import Tongue
from rigbook.handbook.tongues import tongue
from rigbook.handbook.views import INSIDE
from rigbook.records import replace

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled
    from rigbook.handbook.page import Page


def make(
    compiled: Compiled, view: str, theme: Theme, language: str = "", with_data: bool = False, with_pdf: bool = False,
    since: Compiled | None = None, forks: bool = False, paper: str = "a4",
) -> dict[str, bytes]:
    """Every file of the handbook by its name, with `/`; in the language of the plan where none is given.

    `with_data` adds the file of all results, but not for the public; `with_pdf` adds the handbook as PDF, on sheets of
    `paper` (`a4` or `letter`); `since`, an earlier plan, adds what changed from it; with `forks` a second process makes
    a part of it, to the same bytes. ThemeError where a template cannot be used, PaperError where no PDF can be made.
    """
    with collector(on=False):
        book, site, files, results = _make(compiled, view, theme, language, with_data, since, forks)
    if with_pdf:
        from rigbook.handbook.paper.pdf import pdfs

        with collector(on=True):  # large things that go soon
            files |= pdfs(files, site, theme, paper)
    files |= results
    if view in INSIDE:
        files |= installable(files, site, str(theme.settings.get("mode")), book.tongue.language)
    return files


@contextmanager
def collector(on: bool) -> Iterator[None]:
    """A handbook is many small things that all stay: looking for garbage among them took a third of the time (the
    Meadow stage, 1.2 s to 0.8 s). Afterwards it is as it was, so that many handbooks in a row leave nothing behind.
    """
    was = gc.isenabled()
    (gc.enable if on else gc.disable)()
    try:
        yield
    finally:
        (gc.enable if was else gc.disable)()


def _make(
    compiled: Compiled, view: str, theme: Theme, language: str, with_data: bool, since: Compiled | None, forks: bool
) -> tuple[Book, Site, dict[str, bytes], dict[str, bytes]]:
    """The book, its frame, the files made of it, and the file of results."""
    said = compiled.plan.language if compiled.plan else "en"
    book = replace(Book.of(compiled, view, tongue(language or said)), since=since.rig if since else None)
    results = {}
    if with_data and view in INSIDE:
        from rigbook.handbook import data_file

        book = replace(book, data_file=data_file.NAME)
        results = {data_file.NAME: data_file.data_file(book)}
    made, site, files = _pages(book, theme, forks)
    results[find_data.NAME] = find_data.find_data(book, made, files)
    static = {**theme.static(), **script_words(book.tongue)}
    files |= {**used(static, tuple(files.values())), **book.pictures.files, **icon()}
    return book, site, files, results


def _pages(book: Book, theme: Theme, forks: bool) -> tuple[list[Page], Site, dict[str, bytes]]:
    """The pages, their frame, and each as it is written."""
    with worker(book, theme, forks) as helper:
        made = pages(book, *([helper.cover] if helper else ()))
        site = site_of(book, made)
        if helper is None:
            return made, site, render(made, book, site, theme)
        from rigbook.handbook.pages import walk_test

        helper.tell(site)
        files = render((page for page in made if page is not helper.cover), book, site, theme)
        files |= helper.made() or render(filter(None, (walk_test.page(book),)), book, site, theme)
        return made, site, {name: files[name] for name in (f"{page.slug}.html" for page in made)}


def script_words(spoken: Tongue) -> dict[str, bytes]:
    """What scripts say, in the language of the handbook; nothing in English, which they hold themselves."""
    if not spoken.script:
        return {}
    words = json.dumps(dict(spoken.script), ensure_ascii=False, indent=0)
    return {"static/words.js": f"window.rigbookWords = {words};\n".encode()}
