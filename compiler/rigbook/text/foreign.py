"""Lines that belong to other tools: the marks of a merge that was left half done, and comments of other languages."""

from __future__ import annotations

import re

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Source, Span
from rigbook.text.phrase import phrase

_OURS, _MIDDLE, _THEIRS = re.compile(r"<{7}( |$)"), re.compile(r"={7}$"), re.compile(r">{7}( |$)")
_BASE = re.compile(r"\|{7}( |$)")
_COMMENT = re.compile(r"//|/\*")
"""At the margin only: further in, the line may belong to a note."""


def without_foreign(source: Source, text: str) -> tuple[str, list[Finding]]:
    """The text without such lines, each finding telling one merge or one comment.

    Of a merge the first side is read on, so that the rest of the file is checked in the same run.
    """
    if "<<<<<<<" not in text and "//" not in text and "/*" not in text:
        return text, []
    lines, findings = text.split("\n"), []
    side, started = "", 0
    for number, line in enumerate(lines):
        if _OURS.match(line):
            side, started = "first", number
            findings.append(_merge(source, number))
        elif side and (_MIDDLE.match(line) or _BASE.match(line)):
            side = "second"
        elif side and _THEIRS.match(line):
            side = ""
        elif side != "second" and not _is_comment(line):
            continue
        elif side != "second":
            findings.append(_comment(source, number, line))
        lines[number] = ""
    if side == "second" and not any(_THEIRS.match(line) for line in text.split("\n")[started:]):
        # the end mark is gone: what stands behind the middle mark is read, as no one knows where it ends
        lines[started + 1 :] = [
            "" if _MIDDLE.match(line) or _BASE.match(line) else line for line in text.split("\n")[started + 1 :]
        ]
    return "\n".join(lines), findings


def _is_comment(line: str) -> bool:
    """True of `// words`."""
    return bool(_COMMENT.match(line))


def _merge(source: Source, number: int) -> Finding:
    message = phrase("a merge of two versions of this file was left half done here")
    fix = phrase("keep one of the two sides, and take out the lines `<<<<<<<`, `=======` and `>>>>>>>`")
    return _at(source, number, message, fix)


def _comment(source: Source, number: int, line: str) -> Finding:
    words = re.sub(r"^(//|/\*)\s*|\s*\*/\s*$", "", line)
    mark = line.strip()[:2]
    return _at(
        source,
        number,
        phrase("`%(mark)s` begins no comment in a plan", mark=mark),
        phrase("write `# %(words)s`", words=words[:60]),
    )


def _at(source: Source, number: int, message: str, fix: str) -> Finding:
    line = source.lines[number]
    start = len(line) - len(line.lstrip())
    label = Label(Span(source.file, number, start, number, len(line.rstrip())))
    return Finding("yaml-syntax", Severity.ERROR, message, label, remedy=fix)
