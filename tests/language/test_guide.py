"""The guide says what is so: every example in `language.md` is read without a finding, every kind in it exists."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from rigbook.findings.place import Source
from rigbook.language.read import read_plan
from rigbook.language.record import Record
from rigbook.plan.gear import Gear
from rigbook.text.yaml_reader import read

GUIDE = (Path(__file__).parents[2] / "compiler/docs/language.md").read_text("utf-8")
BLOCKS = re.findall(r"```yaml\n(.*?)```", GUIDE, re.DOTALL)


@pytest.mark.parametrize("block", BLOCKS, ids=lambda b: b.split(":")[0])
def test_example(block: str) -> None:
    text = block if block.startswith("plan:") else f"plan: 1\n{block}"
    node, wrong = read(Source("guide.yaml", text))
    record, more = read_plan(node)
    assert [f.message for f in (*wrong, *more)] == []
    kinds = [e.name for e in record.get("wiring", ())]
    kinds += [e.value.get("kind") for e in record.get("units", ()) if isinstance(e.value, Record)]
    kinds += [e.value.get("mic") for e in record.get("inputs", ()) if isinstance(e.value, Record)]
    assert [k for k in kinds if k and k not in Gear({}).shipped] == []


def test_there_are_examples() -> None:
    assert len(BLOCKS) >= 6
