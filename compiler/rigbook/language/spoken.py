"""Groups of keys as findings speak of them, so that a page can say them in another language."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.text.phrase import phrase

SHAPES: Final = MappingProxyType(
    {
        "bus": phrase("a bus"),
        "channel": phrase("a channel"),
        "circuit": phrase("a circuit"),
        "contact": phrase("a contact"),
        "kind": phrase("a kind"),
        "note": phrase("a note"),
        "output": phrase("an output"),
        "plan": phrase("a plan"),
        "port": phrase("a port"),
        "rack": phrase("a rack"),
        "room": phrase("a room"),
        "supply": phrase("a supply"),
        "unit": phrase("a unit"),
    }
)
"""By the name of the group: `a unit`, `an output`."""
