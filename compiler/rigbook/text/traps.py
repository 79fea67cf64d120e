"""What YAML reads without complaint, and not as it was meant."""

from __future__ import annotations

import re
from collections.abc import Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.phrase import phrase
from rigbook.text.tree import Broken, Listing, Mapping, Node, Scalar

_NUMBER_SIGN = re.compile(r"\s+(#[0-9]\S*)")


def cut_by_comment(root: Node, source: Source) -> list[Finding]:
    """`name: Guitar #2` is `Guitar` and a comment. A comment with a space behind its sign is taken as meant."""
    if not re.search("#[0-9]", source.text):  # the quick look: hardly a plan has one
        return []
    found = []
    for scalar in _plain(root):
        line = source.lines[scalar.span.end_line]
        m = _NUMBER_SIGN.match(line, scalar.span.end_column)
        if m is None or not scalar.text:
            continue
        at = Span(source.file, scalar.span.end_line, m.start(1), scalar.span.end_line, m.end(1))
        message = phrase(
            "`%(sign)s` is read as a comment, so the value is only `%(scalar)s`", sign=m.group(1), scalar=scalar.text
        )
        meant = f"{scalar.text} {m.group(1)}"
        fix = phrase('write `"%(meant)s"` with the quotes, or put a space after the `#` of a comment', meant=meant)
        found.append(Finding("comment-cut", Severity.WARNING, message, Label(at), remedy=fix))
    return found


_CURLY = re.compile("^[\u201c\u201e\u201d\u00ab\u00bb](.*)[\u201c\u201d\u00ab\u00bb]$")


def curly_quotes(root: Node, source: Source) -> list[Finding]:
    """`name: “Fiddle”`, as a word processor makes it: the quotes become a part of the text."""
    if not re.search("[\u201c\u201d\u201e\u00ab]", source.text):
        return []
    found = []
    for scalar in _plain(root):
        m = _CURLY.match(scalar.text)
        if m is not None and m.group(1).strip() and scalar.span.line == scalar.span.end_line:
            message = f"the curly quotes around `{scalar.text}` are read as part of the text"
            fix = f"take them out, or write straight ones: `\"{m.group(1)}\"`"
            found.append(Finding("yaml-syntax", Severity.ERROR, message, Label(scalar.span), remedy=fix))
    return found


def _plain(node: Node) -> Iterator[Scalar]:
    match node:
        case Scalar(plain=True):
            yield node
        case Mapping():
            for value in node.items.values():
                yield from _plain(value)
        case Listing():
            for value in node.items:
                yield from _plain(value)
        case Scalar() | Broken():
            pass
