"""Tables of computed figures: cells that link, and a foot that says how figures were found and on what they rest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeAlias

from rigbook.compute.figure import Figure, Missing
from rigbook.handbook.page import Link
from rigbook.records import frozen
from rigbook.text.phrase import joined
from rigbook.units.quantity import Amount

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
    figure: bool
    """A number with its unit, between which no line breaks."""
    long: bool
    """More than a figure or a name: it takes a line of its own on a phone."""


@frozen
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


def table(ident: str, caption: str, heads: Sequence[str], rows: Iterable[Sequence[Value]]) -> Table:
    """A table from values; its foot comes from the figures in it."""
    every = [tuple(row) for row in rows]
    basis: dict[tuple[str, ...], list[str]] = {}
    columns = list(zip(*every, strict=True)) or [()] * len(heads)
    for head, column in zip(heads, columns, strict=True):
        found = tuple(dict.fromkeys(f.formula for v in column if (f := _figure(v))))
        if found:
            basis.setdefault(found, []).append(head)
    figures = [f for row in every for v in row if (f := _figure(v))]
    missing = [v for row in every for v in row if isinstance(v, Missing)]
    return Table(
        ident,
        caption,
        tuple(heads),
        tuple(tuple(map(cell, row)) for row in every),
        tuple((joined(names), joined(how, "; ")) for how, names in basis.items()),
        tuple(dict.fromkeys(a for v in figures for a in v.assumptions)),
        tuple(dict.fromkeys(v.why for v in missing)),
    )


def _figure(value: Value) -> Figure | None:
    if isinstance(value, Worded):
        return value.figure
    return value if isinstance(value, Figure) else None


def cell(value: Value) -> Cell:
    """A value as it is printed."""
    if isinstance(value, Link):
        return Cell((value,), "", False, False)
    if isinstance(value, (Figure, Missing)):
        return Cell((), value.text, isinstance(value, Figure), False)
    if isinstance(value, (Worded, str)):
        text = value.text if isinstance(value, Worded) else value
        return Cell((), text, isinstance(text, Amount), len(text) > LONG)
    return Cell(value, "", False, len(value) > 1)
