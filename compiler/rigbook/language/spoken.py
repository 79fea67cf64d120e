"""Groups of keys as findings speak of them, so that a page can say them in another language."""

from __future__ import annotations

from types import MappingProxyType
from typing import Final

from rigbook.text.phrase import phrase

SHAPES: Final = MappingProxyType(
    {
        "audience area": phrase("an audience area"),
        "bus": phrase("a bus"),
        "change": phrase("a change"),
        "channel": phrase("a channel"),
        "circuit": phrase("a circuit"),
        "contact": phrase("a contact"),
        "desk note": phrase("a desk note"),
        "exception": phrase("an exception"),
        "insert": phrase("an insert"),
        "kind": phrase("a kind"),
        "labels": phrase("the group `labels`"),
        "limits": phrase("the group `limits`"),
        "note": phrase("a note"),
        "output": phrase("an output"),
        "plan": phrase("a plan"),
        "port": phrase("a port"),
        "power plan": phrase("a power plan"),
        "rack": phrase("a rack"),
        "radio channel": phrase("a radio channel"),
        "radio plan": phrase("a radio plan"),
        "room": phrase("a room"),
        "setting": phrase("a setting"),
        "stock line": phrase("a stock line"),
        "supply": phrase("a supply"),
        "unit": phrase("a unit"),
        "walk-test record": phrase("a walk-test record"),
    }
)
"""By the name of the group: `a unit`, `an output`."""
NAMES: Final = MappingProxyType(
    {
        "audience area": phrase("audience area"),
        "bus": phrase("bus"),
        "change": phrase("change"),
        "channel": phrase("channel"),
        "circuit": phrase("circuit"),
        "contact": phrase("contact"),
        "desk note": phrase("desk note"),
        "exception": phrase("exception"),
        "insert": phrase("insert"),
        "kind": phrase("kind"),
        "labels": phrase("labels"),
        "limits": phrase("limits"),
        "note": phrase("note"),
        "output": phrase("output"),
        "plan": phrase("plan"),
        "port": phrase("port"),
        "power plan": phrase("power plan"),
        "rack": phrase("rack"),
        "radio channel": phrase("radio channel"),
        "radio plan": phrase("radio plan"),
        "room": phrase("room"),
        "setting": phrase("setting"),
        "stock line": phrase("stock line"),
        "supply": phrase("supply"),
        "unit": phrase("unit"),
        "walk-test record": phrase("walk-test record"),
    }
)
"""The same without an article, for `this unit`."""


def a_or_an(name: str) -> str:
    """A noun with its article, as the names of this language are spoken."""
    return SHAPES.get(name) or (f"an {name}" if name[0] in "aeio" else f"a {name}")
