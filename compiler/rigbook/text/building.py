"""Parser events to a tree with places. No constructors, no resolver: a scalar stays the text that was typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
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

NextEvent = Callable[[], Any]


@dataclass
class Builder:
    """One reading of one file. After `run`, or after the parser raised, `root` holds what was built."""

    source: Source
    damaged: frozenset[int] = frozenset()
    """Lines that were mended; values on them become `Broken`, for their finding has been made."""
    findings: list[Finding] = field(default_factory=list)
    root: Node | None = None
    nodes: int = 0
    _stack: list[Mapping | Listing] = field(default_factory=list)
    _keys: list[tuple[str, Span] | None] = field(default_factory=list)
    """For each open group: the key whose value comes next."""
    _skip: int = 0
    """Depth inside a value that is thrown away."""

    def run(self, next_event: NextEvent) -> None:
        """Take events until the stream ends."""
        documents = 0
        while True:
            event = next_event()
            kind = type(event)
            if kind is ScalarEvent:
                self._scalar(event)
            elif kind is MappingStartEvent or kind is SequenceStartEvent:
                self._open(event, kind is MappingStartEvent)
            elif kind is MappingEndEvent or kind is SequenceEndEvent:
                self._close(event)
            elif kind is AliasEvent:
                span = self._span(event)
                self._fault("anchor-used", span, f"`*{event.anchor}` refers to another place in the file", _ANCHOR)
                self._add(Broken(span), span)
            elif kind is DocumentStartEvent:
                documents += 1
                if documents > 1:
                    span = self._span(event)
                    fix = "take the `---` line out, or put the second part in a file of its own"
                    self._fault("several-documents", span, "a second document begins here", fix)
                    return
            elif kind is StreamEndEvent or event is None:
                return
            if self.nodes > MAX_NODES:
                fix = "split the plan into several files that build on one another"
                self._fault("too-large", self._span(event), f"the file holds more than {MAX_NODES} values", fix)
                return

    def _scalar(self, event: Any) -> None:
        start, end = event.start_mark, event.end_mark
        style = event.style
        block = style == "|" or style == ">"
        end_line, end_column = end.line, end.column
        if end_column == 0 and end_line > start.line:
            end_line, end_column = self._back(start.line, end_line)
        span = Span(self.source.file, start.line, start.column, end_line, end_column)
        if event.anchor is not None or event.tag is not None:
            self._properties(event, span)
        self.nodes += 1
        node: Node
        if start.line in self.damaged and not self._wants_key():
            node = Broken(span)
        else:
            node = Scalar(event.value, span, event.implicit[0] or style == "" or style is None, block)
        self._add(node, span)

    def _back(self, first: int, line: int) -> tuple[int, int]:
        """The end of the last line with text, at or above `line - 1`."""
        lines = self.source.lines
        line -= 1
        while line > first and (line >= len(lines) or not lines[line].strip()):
            line -= 1
        return line, len(lines[line])

    def _wants_key(self) -> bool:
        return not self._skip and bool(self._stack) and isinstance(self._stack[-1], Mapping) and self._keys[-1] is None

    def _open(self, event: Any, mapping: bool) -> None:
        span = self._span(event)
        if event.anchor is not None or event.tag is not None:
            self._properties(event, span)
        self.nodes += 1
        if self._skip:
            self._skip += 1
            return
        if self._wants_key():
            what = "a group" if mapping else "a list"
            fix = "write one plain name before the colon; put quotes around text that begins with a bracket"
            self._fault("odd-key", span, f"{what} stands where a key belongs", fix)
            self._keys[-1] = ("", span)
            self._skip = 1
            self._skipped_key = True
            return
        if len(self._stack) >= MAX_DEPTH:
            fix = "write it flatter; the language needs no such depth"
            self._fault("too-deep", span, f"groups and lists lie more than {MAX_DEPTH} deep", fix)
            self._add(Broken(span), span)
            self._skip = 1
            return
        node: Mapping | Listing = Mapping({}, {}, span) if mapping else Listing([], span)
        self._add(node, span)
        self._stack.append(node)
        self._keys.append(None)

    def _close(self, event: Any) -> None:
        if self._skip:
            self._skip -= 1
            return
        node = self._stack.pop()
        self._keys.pop()
        end = event.end_mark
        start = node.span
        if event.start_mark.line == end.line and event.start_mark.column == end.column:
            children = node.items.values() if isinstance(node, Mapping) else node.items
            last = start
            for child in children:
                last = child.span
            node.span = Span(start.file, start.line, start.column, last.end_line, last.end_column)
        else:
            node.span = Span(start.file, start.line, start.column, end.line, end.column)

    def _add(self, node: Node, span: Span) -> None:
        if self._skip:
            return
        if not self._stack:
            if self.root is None:
                self.root = node
            return
        top = self._stack[-1]
        if isinstance(top, Listing):
            top.items.append(node)
            return
        key = self._keys[-1]
        if key is None:
            self._keys[-1] = self._key(node, top)
            return
        self._keys[-1] = None
        if key[0] and key[0] not in top.items:
            top.items[key[0]] = node
            top.keys[key[0]] = key[1]

    def _key(self, node: Node, top: Mapping) -> tuple[str, Span]:
        """The key that a scalar makes; the empty key where it makes none."""
        if not isinstance(node, Scalar):
            return "", node.span
        name, span = node.text, node.span
        if not name or node.block or len(name) > MAX_KEY or "\n" in name:
            fix = "write a short name before the colon"
            self._fault("odd-key", span, "this value has no name before its colon" if not name else "this key is too long", fix)
            return "", span
        if name == "<<" and node.plain:
            fix = "write the keys out, or use `builds-on` to take over a plan"
            self._fault("odd-key", span, "`<<` merges another group in", fix)
            return "", span
        first = top.keys.get(name)
        if first is not None:
            self.findings.append(
                Finding(
                    "duplicate-key",
                    Severity.ERROR,
                    f"`{name}` is given twice in one group",
                    Label(span, "given again here"),
                    (Label(first, "first given here"),),
                    remedy="keep one of the two",
                )
            )
        return name, span

    def _properties(self, event: Any, span: Span) -> None:
        at = span._replace(end_line=span.line)
        if event.anchor is not None:
            self._fault("anchor-used", at.within(0, len(event.anchor) + 1), f"`&{event.anchor}` marks a place to repeat", _ANCHOR)
        if event.tag is not None:
            text = self.source.lines[span.line][span.column :].split(maxsplit=1)
            word = next((w for w in text[:1]), "!")
            self._fault("tag-used", at.within(0, len(word)), f"`{word}` is a tag", "take it out; the language has no tags")

    def _span(self, event: Any) -> Span:
        start, end = event.start_mark, event.end_mark
        return Span(self.source.file, start.line, start.column, end.line, end.column)

    def _fault(self, check: str, span: Span, message: str, remedy: str) -> None:
        self.findings.append(Finding(check, Severity.ERROR, message, Label(span), remedy=remedy))


_ANCHOR = "write the value out; the language repeats nothing by reference (use `builds-on` to take over a plan)"
