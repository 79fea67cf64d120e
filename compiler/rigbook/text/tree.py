"""The tree that a plan file is read into. Every scalar is kept as the text that was typed."""

from __future__ import annotations

from rigbook.findings.place import Span
from rigbook.records import changing


@changing
class Scalar:
    """A single value. `text` is what was typed (quotes removed); `plain` is true if it was typed without quotes."""

    text: str
    span: Span
    plain: bool = True
    block: bool = False
    """True for `|` and `>` texts; then `span` starts at the indicator and `text` is the folded or literal text."""


@changing
class Mapping:
    """Keys with values, in the order typed. Keys are unique (a double key is a finding; the first one stays)."""

    items: dict[str, Node]
    keys: dict[str, Span]
    """Where each key stands."""
    span: Span
    partial: bool = False
    """True where a line of this group could not be read (its finding has been made): a key that seems to be missing
    may have stood there."""


@changing
class Listing:
    """A list of values."""

    items: list[Node]
    span: Span


@changing
class Broken:
    """A value that could not be read; its finding has been made."""

    span: Span


Node = Scalar | Mapping | Listing | Broken
