"""All results as one JSON document: it can be written, and says the same as the figures."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from helpers.check_pages import compile_text
from rigbook.compute.data import data
from rigbook.compute.results import results


def test_the_document_is_json_and_says_what_the_figures_say(tmp_path: Path) -> None:
    rig = compile_text("plan: 1\nbuilds-on: common/hall.yaml\n", tmp_path).rig
    assert rig is not None
    got = json.loads(json.dumps(data(rig), allow_nan=False))
    assert got["format"] == 1
    first = results(rig).amp_channels[0]
    assert got["amplifiers"][0]["volts"]["value"] == pytest.approx(first.volts.value, rel=1e-8)
    assert [b["band"] for b in got["levels"]["areas"][0]["bands"]] == ["A", 63, 125, 250, 500, 1000, 2000, 4000, 8000]
    assert all(f["formula"] for f in _figures(got))


def _figures(node: Any) -> list[dict[str, Any]]:
    if isinstance(node, dict):
        own = [node] if "formula" in node else []
        return own + [f for v in node.values() for f in _figures(v)]
    return [f for v in node for f in _figures(v)] if isinstance(node, list) else []


def test_a_plan_without_anything_to_compute_gives_an_empty_document(tmp_path: Path) -> None:
    rig = compile_text("plan: 1\nshow: Nothing\n", tmp_path).rig
    assert rig is not None
    got = json.loads(json.dumps(data(rig)))
    assert (got["levels"], got["amplifiers"], got["radio"]["channels"]) == ({}, [], [])
