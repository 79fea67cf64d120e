"""Findings as JSON: the published schema holds, and the shape does not change unnoticed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given

from helpers.any_findings import FINDING, FINDINGS
from rigbook.findings.finding import Finding
from rigbook.findings.to_json import to_json

SCHEMA = json.loads((Path(__file__).parents[2] / "compiler/docs/findings.schema.json").read_text("utf-8"))
jsonschema = pytest.importorskip("jsonschema")


def test_the_whole_document() -> None:
    assert json.loads(to_json([FINDING])) == {
        "format": 1,
        "counts": {"errors": 1, "warnings": 0, "notes": 0},
        "findings": [
            {
                "check": "unfed-output",
                "severity": "error",
                "message": "no bus feeds `box/out 5`",
                "place": {"file": "a.yaml", "line": 41, "column": 7, "end_line": 41, "end_column": 16},
                "label": "this cable carries nothing",
                "others": [
                    {
                        "place": {"file": "b.yaml", "line": 22, "column": 10, "end_line": 22, "end_column": 19},
                        "label": "another",
                    },
                    {"place": None, "label": "nowhere"},
                ],
                "path": "mix-2 -> box/out 5",
                "effect": "the wedge stays silent",
                "remedy": "patch the cable",
                "objects": ["amp", "box/out 5"],
            }
        ],
    }


def test_same_findings_same_bytes() -> None:
    assert to_json([FINDING, FINDING]) == to_json([FINDING, FINDING])
    assert to_json([]).startswith('{\n  "format": 1,\n  "counts": {')


def test_the_schema_is_one() -> None:
    """Source: JSON Schema 2020-12, its meta-schema as the jsonschema package ships it."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@given(FINDINGS)
def test_any_findings_fit_the_schema(findings: list[Finding]) -> None:
    document = json.loads(to_json(findings))
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    assert sum(document["counts"].values()) == len(document["findings"]) == len(findings)


@pytest.mark.parametrize("change", [{"severity": "fatal"}, {"check": "Not A Slug"}, {"extra": 1}, {"message": ""}])
def test_the_schema_refuses_other_shapes(change: dict[str, object]) -> None:
    document = json.loads(to_json([FINDING]))
    document["findings"][0].update(change)
    assert not jsonschema.Draft202012Validator(SCHEMA).is_valid(document)
