"""What a tree may not hold, as findings: references, tags, double and odd keys, values that run on."""

from __future__ import annotations

import re
from itertools import takewhile
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.records import replace
from rigbook.text.decoding import escaped_odd
from rigbook.text.items import joined
from rigbook.text.limits import MAX_DEPTH, MAX_KEY, MAX_NODES
from rigbook.text.phrase import phrase
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar

_NO_REFERENCE = phrase("write the value out in full (a plan takes over another one by `builds-on`)")
NAMES = phrase("%(text)s names a place to be repeated")
TAG = phrase("%(text)s is a tag")
DEEP = phrase("groups and lists lie more than %(most)s deep here")
FLATTER = phrase("write it flatter; nothing in the language lies that deep")
_NO_TAG = phrase("take it out; a value is what is typed, and the language has no types to choose")

SHOWN = 6
"""Further places of one mistake that are shown."""


class Complaints:
    """Collects the findings of one reading of one file."""

    def __init__(self, source: Source) -> None:
        self.findings: list[Finding] = []
        self._file = source.file
        self._source = source
        self._reference: int | None = None

    def add(self, check: str, span: Span, message: str, remedy: str, first: Span | None = None) -> None:
        """One finding; `first` is the place where a thing given twice stands first."""
        there = (Label(first, phrase("given here first")),) if first else ()
        here = Label(span, phrase("given again") if first else "")
        self.findings.append(Finding(check, Severity.ERROR, message, here, there, remedy=remedy))

    def alias(self, span: Span, name: str) -> None:
        """`*name`."""
        self._refers(span, phrase("`*%(name)s` refers to another place in the file", name=name))

    def _refers(self, span: Span, message: str) -> None:
        """A name for repeating, or a repetition: all of a file are one mistake, told at the first of them."""
        if self._reference is None:
            self._reference = len(self.findings)
            self.add("anchor-used", span, message, _NO_REFERENCE)
            return
        first = self.findings[self._reference]
        if len(first.secondary) < SHOWN:
            also = (*first.secondary, Label(span, phrase("and here")))
            self.findings[self._reference] = replace(first, secondary=also)

    def depth(self, span: Span) -> None:
        """A group that lies too deep."""
        self.add("too-deep", span, phrase(DEEP, most=MAX_DEPTH), FLATTER)

    def size(self, span: Span) -> None:
        """More values than a plan may have."""
        fix = phrase("split the plan into several files that build on one another")
        self.add("too-large", span, phrase("the file holds more than %(most)s values", most=MAX_NODES), fix)

    def second_document(self, span: Span) -> None:
        """A `---` line below the first document."""
        fix = phrase("take this line out, or put what follows into a file of its own")
        self.add("several-documents", span, phrase("a second document begins here"), fix)

    def properties(self, event: Any, span: Span) -> None:
        """An anchor or a tag before a value; the value itself is read as typed."""
        for mark, given, what in (("&", event.anchor, NAMES), ("!", event.tag, TAG)):
            if given is None:
                continue
            line = self._source.lines[span.line]
            start = max(line.find(mark, span.column), span.column)
            word = (line[start:].split(maxsplit=1) or [mark])[0].rstrip(",]}")
            at = Span(self._file, span.line, start, span.line, start + len(word))
            if mark == "&":
                self._refers(at, phrase(what, text=f"`{word}`"))
            else:
                self.add("tag-used", at, phrase(what, text=f"`{word}`"), _NO_TAG)

    def key(self, name: str, span: Span, keys: dict[str, Span]) -> bool:
        """True where a name may stand as a key; else there is a finding."""
        if name in keys:
            free = self._next(name, span, keys)
            fix = (
                phrase("write `%(name)s` if another was meant; else keep one of the two", name=free)
                if free
                else phrase("keep one of the two, or rename one")
            )
            self.add(
                "duplicate-key", span, phrase("`%(name)s` is given twice in one group", name=name), fix, keys[name]
            )
        elif name == "<<":
            self.add("odd-key", span, phrase("`<<` would merge another group into this one"), _NO_REFERENCE)
        elif not name:
            self.add(
                "odd-key",
                span,
                phrase("no name stands before this colon"),
                phrase("write the key's name before the colon"),
            )
        elif len(name) > MAX_KEY or span.line != span.end_line:
            self.add(
                "odd-key", span, phrase("this key is no short name on one line"), "write a short name before the colon"
            )
        else:
            return True
        return False

    def _next(self, name: str, span: Span, keys: dict[str, Span]) -> str:
        """For `mix-1`, given twice, the next number of which there is none: in this group, nor in the lines below."""
        m = re.fullmatch(r"(.*?)(\d{1,4})", name)
        if m is None:
            return ""
        indent = _indent(self._source.lines[span.line])
        group = takewhile(lambda line: not line.strip() or _indent(line) >= indent, self._source.lines[span.line + 1 :])
        below = {line.strip().partition(":")[0] for line in group}
        number = int(m[2]) + 1
        while f"{m[1]}{number}" in keys or f"{m[1]}{number}" in below:
            number += 1
        return f"{m[1]}{number}"

    def escapes(self, text: str, span: Span) -> str:
        """The text without characters that no text should hold, which double quotes can write as escapes."""
        cleaned, finding = escaped_odd(text, span)
        if finding is not None:
            self.findings.append(finding)
        return cleaned

    def group_as_key(self, node: Node) -> None:
        """`{a: b}: c` and `[a]: b`."""
        if isinstance(node, Mapping | Listing):
            group = isinstance(node, Mapping)
            message = (
                phrase("a group stands where a key belongs") if group else phrase("a list stands where a key belongs")
            )
            fix = phrase("write a plain name before the colon; put text that begins with a bracket between quotes")
            self.add("odd-key", node.span, message, fix)

    def tight_colons(self, items: dict[str, Node], keys: dict[str, Span]) -> None:
        """`{name:Fiddle}` is a key without a value to YAML; say so, and keep the key that was meant."""
        for name in [n for n in items if ":" in n]:
            value, span = items[name], keys[name]
            if isinstance(value, Scalar) and not value.text and value.span.column == span.end_column:
                key, _, rest = name.partition(":")
                message = phrase("no space follows the colon in `%(name)s`", name=name)
                self.add("yaml-syntax", span, message, phrase("write `%(line)s`", line=f"{key}: {rest}"))
                del items[name]
                items.setdefault(key, Broken(value.span))
                keys.setdefault(key, span)

    def joined_items(self, span: Span) -> bool:
        """YAML joins a line to the value above if it is indented deeper; a list item was not meant to be.

        Where all items can be recovered it raises what a parser that saw the mistake would.
        """
        lines = self._source.lines
        for number in range(span.line + 1, span.end_line + 1):
            column = len(lines[number]) - len(lines[number].lstrip())
            if not lines[number].startswith("- ", column):
                continue
            joined(lines, span, number)
            at = Span(self._file, number, column, number, len(lines[number]))
            message = phrase("this list item is indented below the value above")
            fix = phrase("indent it like the item above, and write `- ` in front of each item")
            self.add("yaml-syntax", at, message, fix)
            return True
        return False


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
