"""Bytes to a tree that knows its places: the entrance of this room for plan files."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import yaml

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.building import Builder
from rigbook.text.decoding import decode, without_odd
from rigbook.text.foreign import without_foreign
from rigbook.text.mending import Mending
from rigbook.text.phrase import phrase
from rigbook.text.restoring import restore, restore_finding
from rigbook.text.traps import curly_quotes, cut_by_comment
from rigbook.text.tree import Broken, Mapping, Node, Scalar


def read_bytes(file: str, data: bytes, whole: int = 0) -> tuple[Source, list[Finding]]:
    """A file's text: UTF-8, with or without byte order mark, with line ends of any kind.

    What is not UTF-8 gets a finding; its text is guessed where it can be, so that the other mistakes are found in
    the same run. What is no text at all comes back as a `Source` that is not `readable`. `whole` is the size of the
    file where not all of it was read: what is beyond `MAX_BYTES` need not be.
    """
    return decode(file, data, whole)


def read(source: Source) -> tuple[Node, list[Finding]]:
    """The tree of a file, and what could not be read. Never raises.

    The tree is a `Mapping`, or `Broken` where the file holds no keys at all (a finding says so). An empty file is an
    empty `Mapping`.
    """
    start = Span(source.file, 0, 0, 0, 0)
    if not source.readable:
        return Broken(start), []
    text, findings = without_odd(source)
    text, foreign = without_foreign(source, text)
    findings += foreign
    mending: Mending | None = None
    while True:
        builder = Builder(source if text is source.text else Source(source.file, text), _events(text))
        try:
            root = builder.run()
            break
        except yaml.MarkedYAMLError as error:
            mending = mending or Mending(source, text)
            if not mending.mend(error):
                return Broken(start), findings + mending.findings
            text = mending.text
    if mending is None:
        findings += builder.findings
    else:
        findings += mending.findings + [restore_finding(f, mending.damage, source) for f in builder.findings]
    if root is None or (isinstance(root, Scalar) and not root.text and root.plain):
        return (Broken(start) if findings else Mapping({}, {}, start)), findings
    if mending is not None:
        root = restore(root, mending.damage, source)
    if isinstance(root, Mapping | Broken):
        return root, findings + cut_by_comment(root, source) + curly_quotes(root, source)
    if mending is None:  # else the file may well hold keys, and the mistake is reported
        what = phrase("a single text") if isinstance(root, Scalar) else phrase("a list")
        message = phrase("the file holds %(what)s, not lines of `key: value`", what=what)
        fix = phrase("begin each line with a key and a colon: `plan: 1`")
        at = Span(source.file, root.span.line, root.span.column, root.span.line, root.span.column + 1)
        findings.append(Finding("yaml-syntax", Severity.ERROR, message, Label(at), remedy=fix))
    return Broken(root.span), findings


def _events(text: str) -> Callable[[], Any]:
    """The parser's events one by one: libyaml's, or the pure Python ones where libyaml is not built in."""
    loader: Any = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader
    get: Callable[[], Any] = loader(text).get_event
    return get
