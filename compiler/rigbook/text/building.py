"""Parser events to a tree with places. No constructors, no resolver: a scalar stays the text that was typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
    StreamEndEvent,
)

from rigbook.findings.finding import Finding
from rigbook.findings.place import Source, Span
from rigbook.text.complaints import Complaints
from rigbook.text.limits import MAX_DEPTH, MAX_KEY, MAX_NODES
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar

_new = tuple.__new__  # half the time of calling Span(...), and a plan has thousands of places


class _Enough(Exception):
    """Raised inside this module only, once a finding has said why reading stops."""


class Builder:
    """One reading of one file."""

    def __init__(self, source: Source, next_event: Callable[[], Any]) -> None:
        self._complaints = Complaints(source)
        self._lines = source.lines
        self._file = source.file
        self._next = next_event
        self._nodes = 0
        # most files have none of these signs, and then no value need be asked for its anchor, its tag and its escapes
        self._marked = "&" in source.text or "!" in source.text or "\\" in source.text

    @property
    def findings(self) -> list[Finding]:
        """What was found so far."""
        return self._complaints.findings

    def run(self) -> Node | None:
        """The tree; None of an empty file. Raises what the parser raises."""
        root: Node | None = None
        documents = 0
        while (event := self._next()) is not None:
            kind = event.__class__
            if kind is DocumentStartEvent:
                documents += 1
                if documents > 1:
                    self._complaints.second_document(self._span(event))
                    break
            elif kind in (ScalarEvent, MappingStartEvent, SequenceStartEvent, AliasEvent):
                try:
                    root = self._node(event, 0)
                except _Enough:
                    return Broken(self._span(event))
            elif kind is StreamEndEvent:
                break
        return root

    def _node(self, event: Any, depth: int) -> Node:
        kind = event.__class__
        if kind is ScalarEvent:
            return self._scalar(event)
        span = self._span(event)
        if kind is AliasEvent:
            self._complaints.alias(span, event.anchor)
            return Broken(span)
        if self._marked:
            self._complaints.properties(event, span)
        if depth == MAX_DEPTH:
            self._complaints.depth(span)
            self._discard()
            return Broken(span)
        return self._mapping(span, depth + 1) if kind is MappingStartEvent else self._listing(span, depth + 1)

    def _mapping(self, start: Span, depth: int) -> Mapping:
        items: dict[str, Node] = {}
        keys: dict[str, Span] = {}
        next_event, file, marked = self._next, self._file, self._marked
        value: Node = Broken(start)
        partial = False
        while True:
            event = next_event()
            kind = event.__class__
            if kind is MappingEndEvent:
                break
            name: str | None
            if kind is ScalarEvent and not marked:
                a, b = event.start_mark, event.end_mark
                line, end = a.line, b.line
                name = event.value
                if name and name not in keys and line == end and len(name) <= MAX_KEY and name != "<<":
                    keys[name] = _new(Span, (file, line, a.column, end, b.column))
                else:
                    name = self._odd_key(event, keys, depth)
            else:
                name = self._odd_key(event, keys, depth)
            event = next_event()
            kind = event.__class__
            value = self._scalar(event) if kind is ScalarEvent else self._node(event, depth)
            if name:
                items[name] = value
            elif name is None:
                partial = True
        extent = self._extent(start, event, value.span)
        if ":" in "".join(items) and event.start_mark.column != event.end_mark.column:
            self._complaints.tight_colons(items, keys)
        return Mapping(items, keys, extent, partial)

    def _listing(self, start: Span, depth: int) -> Listing:
        items: list[Node] = []
        next_event = self._next
        while True:
            event = next_event()
            kind = event.__class__
            if kind is SequenceEndEvent:
                break
            items.append(self._scalar(event) if kind is ScalarEvent else self._node(event, depth))
        return Listing(items, self._extent(start, event, items[-1].span if items else start))

    def _scalar(self, event: Any) -> Node:
        a, b = event.start_mark, event.end_mark
        line, end = a.line, b.line
        span: Span = _new(Span, (self._file, line, a.column, end, b.column))
        self._nodes += 1
        if self._nodes > MAX_NODES:
            self._complaints.size(span)
            raise _Enough
        style = event.style
        if self._marked:
            self._complaints.properties(event, span)
            if style == '"':
                event.value = self._complaints.escapes(event.value, span)
        if line == end:
            value = event.value
            return Scalar(value, span if value else self._inside(span), not style)
        span = self._trimmed(span)
        if not style and self._complaints.joined_items(span):
            return Broken(span)
        return Scalar(event.value, span, not style, style == "|" or style == ">")

    def _odd_key(self, event: Any, keys: dict[str, Span], depth: int) -> str | None:
        """The slow way to a key: its name; empty for one given twice, None for what is no key (each with a finding)."""
        if event.__class__ is not ScalarEvent:
            self._complaints.group_as_key(self._node(event, depth))
            return None
        name, span = event.value, self._trimmed(self._span(event))
        if event.style == '"':
            name = self._complaints.escapes(name, span)
        self._complaints.properties(event, span)
        if self._complaints.key(name, span, keys):
            keys[name] = span
            return str(name)
        return "" if name in keys else None

    def _discard(self) -> None:
        """Read past a group or list that was just opened."""
        depth = 1
        while depth:
            kind = self._next().__class__
            if kind is MappingStartEvent or kind is SequenceStartEvent:
                depth += 1
            elif kind is MappingEndEvent or kind is SequenceEndEvent:
                depth -= 1

    def _trimmed(self, span: Span) -> Span:
        """Without the line ends that the parser counts to a block text."""
        lines = self._lines
        line, column = span.end_line, span.end_column
        while line > span.line and not (line < len(lines) and lines[line][:column].strip()):
            line -= 1
            column = len(lines[line])
        return Span(self._file, span.line, span.column, line, column)

    def _extent(self, start: Span, end: Any, last: Span) -> Span:
        """From the first sign to the closing bracket; without brackets, to the end of the last value."""
        a, b = end.start_mark, end.end_mark
        if a.line == b.line and a.column == b.column:
            return Span(self._file, start.line, start.column, last.end_line, last.end_column)
        return Span(self._file, start.line, start.column, b.line, b.column)

    def _span(self, event: Any) -> Span:
        a, b = event.start_mark, event.end_mark
        return self._inside(Span(self._file, a.line, a.column, b.line, b.column))

    def _inside(self, span: Span) -> Span:
        """The parser places what is missing at the end of a file one line too low if no line end stands there."""
        last = len(self._lines) - 1
        if span.end_line <= last:
            return span
        line, column = (span.line, span.column) if span.line <= last else (last, len(self._lines[last]))
        return Span(self._file, line, column, last, len(self._lines[last]))
