"""A folder of handbooks: the page that lists them, and the files beside it."""

from __future__ import annotations

import importlib
import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final, NamedTuple

from rigbook.handbook.book import Book
from rigbook.handbook.contents import entries
from rigbook.handbook.installable import icon
from rigbook.handbook.render import environment, sayings
from rigbook.handbook.site import state_of
from rigbook.handbook.statics import used
from rigbook.handbook.themes import Theme, ThemeError
from rigbook.handbook.tongues import tongue

if TYPE_CHECKING:
    from rigbook.checks.compiled import Compiled

MARKER: Final = "rigbook-handbooks.txt"
"""Says that a folder holds handbooks, so that the next build may put others beside them."""
MARK: Final = b"This folder holds handbooks written by rigbook, each replaced whole by the next build of its plan.\n"
TEMPLATE: Final = "sites.html"


class SitesError(Exception):
    """A folder cannot hold handbooks; the message says why and what to do."""


class Leaf(NamedTuple):
    """A handbook in the list, in the language of the list."""

    title: str
    href: str
    """Empty where this run wrote none."""
    venue: str = ""
    date: str = ""
    """`2027-02-06`; empty where the plan gives none."""
    day: str = ""
    word: str = ""
    """`clean`, `noted`, `warnings` or `failing`; empty for the public, and where the plan cannot be read."""
    state: str = ""
    text: str = ""
    """`2 errors, 1 warning`."""


def leaf_of(compiled: Compiled, view: str, language: str, folder: str) -> Leaf:
    """The line of a plan that could be read, whose handbook is in a folder of this name; empty where it is not."""
    said = tongue(language or "en")
    book = Book.of(compiled, view, said)
    plan, date = book.plan, book.plan.get("date")
    leaf = Leaf(
        str(plan.title),
        f"{folder}/index.html" if folder else "",
        str(plan.venue) if plan.venue != plan.title else "",
        date.isoformat() if date else "",
        said.day(date) if date else "",
    )
    if view == "public":
        return leaf
    state = state_of(book)
    return leaf._replace(word=state.word, state=str(said.words(state.title)), text=str(said.words(state.text)))


def unread(name: str) -> Leaf:
    """The line of a plan that cannot be read."""
    return Leaf(name, "")


def prepare(out: Path, view: str, theme: Theme) -> None:
    """Make the folder ready, and load what every handbook needs. SitesError where the folder holds something else."""
    if out.exists() and not out.is_dir():
        raise SitesError(f"`{out}` is a file; name a folder for the handbooks")
    if out.is_dir() and any(out.iterdir()) and not (out / MARKER).is_file():
        raise SitesError(f"`{out}` holds something else than handbooks; name a new or an empty folder")
    try:
        out.mkdir(parents=True, exist_ok=True)
        (out / MARKER).write_bytes(MARK)
    except OSError as error:
        raise SitesError(f"`{out}` was not written: {error.strerror or error}") from error
    # in the process that others are forked from, so that it is done once
    importlib.import_module("rigbook.pipeline")
    importlib.import_module("rigbook.checks.run")
    importlib.import_module("rigbook.handbook.make")
    templates = environment(theme.layers)
    for entry in entries(view):
        importlib.import_module(f"rigbook.handbook.pages.{entry.module}")
    from jinja2 import TemplateError

    for name in templates.list_templates(extensions=["html"]):
        # one that cannot be used is told by the page that needs it
        with suppress(TemplateError):
            templates.get_template(name)


def index(leaves: Iterable[Leaf], view: str, theme: Theme, language: str) -> dict[str, bytes]:
    """The page that lists handbooks, with the files it needs. ThemeError where its template cannot be used."""
    said = tongue(language or "en")
    try:
        text = (
            environment(theme.layers)
            .get_template(TEMPLATE)
            .render(
                leaves=tuple(leaves),
                view=view,
                settings=theme.settings,
                brand=theme.brand,
                tongue=said,
                **sayings(said),
            )
        )
    except Exception as error:  # a template is a user's code: whatever it raises is told
        raise ThemeError(f"{TEMPLATE}: {error}") from error
    page = {"index.html": text.encode("utf-8")}
    return {**used(theme.static(), page.values()), **icon(), **page}


def write_index(files: Mapping[str, bytes], out: Path) -> None:
    """Write the list, its page last: who looks meanwhile sees the old one or the new one, whole."""
    try:
        for name, data in files.items():
            path = out / name
            path.parent.mkdir(parents=True, exist_ok=True)
            fresh = path.with_name(f".{path.name}.{os.getpid()}.new")
            fresh.write_bytes(data)
            fresh.replace(path)
    except OSError as error:
        raise SitesError(f"the list of `{out}` was not written: {error.strerror or error}") from error
