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

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.limits import MAX_DEPTH, MAX_KEY, MAX_NODES
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar

_NO_REFERENCE = "write the value out in full (a plan takes over another one by `builds-on`)"
_NO_TAG = "take it out; a value is what is typed, and the language has no types to choose"

_new = tuple.__new__  # half the time of calling Span(...), and a plan has thousands of places


class _Enough(Exception):
    """Raised inside this module only, once a finding has said why reading stops."""


class Builder:
    """One reading of one file."""

    def __init__(self, source: Source, next_event: Callable[[], Any]) -> None:
        self.findings: list[Finding] = []
        self._source = source
        self._file = source.file
        self._next = next_event
        self._nodes = 0
        self._marked = "&" in source.text or "!" in source.text

    def run(self) -> Node | None:
        """The tree; None of an empty file. Raises what the parser raises."""
        root: Node | None = None
        documents = 0
        while (event := self._next()) is not None:
            kind = type(event)
            if kind is DocumentStartEvent:
                documents += 1
                if documents > 1:
                    fix = "take this line out, or put what follows into a file of its own"
                    self._fault("several-documents", self._span(event), "a second document begins here", fix)
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
        kind = type(event)
        if kind is ScalarEvent:
            return self._scalar(event)
        span = self._span(event)
        if kind is AliasEvent:
            self._fault("anchor-used", span, f"`*{event.anchor}` refers to another place in the file", _NO_REFERENCE)
            return Broken(span)
        self._properties(event, span)
        if depth == MAX_DEPTH:
            fix = "write it flatter; nothing in the language lies that deep"
            self._fault("too-deep", span, f"groups and lists lie more than {MAX_DEPTH} deep here", fix)
            self._discard()
            return Broken(span)
        return self._mapping(span, depth + 1) if kind is MappingStartEvent else self._listing(span, depth + 1)

    def _mapping(self, start: Span, depth: int) -> Mapping:
        items: dict[str, Node] = {}
        keys: dict[str, Span] = {}
        next_event, file = self._next, self._file
        value: Node = Broken(start)
        while type(event := next_event()) is not MappingEndEvent:
            if type(event) is ScalarEvent and not self._marked:
                name, a, b = event.value, event.start_mark, event.end_mark
                line, end = a.line, b.line
                if name and name not in keys and line == end and len(name) <= MAX_KEY and name != "<<":
                    keys[name] = _new(Span, (file, line, a.column, end, b.column))
                else:
                    name = self._odd_key(event, keys)
            else:
                name = self._odd_key(event, keys)
            event = next_event()
            value = self._scalar(event) if type(event) is ScalarEvent else self._node(event, depth)
            if name is not None:
                items[name] = value
        return Mapping(items, keys, self._extent(start, event, value.span))

    def _listing(self, start: Span, depth: int) -> Listing:
        items: list[Node] = []
        next_event = self._next
        while type(event := next_event()) is not SequenceEndEvent:
            items.append(self._scalar(event) if type(event) is ScalarEvent else self._node(event, depth))
        return Listing(items, self._extent(start, event, items[-1].span if items else start))

    def _extent(self, start: Span, end: Any, last: Span) -> Span:
        """From the first sign to the closing bracket; without brackets, to the end of the last value."""
        a, b = end.start_mark, end.end_mark
        if a.line == b.line and a.column == b.column:
            return Span(self._file, start.line, start.column, last.end_line, last.end_column)
        return Span(self._file, start.line, start.column, b.line, b.column)

    def _scalar(self, event: Any) -> Node:
        a, b = event.start_mark, event.end_mark
        line, end = a.line, b.line
        span: Span = _new(Span, (self._file, line, a.column, end, b.column))
        self._nodes += 1
        if self._marked or self._nodes > MAX_NODES:
            self._limit(span)
            self._properties(event, span)
        style = event.style
        if line == end:
            return Scalar(event.value, span, not style)
        return Scalar(event.value, self._trimmed(span), not style, style == "|" or style == ">")

    def _limit(self, span: Span) -> None:
        if self._nodes > MAX_NODES:
            fix = "split the plan into several files that build on one another"
            self._fault("too-large", span, f"the file holds more than {MAX_NODES} values", fix)
            raise _Enough

    def _trimmed(self, span: Span) -> Span:
        """Without the line ends that the parser counts to a block text."""
        lines = self._source.lines
        line, column = span.end_line, span.end_column
        while line > span.line and not (line < len(lines) and lines[line][:column].strip()):
            line -= 1
            column = len(lines[line])
        return Span(self._file, span.line, span.column, line, column)

    def _odd_key(self, event: Any, keys: dict[str, Span]) -> str | None:
        """The slow way to a key: the name, or None (with a finding) where it is none."""
        if type(event) is not ScalarEvent:
            return self._group_as_key(event)
        name, span = event.value, self._trimmed(self._span(event))
        self._properties(event, span)
        first = keys.get(name)
        if first is not None:
            fix = "keep one of the two lines, or rename one"
            self._fault("duplicate-key", span, f"`{name}` is given twice in one group", fix, first)
        elif name == "<<":
            self._fault("odd-key", span, "`<<` would merge another group into this one", _NO_REFERENCE)
        elif not name:
            self._fault("odd-key", span, "no name stands before this colon", "write the key's name before the colon")
        elif len(name) > MAX_KEY or span.line != span.end_line:
            self._fault("odd-key", span, "this key is no short name on one line", "write a short name before the colon")
        else:
            keys[name] = span
            return str(name)
        return None

    def _group_as_key(self, event: Any) -> None:
        node = self._node(event, MAX_DEPTH - 1)
        what = "a group" if isinstance(node, Mapping) else "a list" if isinstance(node, Listing) else ""
        if what:
            fix = "write a plain name before the colon; put text that begins with a bracket between quotes"
            self._fault("odd-key", node.span, f"{what} stands where a key belongs", fix)

    def _discard(self) -> None:
        """Read past a group or list that was just opened."""
        depth = 1
        while depth:
            kind = type(self._next())
            if kind is MappingStartEvent or kind is SequenceStartEvent:
                depth += 1
            elif kind is MappingEndEvent or kind is SequenceEndEvent:
                depth -= 1

    def _properties(self, event: Any, span: Span) -> None:
        """Findings for an anchor and a tag before a value; the value itself is read as typed."""
        for mark, given, check, what, fix in (
            ("&", event.anchor, "anchor-used", "names a place to be repeated", _NO_REFERENCE),
            ("!", event.tag, "tag-used", "is a tag", _NO_TAG),
        ):
            if given is None:
                continue
            line = self._source.lines[span.line]
            start = max(line.find(mark, span.column), span.column)
            word = (line[start:].split(maxsplit=1) or [mark])[0].rstrip(",]}")
            at = Span(self._file, span.line, start, span.line, start + len(word))
            self._fault(check, at, f"`{word}` {what}", fix)

    def _span(self, event: Any) -> Span:
        a, b = event.start_mark, event.end_mark
        return Span(self._file, a.line, a.column, b.line, b.column)

    def _fault(self, check: str, span: Span, message: str, remedy: str, first: Span | None = None) -> None:
        there = (Label(first, "given here first"),) if first else ()
        here = Label(span, "given again" if first else "")
        self.findings.append(Finding(check, Severity.ERROR, message, here, there, remedy=remedy))
