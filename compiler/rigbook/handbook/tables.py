"""Pages that are headings, drawings and tables: the facts that the template `tables.html` shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple


class Cell(NamedTuple):
    """A cell: its words, where they link to, and the anchor that stands here."""

    text: str
    href: str = ""
    ident: str = ""


@dataclass(frozen=True)
class Part:
    """A part of a page."""

    title: str
    ident: str = ""
    text: str = ""
    head: tuple[str, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    drawings: tuple[str, ...] = ()
    """SVG made by `drawings/`, which escapes what it shows."""
    caution: str = ""
    tick: str = ""
    """Prefix of the names of tick boxes; empty for none."""


@dataclass(frozen=True)
class Tables:
    """Data of the page."""

    parts: tuple[Part, ...]
