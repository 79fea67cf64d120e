"""Bytes to a tree that knows its places: the one entrance of this room for plan files."""

from __future__ import annotations

import yaml
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.building import Builder
from rigbook.text.limits import MAX_BYTES, MAX_REPAIRS
from rigbook.text.tree import Mapping, Node, Scalar


def read_bytes(file: str, data: bytes) -> tuple[Source, list[Finding]]:
    """Decode a file. UTF-8, with or without byte order mark; line ends of any kind."""
    start = Span(file, 0, 0, 0, 0)
    if len(data) > MAX_BYTES:
        fix = "split it into several files that build on one another"
        message = f"the file has {len(data)} bytes, {MAX_BYTES} are allowed"
        return Source(file, ""), [Finding("too-large", Severity.ERROR, message, Label(start), remedy=fix)]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8-sig", "replace")
        line, column = before.count("\n"), len(before) - before.rfind("\n") - 1
        span = Span(file, line, column, line, column + 1)
        fix = "save the file as UTF-8 (in the editor: save with encoding)"
        finding = Finding("wrong-encoding", Severity.ERROR, "this character is not UTF-8", Label(span), remedy=fix)
        return Source(file, data.decode("utf-8-sig", "replace").replace("\r\n", "\n")), [finding]
    return Source(file, text.replace("\r\n", "\n").replace("\r", "\n")), []


def read(source: Source) -> tuple[Node, list[Finding]]:
    """The tree of a file, and what could not be read. Never raises."""
    mended = source.text
    wrong: list[Finding] = []
    damaged: set[int] = set()
    root = None
    for _ in range(MAX_REPAIRS):
        builder = Builder(source, _events(mended))
        try:
            root = builder.run()
            break
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            assert mark is not None, "the parser marks its errors"
            line = min(mark.line, len(source.lines) - 1)
            span = Span(source.file, line, min(mark.column, len(source.lines[line])), line, len(source.lines[line]))
            wrong.append(Finding("yaml-syntax", Severity.ERROR, f"the text cannot be read here: {error.problem}", Label(span)))
            lines = mended.split("\n")
            while line > 0 and not lines[line].strip():
                line -= 1
            if not lines[line].strip():
                break
            damaged.add(line)
            lines[line] = ""
            mended = "\n".join(lines)
        except yaml.reader.ReaderError as error:
            wrong.append(Finding("wrong-encoding", Severity.ERROR, "control character", Label(Span(source.file, 0, 0, 0, 0))))
            break
    wrong += builder.findings
    if root is None or (isinstance(root, Scalar) and not root.text):
        return Mapping({}, {}, Span(source.file, 0, 0, 0, 0)), wrong
    if isinstance(root, Scalar | type(None)) or not isinstance(root, Mapping):
        fix = "begin with a key and a colon: `plan: 1`"
        wrong.append(Finding("yaml-syntax", Severity.ERROR, "the file holds no keys", Label(root.span), remedy=fix))
    return root, wrong


def _events(text: str) -> Any:
    loader = getattr(yaml, "CSafeLoader", None)
    if loader is None:
        return yaml.SafeLoader(text).get_event  # type: ignore[no-any-return]
    return loader(text).get_event  # type: ignore[no-any-return]
