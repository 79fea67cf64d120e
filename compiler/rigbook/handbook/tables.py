"""Tables of computed figures: cells that link, and a foot that says how figures were found and on what they rest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from rigbook.compute.figure import Figure, Missing
from rigbook.handbook.page import Link

if TYPE_CHECKING:
    from rigbook.handbook.book import Book

LONG = 22
"""Characters that fit half the width of a phone."""

class Worded(NamedTuple):
    """A figure in other words than its own: `12° down`."""

    text: str
    figure: Figure


Value: TypeAlias = str | Link | Figure | Missing | Worded | tuple[Link, ...]
"""What is put into a cell: words, names with their places, or a figure."""


class Cell(NamedTuple):
    """What stands in a cell: names with their places, or words."""

    links: tuple[Link, ...]
    text: str
    long: bool
    """More than a figure or a name: it takes a line of its own on a phone."""


@dataclass(frozen=True)
class Table:
    """A table; the first column is what a row is read by."""

    ident: str
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    basis: tuple[tuple[str, str], ...]
    """Heads of columns, and how the figures in them were found."""
    assumed: tuple[str, ...]
    """What the figures rest on that the plan does not say."""
    missing: tuple[str, ...]
    """Why figures are not known."""
    grid: bool = False
    """Many figures of one sort, a row a distance: it keeps its columns on a phone."""


def table(book: Book, ident: str, caption: str, heads: Sequence[str], rows: Iterable[Sequence[Value]]) -> Table:
    """A table from values; its foot comes from the figures in it."""
    every = [tuple(row) for row in rows]
    basis: dict[str, list[str]] = {}
    columns = list(zip(*every, strict=True)) or [()] * len(heads)
    for head, column in zip(heads, columns, strict=True):
        found = dict.fromkeys(book.say(f.formula) for v in column if (f := _figure(v)))
        if found:
            basis.setdefault("; ".join(found), []).append(head)
    figures = [f for row in every for v in row if (f := _figure(v))]
    missing = [v for row in every for v in row if isinstance(v, Missing)]
    return Table(
        ident,
        caption,
        tuple(heads),
        tuple(tuple(cell(book, v) for v in row) for row in every),
        tuple((", ".join(names), how) for how, names in basis.items()),
        tuple(dict.fromkeys(book.say(a) for v in figures for a in v.assumptions)),
        tuple(dict.fromkeys(book.say(v.why) for v in missing)),
    )


def _figure(value: Value) -> Figure | None:
    if isinstance(value, Worded):
        return value.figure
    return value if isinstance(value, Figure) else None


def cell(book: Book, value: Value) -> Cell:
    """A value as it is printed."""
    if isinstance(value, Link):
        return Cell((value,), "", False)
    if isinstance(value, Missing):
        return Cell((), book.say("not known"), False)
    if isinstance(value, Figure):
        return Cell((), value.text.replace(" ", "\u00a0"), False)
    if isinstance(value, Worded):
        return Cell((), value.text, len(value.text) > LONG)
    if isinstance(value, str):
        return Cell((), value, len(value) > LONG)
    return Cell(value, "", len(value) > 1)
