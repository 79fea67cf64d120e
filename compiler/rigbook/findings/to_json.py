"""Findings for other programs, as JSON. The shape is stable: compiler/docs/findings.schema.json describes it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import Span

FORMAT = 1
"""Goes up when a field is taken away or changes its meaning; a new field alone does not change it."""


def to_json(findings: Iterable[Finding]) -> str:
    """One object with all findings, in the order given. Places are 1-based; `end_column` is one behind the last."""
    every = list(findings)
    counts = {f"{s.word}s": sum(f.severity is s for f in every) for s in sorted(Severity, reverse=True)}
    document = {"format": FORMAT, "counts": counts, "findings": [_finding(f) for f in every]}
    return json.dumps(document, ensure_ascii=False, indent=2)


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "severity": finding.severity.word,
        "message": finding.message,
        "place": _place(finding.primary.span),
        "label": finding.primary.text,
        "others": [_other(label) for label in finding.secondary],
        "path": finding.path,
        "effect": finding.effect,
        "remedy": finding.remedy,
        "objects": sorted(finding.objects),
    }


def _other(label: Label) -> dict[str, Any]:
    return {"place": _place(label.span), "label": label.text}


def _place(span: Span) -> dict[str, Any] | None:
    if not span.file:
        return None
    line, column, end_line, end_column = span.one_based()
    return {"file": span.file, "line": line, "column": column, "end_line": end_line, "end_column": end_column}
