"""Findings as SARIF 2.1.0, held against the schema that is published with the standard.

`sarif-2.1.0.schema.json` beside this file is the schema of the OASIS Standard "Static Analysis Results Interchange
Format (SARIF) Version 2.1.0", revision rtm.5, unchanged, taken from a package under the MIT licence
(`sarif-2.1.0.schema.LICENCE`).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given

from helpers.any_findings import FINDING, FINDINGS
from rigbook import __version__
from rigbook.findings.finding import Finding, Label, Severity
from rigbook.findings.place import NOWHERE, Span
from rigbook.findings.to_sarif import to_sarif

SCHEMA = json.loads((Path(__file__).parent / "sarif-2.1.0.schema.json").read_text("utf-8"))
jsonschema = pytest.importorskip("jsonschema")
VALIDATOR = jsonschema.Draft4Validator(SCHEMA)


def test_the_whole_document() -> None:
    document = json.loads(to_sarif([FINDING], {"unfed-output": "A socket without a bus."}))
    assert document["version"] == "2.1.0"
    (run,) = document["runs"]
    assert run["columnKind"] == "unicodeCodePoints"
    assert run["tool"]["driver"] == {
        "name": "rigbook",
        "version": __version__,
        "rules": [
            {
                "id": "unfed-output",
                "help": {"text": "rigbook explain unfed-output"},
                "shortDescription": {"text": "A socket without a bus."},
            }
        ],
    }
    assert run["results"] == [
        {
            "ruleId": "unfed-output",
            "ruleIndex": 0,
            "level": "error",
            "message": {
                "text": "no bus feeds `box/out 5`\nmix-2 -> box/out 5\non stage: the wedge stays silent\n"
                "do this: patch the cable"
            },
            "locations": [
                {
                    "physicalLocation": {
                        "artifactLocation": {"uri": "a.yaml", "uriBaseId": "%SRCROOT%"},
                        "region": {"startLine": 41, "startColumn": 7, "endLine": 41, "endColumn": 16},
                    },
                    "message": {"text": "this cable carries nothing"},
                }
            ],
            "relatedLocations": [
                {
                    "id": 1,
                    "physicalLocation": {
                        "artifactLocation": {"uri": "b.yaml", "uriBaseId": "%SRCROOT%"},
                        "region": {"startLine": 22, "startColumn": 10, "endLine": 22, "endColumn": 19},
                    },
                    "message": {"text": "another"},
                }
            ],
        }
    ]


@given(FINDINGS)
def test_any_findings_fit_the_schema(findings: list[Finding]) -> None:
    VALIDATOR.validate(json.loads(to_sarif(findings)))


def test_rules_are_listed_once_and_pointed_at() -> None:
    findings = [Finding(name, Severity.NOTE, "m", Label(NOWHERE)) for name in ("b", "a", "b")]
    (run,) = json.loads(to_sarif(findings))["runs"]
    assert [r["id"] for r in run["tool"]["driver"]["rules"]] == ["a", "b"]
    assert [r["ruleIndex"] for r in run["results"]] == [1, 0, 1]
    assert "locations" not in run["results"][0]


@pytest.mark.parametrize(
    ("file", "location"),
    [
        ("shows/two words é.yaml", {"uri": "shows/two%20words%20%C3%A9.yaml", "uriBaseId": "%SRCROOT%"}),
        ("gear:amps.yaml", {"uri": "gear:amps.yaml"}),
    ],
)
def test_files_as_addresses(file: str, location: dict[str, str]) -> None:
    """Source: SARIF 2.1.0, 3.4.3: a `uri` is an RFC 3986 reference, with letters beyond ASCII in percent signs."""
    document = json.loads(to_sarif([Finding("x", Severity.ERROR, "m", Label(Span(file, 0, 0, 0, 1)))]))
    place = document["runs"][0]["results"][0]["locations"][0]["physicalLocation"]
    assert place["artifactLocation"] == location
