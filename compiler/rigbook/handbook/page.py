"""One page of the handbook, as facts."""

from __future__ import annotations

from typing import Any, NamedTuple

from rigbook.records import frozen


class Link(NamedTuple):
    """A name and the address of its place; an empty address where this view has no such place."""

    text: str
    href: str


@frozen
class Page:
    """A page before it has a look."""

    slug: str
    """Name of its file, without `.html`."""
    title: str
    template: str
    """Template of the theme that shows it."""
    data: Any
    """A frozen record; the template knows it as `page`."""
    reader: str
    """Whom it is written for, in a word: `engineer`, `crew`, `everyone`."""
