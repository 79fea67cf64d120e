"""The walk test made by a process of its own, beside the other pages: of a plan it takes about a third of the time.

The process is a fork, so that it has the book; it is told how the handbook is framed, and gives back the page as bytes.
Where anything goes wrong in it the page is made here, with whatever is to be said of it: the bytes are the same.
"""

from __future__ import annotations

import os
import pickle
import signal
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any, Final, cast

from rigbook.handbook.book import Book
from rigbook.handbook.page import Page
from rigbook.handbook.pages import walk_test
from rigbook.handbook.render import render
from rigbook.handbook.site import Site
from rigbook.handbook.themes import Theme

LEAST: Final = 40
"""Nodes of the smallest rig that it pays for: a fork costs as much as five milliseconds of the walk test (measured)."""


class Worker:
    """A process that makes the walk test of a book."""

    def __init__(self, book: Book, theme: Theme, cover: Page) -> None:
        self.cover = cover
        """The page without its facts."""
        self._book = book
        there, self._out = os.pipe()
        self._in, back = os.pipe()
        self._process = os.fork()
        if not self._process:
            _work(book, theme, there, back)
        os.close(there)
        os.close(back)

    def tell(self, site: Site) -> None:
        """How the handbook is framed, which the page waits for."""
        with suppress(OSError), open(self._out, "wb", closefd=False) as told:
            pickle.dump(site, told)

    def made(self) -> dict[str, bytes]:
        """The page by its file name; empty where there is none to be had."""
        got: Any = ({}, {})
        with suppress(OSError, EOFError, pickle.UnpicklingError), open(self._in, "rb", closefd=False) as answer:
            got = pickle.load(answer)
        files, pictures = cast(tuple[dict[str, bytes], dict[str, bytes]], got)
        self._book.pictures.files.update(pictures)
        return files

    def end(self) -> None:
        """The process has ended, whatever it was doing."""
        for pipe in (self._out, self._in):
            os.close(pipe)
        with suppress(ProcessLookupError):
            os.kill(self._process, signal.SIGKILL)
        os.waitpid(self._process, 0)


@contextmanager
def worker(book: Book, theme: Theme, wanted: bool) -> Iterator[Worker | None]:
    """A process for the walk test; None where none is wanted, where it does not pay or cannot be."""
    pays = wanted and "walk-test" in book.slugs and len(book.rig.net.nodes) >= LEAST
    cover, made = walk_test.cover(book) if pays else None, None
    if cover is not None:
        with suppress(OSError):
            made = Worker(book, theme, cover)
    try:
        yield made
    finally:
        if made is not None:
            made.end()


def _work(book: Book, theme: Theme, there: int, back: int) -> None:
    """All that the other process does; it never comes back."""
    code = 1
    try:
        page = walk_test.page(book)
        with open(there, "rb") as told:
            site = pickle.load(told)
        if page is not None:
            with open(back, "wb") as answer:
                files = render((page,), book, site, theme)
                pickle.dump((files, book.pictures.files), answer)
            code = 0
    finally:
        os._exit(code)
