"""Places: one function turns them into the numbers people read, and every renderer shows the same ones."""

from __future__ import annotations

import json

from rigbook.findings.finding import Finding, Label, Severity, in_order
from rigbook.findings.place import NOWHERE, Source, Span
from rigbook.findings.to_json import to_json
from rigbook.findings.to_sarif import to_sarif
from rigbook.findings.to_terminal import to_terminal

SPAN = Span("a.yaml", 4, 2, 4, 7)


def test_one_based() -> None:
    assert SPAN.one_based() == (5, 3, 5, 8)
    assert SPAN.human() == "a.yaml:5:3"
    assert SPAN.within(1, 2) == Span("a.yaml", 4, 3, 4, 5)


def test_every_format_shows_the_same_place() -> None:
    finding = Finding("x", Severity.ERROR, "m", Label(SPAN))
    assert "  a.yaml:5:3" in to_terminal(finding, {}).split("\n")
    place = json.loads(to_json([finding]))["findings"][0]["place"]
    assert place == {"file": "a.yaml", "line": 5, "column": 3, "end_line": 5, "end_column": 8}
    where = json.loads(to_sarif([finding]))["runs"][0]["results"][0]["locations"][0]["physicalLocation"]
    assert where["region"] == {"startLine": 5, "startColumn": 3, "endLine": 5, "endColumn": 8}


def test_lines_of_a_source() -> None:
    assert Source("a.yaml", "a\nb\u2028c\x0cd\n").lines == ("a", "b\u2028c\x0cd", "")


def test_order() -> None:
    def at(line: int, severity: Severity = Severity.ERROR, check: str = "x", file: str = "a") -> Finding:
        return Finding(check, severity, "m", Label(Span(file, line, 0, line, 1)))

    nowhere = Finding("x", Severity.NOTE, "m", Label(NOWHERE))
    wanted = [nowhere, at(1), at(2), at(2, Severity.WARNING, "b"), at(2, Severity.WARNING, "c"), at(0, file="b")]
    assert in_order(reversed(wanted)) == wanted
