"""A finding as people read it: the fact, the lines of the plan, what it does on stage, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Sources, Span
from rigbook.findings.screen import cells, clip, harmless
from rigbook.records import frozen

WIDTH = 82
"""Cells in which the name of the check is set flush right."""
CUT = 100
"""Cells of a source line that are shown at most."""

_COLOURS = ((Severity.ERROR, "1;31"), (Severity.WARNING, "1;33"), (Severity.NOTE, "1;36"))
_QUIET, _OTHER, _STRONG = "2", "1;34", "1"


@frozen
class _Pen:
    colour: bool

    def __call__(self, code: str, text: str) -> str:
        return f"\x1b[{code}m{text}\x1b[0m" if self.colour and text else text


def to_terminal(finding: Finding, sources: Sources, *, colour: bool = False) -> str:
    """One finding, in several lines, without a line end behind the last.

    Args:
        finding: what to print.
        sources: the files as read, by name; a place in a file that is not among them is printed without its line.
        colour: use ANSI colours. Whoever calls looks at NO_COLOR and at the terminal.
    """
    pen = _Pen(colour)
    mark = dict(_COLOURS)[finding.severity]
    lines = [_title(finding, pen, mark), *_places(finding, sources, pen, mark)]
    for heading, text in (
        ("path", finding.path),
        ("on stage", finding.effect),
        ("do this", finding.remedy),
        ("more", f"rigbook explain {finding.check}"),
    ):
        if text:
            lines.append(f"  {pen(_STRONG, heading)}{' ' * (11 - len(heading))}{harmless(text)}")
    return "\n".join(lines)


def summary(findings: Iterable[Finding]) -> str:
    """How many there are: `2 errors, 1 warning`; `nothing found` of none."""
    counts = {severity: 0 for severity, _ in _COLOURS}
    for finding in findings:
        counts[finding.severity] += 1
    words = [f"{n} {severity.word}{'' if n == 1 else 's'}" for severity, n in counts.items() if n]
    return ", ".join(words) or "nothing found"


def _title(finding: Finding, pen: _Pen, mark: str) -> str:
    word, message, name = finding.severity.word, harmless(finding.message), f"[{finding.check}]"
    gap = max(WIDTH - cells(f"{word}: {message}{name}"), 2)
    return f"{pen(mark, word)}: {pen(_STRONG, message)}{' ' * gap}{pen(_QUIET, name)}"


def _places(finding: Finding, sources: Sources, pen: _Pen, mark: str) -> Iterator[str]:
    """The primary place first; then the others, those in the same file before those elsewhere, each from the top."""
    file = finding.primary.span.file
    if not file:
        return
    others = sorted(finding.secondary, key=lambda label: (label.span.file != file, label.span))
    labels = [(finding.primary, "^", mark), *((label, "-", _OTHER) for label in others if label.span.file)]
    digits = max(5, *(len(str(label.span.one_based()[2])) for label, _, _ in labels))
    before: Span | None = None
    for label, sign, code in labels:
        span = label.span
        if before is None or span.file != before.file:
            yield f"  {pen(_QUIET, harmless(span.human()))}"
        source = sources.get(span.file)
        if source is not None and span.line < len(source.lines):
            repeated = before if before is not None and before[:2] == span[:2] else None
            yield from _snippet(source, label, sign, digits, pen, code, repeated)
        elif label.text:
            yield f"{' ' * digits} {pen(_QUIET, '|')} {harmless(label.text)}"
        before = span


def _snippet(
    source: Source, label: Label, sign: str, digits: int, pen: _Pen, code: str, repeated: Span | None
) -> Iterator[str]:
    """The line and its mark; a line that has just been shown, cut in the same way, only gets a second mark."""
    line = source.lines[label.span.line]
    text, first, length = _cut(line, label.span)
    bar = pen(_QUIET, "|")
    if repeated is None or _cut(line, repeated)[0] != text:
        yield f"{pen(_QUIET, str(label.span.one_based()[0]).rjust(digits))} {bar} {text}".rstrip()
    mark = f"{sign * max(length, 1)} {harmless(label.text)}".rstrip()
    yield f"{' ' * digits} {bar} {' ' * first}{pen(code, mark)}"


def _cut(line: str, span: Span) -> tuple[str, int, int]:
    """The part of a line around a span, where the span begins in it, and how long it is."""
    end = span.end_column if span.end_line == span.line else len(line.rstrip())
    return clip(line, span.column, max(end, span.column), CUT)
