"""Patch: every socket with its cable and far end, by device; the input list by channel and by socket; the cables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigbook.handbook import cable_list, devices, input_list
from rigbook.handbook.page import Link, Page
from rigbook.records import frozen
from rigbook.text.phrase import phrase

if TYPE_CHECKING:
    from rigbook.handbook.book import Book


@frozen
class Patch:
    """Data of the page."""

    desks: tuple[tuple[str, tuple[input_list.Input, ...]], ...]
    """Input lists by desk; the name is empty where there is one desk."""
    by_socket: tuple[tuple[Link, tuple[input_list.BySocket, ...]], ...]
    """By the unit that the sockets are on."""
    devices: tuple[devices.Device, ...]
    kinds: tuple[cable_list.CableKind, ...]
    unresolved: tuple[str, ...]
    """Sockets on cables whose unit the plan nowhere names."""


def page(book: Book) -> Page | None:
    """The patch page."""
    plan = book.plan
    data = Patch(
        desks=tuple(input_list.by_desk(book)),
        by_socket=tuple(input_list.by_socket(book)),
        devices=tuple(devices.device(book, unit) for unit in plan.units.values()),
        kinds=tuple(cable_list.by_kind(book)),
        unresolved=tuple(sorted({s.id for c in plan.cables for s in (c.start, c.end) if s.unit not in plan.units})),
    )
    return Page("patch", phrase("Patch"), "patch.html", data, phrase("stage crew"))
