"""The group of changes: headings that say why, below them what changes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from rigbook.language.groups import MapOf
from rigbook.language.reading import Reading
from rigbook.language.shape import Key, Shape
from rigbook.records import frozen, replace
from rigbook.text.phrase import phrase
from rigbook.text.tree import Mapping, Node


@frozen
class Changes(MapOf):
    """Changes by their reasons; a section right below `changes:` lacks its reason."""

    def read(self, node: Node, reading: Reading) -> Any:
        if not isinstance(node, Mapping) or not isinstance(self.value, Shape):
            return super().read(node, reading)
        known = self.value.key
        told = [name for name, value in node.items.items() if known(name) and not _a_change(value, known)]
        for name in told:
            value = node.items[name]
            inside = next(iter(value.items), "") if isinstance(value, Mapping) else ""
            shown = f"{{{inside}: …}}" if inside else "…"
            reading.fault(
                "wrong-value",
                node.keys[name],
                phrase("the reason is missing as heading of the change to `%(name)s`", name=name),
                phrase(
                    "put it between the two: `%(line)s`", line=f"changes: {{Why it changes: {{{name}: {shown}}}}}"
                ),
            )
        items = {name: value for name, value in node.items.items() if name not in told}
        return super().read(replace(node, items=items), reading)


def _a_change(value: Node, known: Callable[[str], Key | None]) -> bool:
    """True of a group of sections: then the name above it is a reason that happens to read like a section."""
    return isinstance(value, Mapping) and bool(value.items) and all(map(known, value.items))
