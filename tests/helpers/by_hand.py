"""Small whole plans and the figures that `build --data` gives for them, for examples that are reckoned by hand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from helpers.check_pages import compile_text
from rigbook.compute.data import data

SPEAKER_IN = (
    "ports: {in: {connector: speaker-4-pole, level: speaker, direction: in}, "
    "link: {connector: speaker-4-pole, level: speaker, direction: out}}"
)
AMP_PORTS = """ports:
      in A-B: {connector: xlr-female, level: line, direction: in}
      out A-B: {connector: speaker-4-pole, level: speaker, direction: out}
      mains: {connector: mains-inlet, level: mains, direction: in}
    modes: {stereo: [in A -> out A, in B -> out B], parallel: [in A -> out A-B], bridged: [in A -> out A]}"""


def compiled_data(text: str, folder: Path) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The document of a plan, and the names of its findings."""
    got = compile_text(text, folder)
    assert got.rig is not None, [f"{f.check}: {f.message}" for f in got.findings]
    return data(got.rig), tuple(f.check for f in got.findings)


def figures(text: str, folder: Path) -> dict[str, Any]:
    """The document of a plan."""
    return compiled_data(text, folder)[0]


def row(rows: list[dict[str, Any]], **wanted: object) -> dict[str, Any]:
    """The one row that has these values."""
    (got,) = [r for r in rows if all(r[k] == v for k, v in wanted.items())]
    return got


def value(figure: dict[str, Any]) -> float:
    """The number of a figure; a missing one says why."""
    assert "value" in figure, figure
    return float(figure["value"])
