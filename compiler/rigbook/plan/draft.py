"""What the files of a plan say, merged, before any name is looked up."""

from __future__ import annotations

from types import MappingProxyType
from typing import Any

from rigbook.findings.place import Span
from rigbook.language.record import Entry, Record
from rigbook.language.values.wires import Wire
from rigbook.plan.model import Change
from rigbook.records import changing, field, frozen
from rigbook.text.phrase import phrase

NAMED = ("kinds", "units", "places", "inputs", "buses", "outputs", "racks", "contacts", "notes", "desk-notes", "stock")
"""Sections of named items; `inputs on DESK` and the like belong to them."""
WHOLE = ("room", "power", "radio", "limits", "running-order", "labels")
"""Sections that are one group of keys."""
FREE = ("labels",)
"""Sections that a show may say anew without a reason: nothing is to be put back after it."""
LISTS = ("walk-tests", "exceptions")
WORDS = MappingProxyType(
    {
        "kinds": phrase("kind"),
        "units": phrase("unit"),
        "places": phrase("place"),
        "inputs": phrase("channel"),
        "buses": phrase("bus"),
        "outputs": phrase("output"),
        "racks": phrase("rack"),
        "contacts": phrase("contact"),
        "notes": phrase("note"),
        "desk-notes": phrase("desk note"),
        "stock": phrase("stock of"),
    }
)
ADDED, IN_HOUSE, TAKEN_OUT = phrase("added"), phrase("in the house rig"), phrase("taken out")
Section = dict[str, "Item"]


@frozen
class Item:
    """A named item of a section, before its names are resolved."""

    name: str
    span: Span
    value: Any
    origin: str


@frozen
class WireItem:
    """A line of wiring with the cable kind it stands under."""

    kind: str
    kind_span: Span
    wire: Wire
    origin: str
    house: int = 0
    """How many lines of `wiring` were there before those of its file: the house rig's."""
    reason: str = ""
    """Why the change says it that it stands in; empty outside `changes:`."""


@changing
class Draft:
    """Everything the files say, merged, names not yet resolved."""

    top: Record
    files: tuple[str, ...]
    sections: dict[str, Section] = field(default_factory=dict)
    wires: list[WireItem] = field(default_factory=list)
    whole: dict[str, Record | tuple[Entry, ...]] = field(default_factory=dict)
    lists: dict[str, list[tuple[Any, str]]] = field(default_factory=dict)
    titles: dict[str, str] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    removals: list[tuple[int, str, Span, str]] = field(default_factory=list)
    """Cables to take out: of how many lines from the first, the line as typed, its place, the reason."""
    removed_units: dict[str, int] = field(default_factory=dict)
    """Units taken out, each with the number of lines from the first whose cables go with it."""
    removed_besides: set[str] = field(default_factory=set)
    """Outputs that went with their bus; to take one out by name as well is no mistake."""
