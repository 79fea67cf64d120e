"""Findings for code hosts and editors: SARIF 2.1.0 (OASIS Standard, 2020), the part of it that we have facts for."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any
from urllib.parse import quote

from rigbook import __version__
from rigbook.findings.finding import Finding, Label
from rigbook.findings.place import Span

VERSION = "2.1.0"
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def to_sarif(findings: Iterable[Finding], titles: Mapping[str, str] = MappingProxyType({})) -> str:
    """One run with all findings, in the order given.

    Args:
        findings: what to write.
        titles: one sentence for each check, by name, where there is one.
    """
    every = list(findings)
    names = sorted({f.check for f in every})
    rules = [_rule(name, titles.get(name, "")) for name in names]
    run = {
        "tool": {"driver": {"name": "rigbook", "version": __version__, "rules": rules}},
        "columnKind": "unicodeCodePoints",
        "results": [_result(f, names.index(f.check)) for f in every],
    }
    return json.dumps({"$schema": SCHEMA, "version": VERSION, "runs": [run]}, ensure_ascii=False, indent=2)


def _rule(name: str, title: str) -> dict[str, Any]:
    rule: dict[str, Any] = {"id": name, "help": {"text": f"rigbook explain {name}"}}
    if title:
        rule["shortDescription"] = {"text": title}
    return rule


def _result(finding: Finding, rule: int) -> dict[str, Any]:
    """SARIF has one text for a result, so the fact, its path, its effect and its remedy become one."""
    parts = (
        finding.message,
        finding.path,
        f"on stage: {finding.effect}" if finding.effect else "",
        f"do this: {finding.remedy}" if finding.remedy else "",
    )
    result: dict[str, Any] = {
        "ruleId": finding.check,
        "ruleIndex": rule,
        "level": finding.severity.word,
        "message": {"text": "\n".join(filter(None, parts))},
    }
    if finding.primary.span.file:
        result["locations"] = [_location(finding.primary)]
    others = [label for label in finding.secondary if label.span.file]
    if others:
        result["relatedLocations"] = [{"id": i, **_location(label)} for i, label in enumerate(others, 1)]
    return result


def _location(label: Label) -> dict[str, Any]:
    place = {"artifactLocation": _artifact(label.span), "region": _region(label.span)}
    out: dict[str, Any] = {"physicalLocation": place}
    if label.text:
        out["message"] = {"text": label.text}
    return out


def _artifact(span: Span) -> dict[str, str]:
    """Files of the repository are relative to its root; the shipped library (`gear:…`) is an address of its own."""
    if span.file.startswith("gear:"):
        return {"uri": quote(span.file, safe="/:")}
    return {"uri": quote(span.file), "uriBaseId": "%SRCROOT%"}


def _region(span: Span) -> dict[str, int]:
    line, column, end_line, end_column = span.one_based()
    return {"startLine": line, "startColumn": column, "endLine": end_line, "endColumn": end_column}
