"""What is read: a group of keys, and a named value of a group of the user's own names."""

from __future__ import annotations

from typing import Any

from rigbook.findings.place import Span
from rigbook.records import frozen


@frozen
class Record:
    """A group of keys as read. `values` holds what could be read; `broken` names the keys that could not."""

    shape: str
    span: Span
    values: dict[str, Any]
    spans: dict[str, Span]
    """Where the value of each key stands."""
    broken: frozenset[str] = frozenset()

    def get(self, key: str, default: Any = None) -> Any:
        """The value of a key, or the default where it was not typed (or could not be read)."""
        return self.values.get(key, default)

    def at(self, key: str) -> Span:
        """Where the value of a key stands; the whole record where it was not typed."""
        return self.spans.get(key, self.span)


@frozen
class Entry:
    """One named value of a `MapOf`: the key as typed, its place, the value."""

    name: str
    span: Span
    value: Any
