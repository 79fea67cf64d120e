"""Faults that a person makes, written beside each other as what stood in the plan and what was typed.

A file is about one show. Below a heading stand, for one fault:

    @ FILE            the file of the next lines, where it is not the show's own
    - TEXT            what stands there, once in the file
    + TEXT            what was typed; `\\n` is a new line
    = CHECK: WORDS    the check that finds it, and words of what it says to do; `nothing` where nobody can know
    * TEXT => TEXT    the remedy carried out, where it is not the text that it says to write, in the place it shows
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

from rigbook.findings.finding import Finding

WRITE = re.compile(r"write `([^`]+)`(?: for `([^`]+)`)?|move `[^`]+` to ([\d.]+ MHz)")


@dataclass
class Fault:
    """One fault, with what must be found and what puts it right."""

    title: str
    edits: list[tuple[str, str, str]] = field(default_factory=list)
    """File, what stands there, what was typed."""
    check: str = ""
    words: str = ""
    cure: list[tuple[str, str, str]] = field(default_factory=list)
    """File, text of the broken plan, what the remedy puts there."""


def faults(page: Path, show: str) -> list[Fault]:
    """The faults of a page, in order."""
    out: list[Fault] = []
    file, before = show, ""
    for line in page.read_text("utf-8").splitlines():
        mark, text = line[:2], line[2:].replace("\\n", "\n")
        if line.startswith("## "):
            out.append(Fault(line[3:]))
            file = show
        elif mark == "@ ":
            file = text
        elif mark == "- ":
            before = text
        elif mark == "+ ":
            out[-1].edits.append((file, before, text))
        elif mark == "= ":
            out[-1].check, _, out[-1].words = text.partition(": ")
        elif mark == "* ":
            old, _, new = text.partition(" => ")
            out[-1].cure.append((file, old, new))
    return out


def changed(texts: dict[str, str], edits: list[tuple[str, str, str]]) -> dict[str, str]:
    """The files with each text replaced where it stands, all at once. AssertionError where it does not stand once."""
    out = dict(texts)
    for number, (file, old, _) in enumerate(edits):
        assert out[file].count(old) == 1, f"{out[file].count(old)} times in {file}: {old!r}"
        out[file] = out[file].replace(old, f"\0{number}\0")
    for number, (file, _, new) in enumerate(edits):
        out[file] = out[file].replace(f"\0{number}\0", new)
    return out


def obeyed(texts: dict[str, str], finding: Finding) -> dict[str, str]:
    """The files after what a finding says to write is written in the place that it shows."""
    said, span = WRITE.search(str(finding.remedy)), finding.primary.span
    assert said is not None, f"nothing to write in: {finding.remedy}"
    if said[2]:
        assert texts[span.file].count(said[2]) == 1, f"not once there: {said[2]}"
        return {**texts, span.file: texts[span.file].replace(said[2], said[1])}
    text = said[1] or said[3]
    lines = texts[span.file].split("\n")
    line = lines[span.line]
    assert span.line == span.end_line
    # `delay: 22 ms` is written for the value and its key
    key = re.match(r"[a-z-]+: ", text)
    start = span.column - len(key[0]) if key and line[: span.column].endswith(key[0]) else span.column
    lines[span.line] = line[:start] + text + line[span.end_column :]
    return {**texts, span.file: "\n".join(lines)}
