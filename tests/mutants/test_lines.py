"""A line of wiring that was never written, whatever run or chain it names, is one fault and at most one finding."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from rigbook.pipeline import compile_plan

SHOWS = Path(__file__).parents[2] / "shows"
PLANS = ("chapel/lessons-and-songs.yaml", "festival/meadow.yaml", "festival/orchard.yaml")
ITEM = re.compile(r"\s+- \S+.* -> ")
RUN = re.compile(r"(\d-\d|[A-Z]-[A-Z]\b|->.*->)")
"""More than one cable on a line; single ones are removed by the mutants."""


def _without(text: str) -> Iterator[tuple[str, str]]:
    """Each line of more than one cable, and the plan without it; a kind of cable without lines goes too."""
    lines = text.splitlines(keepends=True)
    for i, line in enumerate(lines):
        if ITEM.match(line) and RUN.search(line):
            alone = not ITEM.match(lines[i - 1]) and not ITEM.match(lines[i + 1])
            yield line.strip(), "".join(lines[: i - alone] + lines[i + 1 :])


@pytest.mark.parametrize("plan", PLANS)
def test_a_line_that_is_not_there_is_one_finding(plan: str, tmp_path: Path, subtests: pytest.Subtests) -> None:
    root = tmp_path / "shows"
    shutil.copytree(SHOWS, root)
    cases = list(_without((root / plan).read_text("utf-8")))
    assert len(cases) > 3
    for line, text in cases:
        with subtests.test(line):
            (root / plan).write_text(text, "utf-8")
            found = compile_plan(root / plan, root).findings
            # an output to a broadcast crew that is not cabled on is no fault of the plan
            assert len(found) == (0 if "broadcast" in line else 1), [f.message for f in found]
